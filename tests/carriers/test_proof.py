"""The proof of what was printed for carriers objects to what does not belong, and to nothing else."""

from __future__ import annotations

import csv
import hashlib
import shutil
from pathlib import Path

import pikepdf
import pytest
from demo_carriers import carrier

from chockbook.catalogue import Catalogue
from chockbook.catalogue.carrier import CarrierRecord
from chockbook.printing import cards_for_carriers
from chockbook.proof import prove_carriers

DECK, CHECKLIST, REPORT = "deck-visor-letter-long-edge", "checklist-normal", "report"
DOCUMENTS = [{"what": "deck", "format": "visor"}, {"what": "deck", "format": "id1"}, {"what": "checklist"}, {"what": "report"}]
LONG = {"id": "long", "name": "L-1", "vehicles": ["tractor", "trailer"],
        "equipment": ["air-brakes", "fifth-wheel", "reefer", "air-suspension"]}  # fmt: skip
SHORT = {"id": "short", "name": "S-2", "vehicles": ["truck"], "equipment": ["hydraulic-brakes"]}


def alder(**changes: object) -> CarrierRecord:
    plain = {"id": "alder-freight", "name": "Alder Freight", "units": [LONG, SHORT], "documents": DOCUMENTS,
             "contacts": [{"role": "dispatch", "name": "Wim Okoro", "phone": "555-0151", "hours": "day and night"},
                          {"role": "safety", "name": "Lena Fjord", "phone": "555-0152", "hours": "08:00-16:00"}]}  # fmt: skip
    return carrier(**{**plain, **changes})


BIRCH = carrier(id="birch-cartage", name="Birch Cartage", base_address="https://birch.example/", units=[LONG],
                contacts=[{"role": "maintenance", "phone": "555-0161", "hours": "06:00-22:00"}],
                documents=[{"what": "deck", "format": "visor"}, {"what": "report"}])  # fmt: skip
ALL = (alder(), BIRCH)


@pytest.fixture(scope="module")
def printed(shipped: Catalogue, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("proved")
    assert cards_for_carriers(shipped, ALL, folder, workers=1).failed == []
    return folder


@pytest.fixture
def prints(printed: Path, tmp_path: Path) -> Path:
    """A copy of the prints that a test may spoil."""
    return Path(shutil.copytree(printed, tmp_path / "prints"))


def objections(catalogue: Catalogue, folder: Path, site: Path | None = None) -> list[str]:
    proof = prove_carriers(catalogue, ALL, folder, site, only=["alder-freight"], processes=1)
    return [str(one) for one in proof.objections]


def rows(folder: Path) -> list[dict[str, str]]:
    with (folder / "register.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def list_again(folder: Path, listed: list[dict[str, str]]) -> None:
    """Write the register with the hashes that the files have now: what is wrong then has to be seen in the text."""
    for row in listed:
        row["sha256"] = hashlib.sha256((folder / row["path"]).read_bytes()).hexdigest()
    write(folder, listed)


def write(folder: Path, listed: list[dict[str, str]]) -> None:
    with (folder / "register.csv").open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, list(listed[0]), lineterminator="\n")
        writer.writeheader()
        writer.writerows(listed)


def put(catalogue: Catalogue, other: CarrierRecord, folder: Path, unit: str, kind: str, into: str = "long") -> None:
    """Put a document of another carrier, or of a changed one, where one of alder's stands."""
    aside = folder.parent / "aside"
    assert cards_for_carriers(catalogue, [other], aside, workers=1).failed == []
    here = f"{kind}.on-s1.en.pdf"
    at = f"alder-freight/{into}/{here}" if kind != REPORT else f"alder-freight/{here}"
    shutil.copyfile(aside / other.id / (unit if kind != REPORT else "") / here, folder / at)
    made = next(row for row in rows(aside) if row["path"].endswith(here) and row["unit"] in (unit, ""))
    listed = rows(folder)
    for row in listed:
        if row["path"] == at:
            row |= {"pages": made["pages"], "cards": made["cards"]}
    list_again(folder, listed)


def test_what_was_printed_is_proved(printed: Path, shipped: Catalogue) -> None:
    proof = prove_carriers(shipped, ALL, printed, processes=1)
    assert proof.objections == ()
    assert (proof.carriers, proof.documents) == (2, 9)


@pytest.mark.parametrize("name", ["0 Haulage", "222 Freight", "7"])
def test_a_name_that_begins_with_a_figure_is_no_part_of_the_number_of_cards(name: str, shipped: Catalogue, tmp_path: Path) -> None:
    unit = {"id": "0", "name": "0", "vehicles": ["converter-dolly"], "equipment": ["air-brakes"]}
    one = carrier(id="figures", name=name, units=[unit], documents=[{"what": "deck", "format": "a6"}])
    assert cards_for_carriers(shipped, [one], tmp_path, workers=1).failed == []
    assert prove_carriers(shipped, [one], tmp_path, processes=1).objections == ()


def test_several_processes_object_to_the_same(prints: Path, shipped: Catalogue) -> None:
    (prints / rows(prints)[0]["path"]).write_bytes(b"not a PDF")
    alone = prove_carriers(shipped, ALL, prints, processes=1).objections
    assert prove_carriers(shipped, ALL, prints, processes=2).objections == alone
    assert len(alone) >= 1


def test_a_changed_number_is_seen(prints: Path, shipped: Catalogue) -> None:
    people = [one.model_dump() for one in alder().contacts]
    people[0]["phone"] = "555-0999"
    put(shipped, alder(contacts=people), prints, "long", DECK)
    found = objections(shipped, prints)
    assert any("is neither a card's nor one of the carrier's" in one and "0999" in one for one in found), found
    assert any("contacts: says 555-0151 on 0 of" in one for one in found), found


def test_another_carriers_number_beside_the_own_ones_is_seen(prints: Path, shipped: Catalogue) -> None:
    people = [*(one.model_dump() for one in alder().contacts), BIRCH.contacts[0].model_dump()]
    for kind, expected in ((DECK, "nor one of the carrier's: :555-0161"),
                           (REPORT, "says 555-0161, which is another carrier's: birch")):  # fmt: skip
        put(shipped, alder(contacts=people), prints, "long", kind)
        found = objections(shipped, prints)
        assert any(expected in one for one in found), found


def test_another_carriers_deck_is_seen(prints: Path, shipped: Catalogue) -> None:
    put(shipped, BIRCH, prints, "long", DECK)
    found = objections(shipped, prints)
    assert any("BirchCartage" in one and "neither the tables nor the carrier's file" in one for one in found), found
    assert any("every card: does not say: Alder Freight, Unit L-1" in one for one in found), found
    assert any("code: does not lead to https://plain.example/" in one for one in found), found


def test_a_deck_of_another_unit_is_seen_both_ways(prints: Path, shipped: Catalogue) -> None:
    put(shipped, alder(), prints, "short", DECK)
    found = objections(shipped, prints)
    assert any("is missing from the lane" in one and "air-" in one for one in found), found
    assert any("as the unit lacks it" in one and "hydraulic" in one for one in found), found


@pytest.mark.parametrize("changed, expected", [
    ([*LONG["equipment"], "sleeper"], "as the unit lacks it"),
    ([one for one in LONG["equipment"] if one != "reefer"], "is missing from the lane"),
])  # fmt: skip
def test_one_piece_of_equipment_more_or_less_is_seen(
    changed: list[str], expected: str, prints: Path, shipped: Catalogue
) -> None:
    put(shipped, alder(units=[{**LONG, "equipment": changed}, SHORT]), prints, "long", DECK)
    assert any(expected in one for one in objections(shipped, prints))


def test_a_card_swapped_with_another_units_is_seen(prints: Path, shipped: Catalogue) -> None:
    """Two sheets change places between two decks of the same carrier; each deck has as many sheets as before."""
    ways = [prints / f"alder-freight/{unit}/{DECK}.on-s1.en.pdf" for unit in ("long", "short")]
    with pikepdf.open(ways[0], allow_overwriting_input=True) as one, pikepdf.open(ways[1]) as two:
        one.pages[3] = two.pages[3]
        one.save(ways[0])
    list_again(prints, rows(prints))
    found = objections(shipped, prints)
    assert any("page 4: every card: does not say: Alder Freight, Unit L-1" in one for one in found), found


def test_a_checklist_of_another_unit_is_seen(prints: Path, shipped: Catalogue) -> None:
    put(shipped, alder(), prints, "short", CHECKLIST)
    found = objections(shipped, prints)
    assert any("step: does not say, in its place" in one for one in found), found
    assert any("stands on the checklist of a unit that lacks it" in one for one in found), found


def test_an_index_of_another_unit_is_seen(prints: Path, shipped: Catalogue) -> None:
    put(shipped, alder(), prints, "short", "deck-id1-letter-long-edge")
    found = objections(shipped, prints)
    assert any("does not name" in one for one in found), found
    assert any("which stops nothing on this unit" in one for one in found), found


def test_a_code_that_leads_elsewhere_is_seen(prints: Path, shipped: Catalogue) -> None:
    put(shipped, alder(base_address="https://plaim.example/"), prints, "long", DECK)
    assert any("code: does not lead to https://plain.example/" in one for one in objections(shipped, prints))


def test_a_code_that_leads_to_no_page_is_seen(printed: Path, shipped: Catalogue, tmp_path: Path) -> None:
    found = objections(shipped, printed, tmp_path)
    assert any("leads to card.html, which the site does not have" in one for one in found), found
    (tmp_path / "card.html").touch()
    assert objections(shipped, printed, tmp_path) == []


@pytest.mark.parametrize("column, value, expected", [
    ("pages", "99", "and 99 in the register"),
    ("cards", "99", "the register says 99"),
    ("edition", "00000000", "is 00000000 in the register"),
    ("sha256", "0" * 64, "is not the file that the register lists"),
    ("unit", "short", "lacks deck-visor-letter-long-edge long on-s1 en"),
    ("language", "fr", "which nobody asked for"),
    ("print_code", "000000", "print_code: is '000000' in the register"),
    ("own_file", "{}", "equipment: is other in the carrier's file than in the register"),
    ("own_file", "{", "own_file: is nothing that can be read in the register"),
])  # fmt: skip
def test_a_row_that_does_not_agree_with_its_file_is_seen(
    column: str, value: str, expected: str, prints: Path, shipped: Catalogue
) -> None:
    listed = rows(prints)
    next(row for row in listed if row["document"] == DECK and row["unit"] == "long")[column] = value
    write(prints, listed)
    found = objections(shipped, prints)
    assert any(expected in one for one in found), found


def test_a_missing_row_and_a_missing_file_are_seen(prints: Path, shipped: Catalogue) -> None:
    listed = rows(prints)
    gone, unlisted = listed[0]["path"], listed[1]["path"]
    (prints / gone).unlink()
    text = (prints / "register.csv").read_text(encoding="utf-8").splitlines(keepends=True)
    rest = "".join(line for line in text if not line.startswith(unlisted))
    (prints / "register.csv").write_text(rest, encoding="utf-8")
    found = objections(shipped, prints)
    assert f"register.csv: {gone}: is listed and is not there" in found
    assert f"register.csv: {unlisted}: is there and is not listed" in found
    assert any(one.startswith("register.csv: alder-freight: lacks") for one in found), found
