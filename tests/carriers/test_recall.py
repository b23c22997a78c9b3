"""A change in a carrier's own file calls its prints back: whatever the proof objects to is no longer current."""

from __future__ import annotations

import csv
import json
from copy import deepcopy
from pathlib import Path

import pytest
import yaml
from projects import tiny_project
from test_command import run, write

from chockbook.cli import main

PLAIN = {
    "name": "Ash Cartage", "demo": True,
    "contacts": [{"role": "dispatch", "phone": "555-0111", "hours": "day and night"},
                 {"role": "safety", "name": "Wim Okoro", "phone": "555-0112", "hours": "08:00-16:00"}],
    "units": [{"id": "u1", "name": "1", "vehicles": ["truck", "trailer"], "equipment": ["hydraulic-brakes"]},
              {"id": "u2", "name": "2", "vehicles": ["truck"], "equipment": ["air-brakes"]}],
    "documents": [{"what": "deck"}, {"what": "deck", "format": "id1"}, {"what": "checklist"}, {"what": "report"}],
}  # fmt: skip
DECKS = ("deck-card-letter-long-edge", "deck-id1-letter-long-edge")
ALL = {(kind, unit) for kind in (*DECKS, "checklist-normal") for unit in ("u1", "u2")} | {("report", "")}
OF_U1 = {one for one in ALL if one[1] == "u1"}
NAMED = {one for one in ALL if "id1" not in one[0]}
"""A wallet card has no room for names, for the code of an address, or for another contact than the first."""


@pytest.fixture(scope="module")
def printed(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, str]:
    """A project with prints of one carrier, and the code of its edition, which is kept."""
    project = tiny_project(tmp_path_factory.mktemp("recall"))
    write(project, "ash", **PLAIN)
    assert run(project) == 0
    assert main(["--project", str(project), "keep"]) == 0
    (kept,) = (path.stem for path in (project / "source_tables" / "editions").glob("*.json"))
    return project, kept


def prints_of(project: Path, edition: str, capsys: pytest.CaptureFixture[str]) -> list[dict]:
    capsys.readouterr()
    assert main(["--project", str(project), "compare", edition, "--json"]) == 0
    return json.loads(capsys.readouterr().out)["prints"]


def objected(project: Path, capsys: pytest.CaptureFixture[str]) -> str:
    capsys.readouterr()
    main(["--project", str(project), "prove", str(project / "dist-carriers")])
    return capsys.readouterr().out


def unit(number: int, **more: object):
    def change(plain: dict) -> None:
        plain["units"][number] |= more

    return change


def contact(number: int, **more: object):
    def change(plain: dict) -> None:
        plain["contacts"][number] |= more

    return change


def carrier(**more: object):
    return lambda plain: plain.update(more)


CHANGES = [
    (unit(0, equipment=["air-brakes"]), OF_U1, "equipment"),
    (unit(0, vehicles=["truck"]), OF_U1, "vehicles"),
    (unit(0, name="1A"), OF_U1 & NAMED, "unit"),
    (carrier(name="Ash Haulage"), NAMED, "carrier"),
    (carrier(base_address="https://ash.example/"), {one for one in NAMED if one[0].startswith("deck")}, "address"),
    (carrier(demo=False), NAMED, "demo"),
    (contact(0, phone="555-0199"), ALL, "contact"),
    (contact(1, hours="08:00-17:00"), NAMED, "contact"),
    (lambda plain: plain["contacts"].reverse(), ALL, "contact"),
    (lambda plain: plain["units"].pop(0), OF_U1, "unit-gone"),
    (lambda plain: plain["documents"].pop(0), {one for one in ALL if one[0] == DECKS[0]}, "document-gone"),
    (lambda plain: plain["documents"][1].update(punch="none", paper="a4"), {one for one in ALL if one[0] == DECKS[1]}, "document-gone"),
]


@pytest.mark.parametrize(("change", "wanted", "what"), CHANGES)
def test_prints_that_say_what_the_file_no_longer_says_are_stale_and_no_others(printed, capsys, change, wanted, what) -> None:
    project, edition = printed
    plain = deepcopy(PLAIN)
    change(plain)
    write(project, "ash", **plain)
    prints = prints_of(project, edition, capsys)
    stale = {(one["document"], one["unit"]) for one in prints if one["state"] == "stale"}
    assert stale == wanted
    assert {one["state"] for one in prints} <= {"stale", "current"}
    assert all({change["what"] for change in one["own_changes"]} <= {what, "contact-order"} for one in prints)
    # The proof opens every print: it objects to each of these, by its path or as one that is not asked for, and to no other.
    told = objected(project, capsys)
    for one in prints:
        asked = f"ash: has {one['document']} {one['unit']} {one['rulebook']} {one['language']}, which nobody asked for"
        assert (f"{one['path']}" in told or asked in told) == (one["state"] == "stale"), one["path"]


def test_nothing_is_stale_while_the_file_says_the_same(printed, capsys) -> None:
    project, edition = printed
    write(project, "ash", **PLAIN)
    assert {one["state"] for one in prints_of(project, edition, capsys)} == {"current"}


def test_the_terminal_says_in_words_what_is_another_thing_and_counts_it(printed, capsys) -> None:
    project, edition = printed
    plain = deepcopy(PLAIN)
    unit(0, equipment=["air-brakes"])(plain)
    plain["units"].pop(1)
    write(project, "ash", **plain)
    capsys.readouterr()
    assert main(["--project", str(project), "compare", edition]) == 0
    out = capsys.readouterr().out
    assert "Changes: 2\n" in out
    assert "  ash: Units: 1 · Equipment: hydraulic brakes → air brakes\n" in out
    assert "For carriers: Pull the cards" in out
    assert "  In the carrier's own file: 2\n" in out
    stale, gone = out[out.index("Stale:") :].split("Replaced, or no longer asked for: pull it: 3\n")
    assert stale.count("other equipment now\n") == 3
    assert gone.count("unit no longer in the file\n") == 3
    assert "Current: 1\n" in gone


def rows_of(project: Path) -> list[dict[str, str]]:
    with (project / "dist-carriers" / "register.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def put_rows(project: Path, rows: list[dict[str, str]]) -> None:
    with (project / "dist-carriers" / "register.csv").open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, list(rows[0]), extrasaction="ignore")
        writer.writeheader()
        writer.writerows(rows)


@pytest.fixture
def small(tmp_path: Path) -> tuple[Path, str]:
    """A project with a deck and a report form of one carrier on the register, kept."""
    project = tiny_project(tmp_path)
    write(project, "ash", documents=[{"what": "deck"}, {"what": "report"}])
    assert run(project) == 0
    assert main(["--project", str(project), "keep"]) == 0
    (kept,) = (path.stem for path in (project / "source_tables" / "editions").glob("*.json"))
    return project, kept


def test_a_replaced_print_is_never_current(small, capsys) -> None:
    project, edition = small
    put_rows(project, [{**row, "state": "replaced"} for row in rows_of(project)])
    assert {one["state"] for one in prints_of(project, edition, capsys)} == {"same"}
    (project / "source_tables" / "carriers" / "ash.yaml").unlink()
    assert {one["state"] for one in prints_of(project, edition, capsys)} == {"unknown"}


@pytest.mark.parametrize("spoil", [lambda path: path.unlink(), lambda path: path.write_text("carrier: {id: ash}", encoding="utf-8")])
def test_a_carrier_of_the_register_without_a_file_is_named(small, capsys, spoil) -> None:
    project, edition = small
    spoil(project / "source_tables" / "carriers" / "ash.yaml")
    capsys.readouterr()
    assert main(["--project", str(project), "compare", edition]) == 0
    out = capsys.readouterr().out
    assert "On the register, with no file here without faults: ash\n" in out
    assert "Cannot be judged here: pull it and print it again: 2\n" in out
    assert "Current" not in out


def test_a_register_that_does_not_say_what_its_prints_took_cannot_be_judged(small, capsys) -> None:
    """One that an earlier program wrote."""
    project, edition = small
    for own in ("", "[]", "{", '{"contacts": 1}'):
        put_rows(project, [{**row, "own_file": own} for row in rows_of(project)])
        prints = prints_of(project, edition, capsys)
        assert {(one["state"], *one["unjudged"]) for one in prints} == {("unknown", "no-own-file")}


def bulletin_of(project: Path, edition: str, out: Path) -> str:
    pypdfium2 = pytest.importorskip("pypdfium2")
    assert main(["--project", str(project), "compare", edition, "--carrier", "ash", "--bulletin", str(out)]) == 0
    return " ".join(" ".join(page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(out)).split())


def test_a_bulletin_for_new_contacts_says_which_and_how_to_tell_the_new_print(small, tmp_path, capsys) -> None:
    project, edition = small
    was = {row["document"]: row["print_code"] for row in rows_of(project)}
    write(project, "ash", documents=[{"what": "deck"}, {"what": "report"}],
          contacts=[{"role": "dispatch", "phone": "555-0199", "hours": "day and night"}])  # fmt: skip
    assert run(project) == 0
    now = {row["document"]: row["print_code"] for row in rows_of(project) if row["state"] == "current"}
    text = bulletin_of(project, edition, tmp_path / "bulletin.pdf")
    assert f"Edition {edition} (" in text
    assert "is still in force" in text
    assert "Changes from" not in text
    assert "Dispatch Was: 555-0111. Is now: 555-0199." in text
    (deck,) = (kind for kind in was if kind.startswith("deck"))
    for kind in (deck, "report"):
        assert was[kind] != now[kind]
        assert f"Edition {edition}, Print code {was[kind]} · other contacts now" in text
        assert f"new print: Edition {edition}, Print code {now[kind]}" in text


def test_the_code_stands_at_every_foot_of_the_print(printed) -> None:
    pypdfium2 = pytest.importorskip("pypdfium2")
    project, _ = printed
    for row in rows_of(project):
        pages = [page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(project / "dist-carriers" / row["path"])]
        sides = pages[1::2] if "id1" in row["document"] else pages  # the backs of wallet cards are their feet
        assert all(row["print_code"] in page for page in sides), row["path"]  # in one piece


def test_units_made_up_alike_have_their_code_in_common_and_others_have_not(printed) -> None:
    codes = {(row["document"], row["unit"]): row["print_code"] for row in rows_of(printed[0])}
    assert codes[DECKS[0], "u1"] != codes[DECKS[0], "u2"]
    project = printed[0]
    plain = deepcopy(PLAIN)
    plain["units"] = [plain["units"][0], {**plain["units"][0], "id": "u2", "name": "2"}]
    write(project, "ash", **plain)
    from chockbook.catalogue.carrier import CarrierRecord
    from chockbook.catalogue.taken import print_code, taken

    file = yaml.safe_load((project / "source_tables" / "carriers" / "ash.yaml").read_text(encoding="utf-8"))
    one = CarrierRecord.model_validate(file["carrier"])
    assert len({print_code(taken(one, unit, DECKS[0], ["en"], None)) for unit in one.units}) == 1


def test_a_bulletin_tells_what_to_do_with_prints_of_editions_that_were_not_kept(small, tmp_path) -> None:
    project, edition = small
    put_rows(project, [{**row, "edition": "0badc0de"} if row["document"] == "report" else row for row in rows_of(project)])
    text = bulletin_of(project, edition, tmp_path / "bulletin.pdf")
    assert "Report form · Demo" in text
    assert "Edition 0badc0de" in text
    assert "this edition was not kept" in text
    assert f"where the print is not named here: {edition}. Any other edition code: hand it in." in text


def test_a_bulletin_names_a_print_once_though_it_was_made_twice(small, tmp_path) -> None:
    """Once by an earlier program, with other bytes and the same codes."""
    project, edition = small
    old = [{**row, "own_file": row["own_file"].replace("555-0111", "555-0100")} for row in rows_of(project)]
    put_rows(project, [*old, *({**row, "sha256": "00", "state": "replaced"} for row in old)])
    text = bulletin_of(project, edition, tmp_path / "bulletin.pdf")
    assert text.count("Report form ·") == 1
    assert "replaced" not in text
