"""What changes at the border, on cases taken by hand from notes of the published rules."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pdfplumber
import pytest
import yaml

from chockbook.catalogue import Catalogue
from chockbook.printing import render_comparison
from chockbook.views.border_news import news_of
from chockbook.views.comparison import view_crossing
from chockbook.views.sides import DefectAcross, compare_all

CASES: list[dict[str, Any]] = yaml.safe_load((Path(__file__).parent / "crossings.yaml").read_text("utf-8"))[
    "cases"
]
PAIRS = [
    (a, b) for a in ("on-s1", "us-fmcsr", "qc-list-1") for b in ("on-s1", "us-fmcsr", "qc-list-1") if a != b
]

WORST_FIRST = ["forbidden-there", "stricter-there", "only-there", "other-figure", "other-deadline", "milder-there",
               "only-here"]  # fmt: skip
"""What a driver who crosses needs first: what now stops the vehicle, then what costs more, then what costs less."""
MILDEST_FIRST = ["yes", "once-reported", "if-safe", "no"]
"""What a severity lets a driver do, as DEVELOPERS.md lists it."""


def test_there_are_ten_cases() -> None:
    assert len(CASES) >= 10


@pytest.mark.parametrize("case", CASES, ids=[case["name"] for case in CASES])
def test_a_worked_crossing(case: dict[str, Any], shipped: Catalogue) -> None:
    entry = shipped.entry[case["defect"]]
    assert list(news_of(entry, case["from"], case["into"])) == case["news"]
    assert list(news_of(entry, case["into"], case["from"])) == case["back"]
    view = view_crossing(shipped, case["from"], case["into"], "en")
    rows = [row for system in view.systems for row in system.rows if row.entry_id == case["defect"]]
    if case["news"] == ["same"]:
        assert rows == []
        return
    assert [list(row.news) for row in rows] == [case["news"]]
    if "there_applies" in case:
        assert case["there_applies"] in (rows[0].there.rulings[0].applies_when or "")


@pytest.mark.parametrize(("here", "there"), PAIRS)
def test_every_defect_that_either_speaks_of_is_counted_once(
    here: str, there: str, shipped: Catalogue
) -> None:
    view = view_crossing(shipped, here, there, "en")
    spoken = [e for e in shipped.entries if e.rulings_under(here) or e.rulings_under(there)]
    rows = [row for system in view.systems for row in system.rows]
    assert len(rows) + view.n_same == len(spoken)
    assert len({row.entry_id for row in rows}) == len(rows)
    for system in view.systems:
        order = [WORST_FIRST.index(row.news[0]) for row in system.rows]
        assert order == sorted(order), system.id
    assert any(len({row.news[0] for row in system.rows}) > 1 for system in view.systems), "no order was looked at"


@pytest.mark.parametrize(("here", "there"), PAIRS)
def test_forbidden_there_means_no_driving_there_and_driving_here(
    here: str, there: str, shipped: Catalogue
) -> None:
    compared = 0
    for system in view_crossing(shipped, here, there, "en").systems:
        for row in system.rows:
            if row.here.rulings and row.there.rulings:
                ours, theirs = row.here.rulings[0].may_drive, row.there.rulings[0].may_drive
                assert ("forbidden-there" in row.news) == (theirs == "no" and ours != "no"), row.entry_id
                assert ("milder-there" in row.news) == (MILDEST_FIRST.index(theirs) < MILDEST_FIRST.index(ours)), (
                    row.entry_id
                )
                compared += 1
    assert compared > 20


def test_an_absent_ruling_is_never_shown_as_fine(shipped: Catalogue) -> None:
    absent = 0
    for defect in every_defect(shipped):
        for side in defect.sides:
            assert (side.absent is None) == bool(side.rulings), (defect.entry_id, side.rulebook_id)
            if not side.rulings:
                assert side.absent == "This rulebook, as far as it was read, does not speak of it."
                assert side.deadline is None
                absent += 1
    assert absent > 100


def test_no_severity_is_made_up(shipped: Catalogue) -> None:
    own = {r.id: {s.name["en"] for s in r.severities} for r in shipped.rulebooks}
    named = 0
    for defect in every_defect(shipped):
        for side in defect.sides:
            named += len(side.rulings)
            assert {ruling.severity_name for ruling in side.rulings} <= own[side.rulebook_id]
    assert named > 300


@pytest.mark.parametrize(("here", "there"), PAIRS)
def test_the_border_sheet_is_two_sheets_and_begins_with_the_worst_news(
    here: str, there: str, shipped: Catalogue, tmp_path: Path
) -> None:
    made = render_comparison(shipped, here, there, "en", tmp_path / "sheet.pdf")
    assert 1 <= made.pages <= 4
    with pdfplumber.open(made.path) as pdf:
        # In the order in which they were set: column after column.
        text = squashed("".join(char["text"] for page in pdf.pages for char in page.chars))
    view = view_crossing(shipped, here, there, "en")
    counts = {key: (name, number) for key, name, number in view.counts}
    name, number = counts["forbidden-there"]
    if number:
        assert squashed(f"{name}: {number}") in text
        listed = [row for system in view.systems for row in system.rows if "forbidden-there" in row.news]
        assert len(listed) == number
        for row in listed:
            assert squashed(row.name) in text, row.name
    else:
        assert squashed("Nothing was found that is forbidden there in every case and not here.") in text
    assert squashed("Chock and secure.") in text


def every_defect(catalogue: Catalogue) -> list[DefectAcross]:
    """All defects of the catalogue, each once, with their sides."""
    found = [defect for _, _, defects in compare_all(catalogue, "en") for defect in defects]
    assert [defect.entry_id for defect in found] == [entry.id for entry in catalogue.entries]
    return found


def squashed(text: str) -> str:
    return "".join(text.split())
