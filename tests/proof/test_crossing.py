"""The proof of border sheets: a sheet that agrees is proved; one that differs in a fact is objected to."""

from __future__ import annotations

import copy
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from chockbook.catalogue import Catalogue
from chockbook.printing import render_comparison
from chockbook.proof.crossing import prove_crossing
from chockbook.proof.read_pdf import read_pdf

WAYS = [
    ("qc-list-1", "on-s1", "en"),
    ("us-fmcsr", "on-s1", "fr"),
    ("on-s1", "qc-list-1", "fr"),
    ("qc-list-1", "us-fmcsr", "en"),
]
"""Between them: full lists, the short list with stars, lists left out, and sheets in both languages."""


def objections(catalogue: Catalogue, path: Path, here: str, there: str, language: str) -> list[str]:
    return [str(one) for one in prove_crossing(catalogue, read_pdf(path), "border.pdf", here, there, language)]


@pytest.fixture(scope="module")
def sheet(shipped: Catalogue, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """From Quebec into Ontario, in French: the worst list stands on it in full."""
    return render_comparison(shipped, "qc-list-1", "on-s1", "fr", tmp_path_factory.mktemp("x") / "sheet.pdf").path


@pytest.mark.parametrize(("here", "there", "language"), WAYS)
def test_an_untouched_sheet_is_proved(here: str, there: str, language: str, shipped: Catalogue, tmp_path: Path) -> None:
    made = render_comparison(shipped, here, there, language, tmp_path / "sheet.pdf")
    assert objections(shipped, made.path, here, there, language) == []


def without(catalogue: Catalogue, entry_id: str) -> Catalogue:
    return replace(catalogue, entries=tuple(entry for entry in catalogue.entries if entry.id != entry_id))


def with_entry(catalogue: Catalogue, entry_id: str, change: Callable) -> Catalogue:
    entries = tuple(change(entry) if entry.id == entry_id else entry for entry in catalogue.entries)
    return replace(catalogue, entries=entries)


def ruling_changed(catalogue: Catalogue, entry_id: str, rulebook_id: str, **item: object) -> Catalogue:
    """One ruling points to an item with something changed."""

    def change(entry):
        rulings = tuple(
            replace(r, item=r.item.model_copy(update=item)) if r.rulebook.id == rulebook_id else r for r in entry.rulings
        )
        return replace(entry, rulings=rulings)

    return with_entry(catalogue, entry_id, change)


def milder(catalogue: Catalogue, entry_id: str) -> Catalogue:
    """Ontario lets go on with the defect once it is reported, so that it is forbidden in neither."""

    def change(entry):
        minor = entry.rulings_under("on-s1")[0].rulebook.severities[0]
        return replace(entry, rulings=tuple(replace(r, severity=minor) if r.rulebook.id == "on-s1" else r for r in entry.rulings))

    return with_entry(catalogue, entry_id, change)


def severity_changed(catalogue: Catalogue, rulebook_id: str, **fields: object) -> Catalogue:
    data = copy.deepcopy(catalogue)
    data.rulebook[rulebook_id].severities[0].__dict__.update(fields)
    return data


def figure_changed(catalogue: Catalogue) -> Catalogue:
    data = copy.deepcopy(catalogue)
    row = next(row for row in data.limit["tread-depth"].rows if row.rulebook == "on-s1")
    row.__dict__["printed"] = {"fr": "9 mm"}
    return data


TAMPERED = {
    "a defect that the catalogue does not have": (lambda c: without(c, "washer.no-spray"), "says what the tables do not: Lave-glace"),
    "a defect that is forbidden in neither": (lambda c: milder(c, "washer.no-spray"), "washer.no-spray: does not belong"),
    "another standing": (
        lambda c: ruling_changed(c, "safety-chains.missing", "on-s1", basis="from-memory"), "safety-chains.missing: does not say whether"),
    "another deadline": (lambda c: severity_changed(c, "qc-list-1", deadline={"fr": "Dans les 5 heures"}), "does not say: Québec"),
    "another answer": (lambda c: severity_changed(c, "on-s1", outcome={"fr": "Continuer"}), "does not say: Ontario"),
    "another figure": (figure_changed, "tread-depth: does not say"),
}  # fmt: skip


@pytest.mark.parametrize("case", list(TAMPERED))
def test_a_sheet_that_differs_from_the_tables_is_objected_to(case: str, sheet: Path, shipped: Catalogue) -> None:
    change, expected = TAMPERED[case]
    found = objections(change(shipped), sheet, "qc-list-1", "on-s1", "fr")
    assert any(expected in line for line in found), found


def test_another_place_in_the_law_is_objected_to(shipped: Catalogue, tmp_path: Path) -> None:
    """On a sheet whose lines have room for more than the defect and its mark."""
    made = render_comparison(shipped, "on-s1", "qc-list-1", "en", tmp_path / "sheet.pdf")
    moved = ruling_changed(shipped, "fifth-wheel.fastener-loose", "qc-list-1", locator="Schedule 1, Part 99")
    found = objections(moved, made.path, "on-s1", "qc-list-1", "en")
    assert any("fifth-wheel.fastener-loose: says" in line for line in found), found


def test_a_sheet_that_lost_a_defect_is_objected_to(shipped: Catalogue, tmp_path: Path) -> None:
    made = render_comparison(without(shipped, "heater-fan.dead"), "qc-list-1", "on-s1", "en", tmp_path / "sheet.pdf")
    found = objections(shipped, made.path, "qc-list-1", "on-s1", "en")
    assert "border.pdf: heater-fan.dead: is missing from the list 'Forbidden there, here not in every case'" in found
    assert "border.pdf: forbidden-there: does not say that the list holds 7" in found


def test_a_list_that_is_left_out_says_how_much_it_holds(shipped: Catalogue, tmp_path: Path) -> None:
    made = render_comparison(without(shipped, "saddle-mount.cracked"), "on-s1", "us-fmcsr", "fr", tmp_path / "sheet.pdf")
    found = objections(shipped, made.path, "on-s1", "us-fmcsr", "fr")
    assert found == ["border.pdf: only-there: does not say that the list holds 127"]


def test_a_sheet_of_another_way_is_objected_to(sheet: Path, shipped: Catalogue) -> None:
    assert objections(shipped, sheet, "on-s1", "qc-list-1", "fr")
