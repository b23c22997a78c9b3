"""Which prints to pull, told truck by truck: in the terminal, and on one carrier's bulletin."""

from __future__ import annotations

import csv
import json
import shutil
from pathlib import Path

import pytest
import yaml
from projects import SHIPPED
from tables_of_tests import BEFORE, changed, data_of

from chockbook.cli import main
from chockbook.editions import READERS, compare, judge_prints
from chockbook.editions.stale import CARRIED

UP = ("rulebooks.yaml", "{id: 2-minor-c, severity: minor,", "{id: 2-minor-c, severity: major,")
COLUMNS = ("path", "document", "carrier", "unit", "rulebook", "language", "edition", "state", "print_code", "own_file")
CALL = [["dispatch", "555-0111", "", "24 h"]]


def carrier(carrier_id: str, name: str, units: dict[str, tuple[str, list[str]]]) -> dict:
    return {"carrier": {
        "id": carrier_id, "name": name, "languages": ["en", "fr"], "rulebooks": ["north"],
        "contacts": [{"role": "dispatch", "phone": "555-0111", "hours": "24 h"}],
        "units": [{"id": one, "name": painted, "vehicles": vehicles, "equipment": ["hydraulic-brakes"]}
                  for one, (painted, vehicles) in units.items()],
        "documents": [{"what": "deck", "format": one} for one in ("card", "visor", "a6")] + [{"what": "report"}],
    }}  # fmt: skip


@pytest.fixture
def yard(tmp_path: Path) -> tuple[Path, Path, str]:
    """A project, a file of its former edition, and that edition's code. A wheel is more serious now; a converter dolly
    has no wheel that the tables speak of."""
    changed(tmp_path, UP).rename(tmp_path / "source_tables")
    words = (SHIPPED / "words.yaml").read_text(encoding="utf-8")
    (tmp_path / "source_tables" / "words.yaml").write_text(words, encoding="utf-8")
    before = tmp_path / "old" / "source_tables"
    shutil.copytree(BEFORE, before)
    (before / "words.yaml").write_text(words, encoding="utf-8")
    data = data_of(before)
    old = tmp_path / "old.json"
    old.write_text(json.dumps(data), encoding="utf-8")
    folder = tmp_path / "source_tables" / "carriers"
    folder.mkdir()
    for one in (carrier("ash", "Ash Haulage", {"t1": ("Red 1", ["truck"]), "t2": ("Red 2", ["truck"])}),
                carrier("beech", "Beech Lines", {"b9": ("B-9", ["truck"])})):  # fmt: skip
        (folder / f"{one['carrier']['id']}.yaml").write_text(yaml.safe_dump(one), encoding="utf-8")
    code = data["edition"]["code"]
    rows = [("ash", unit, "deck-visor-letter-long-edge", language, code, "current")
            for language in ("en", "fr") for unit in ("t1", "t2")]  # fmt: skip
    rows += [("ash", "gone", "deck-a6-letter-long-edge", "en", code, "replaced"), ("ash", "", "report", "en", code, "current"),
             ("beech", "b9", "deck-card-letter-long-edge", "en", code, "current")]  # fmt: skip
    register = tmp_path / "dist-carriers" / "register.csv"
    register.parent.mkdir()
    with register.open("w", newline="", encoding="utf-8") as file:
        writer = csv.writer(file)
        writer.writerow(COLUMNS)
        for owner, unit, document, language, edition, state in rows:
            own = {"carrier": {"ash": "Ash Haulage", "beech": "Beech Lines"}[owner], "contacts": CALL, "demo": False}
            if unit:
                painted = {"t1": "Red 1", "t2": "Red 2", "b9": "B-9"}.get(unit, unit)
                own |= {"unit": painted, "vehicles": ["truck"], "equipment": ["hydraulic-brakes"], "address": None}
            writer.writerow((f"{owner}/{unit}/{document}", document, owner, unit, "north", language, edition, state, "c0de01",
                             json.dumps(own)))  # fmt: skip
    return tmp_path, old, code


def test_units_that_go_stale_alike_stand_on_one_line_and_what_is_the_same_is_only_counted(yard, capsys):
    root, old, code = yard
    assert main(["--project", str(root), "compare", str(old)]) == 0
    told = capsys.readouterr().out
    assert told[told.index("Stale") :] == (
        "Stale: pull it and print it again: 5\n"
        "  ash: Red 1, Red 2\n"
        f"    deck-visor-letter-long-edge, north, en/fr; {code} c0de01\n"
        "  beech: B-9\n"
        f"    deck-card-letter-long-edge, north, en; {code} c0de01\n"
        "\n"
        "Replaced, or no longer asked for: pull it: 1\n"
        "  ash: gone\n"
        f"    deck-a6-letter-long-edge, north, en; {code} c0de01: unit no longer in the file, replaced, not yet told as pulled\n"
        "\n"
        "Same content: only the edition code or the layout differs: 1\n"
    )


def test_a_defect_that_a_rulebook_does_not_speak_of_is_on_none_of_its_decks(tmp_path):
    """Only the rulebook "north" speaks of the air horn."""
    now = changed(tmp_path, ("catalogue.yaml", "{en: The air horn leaks,", "{en: The air horn hisses,"))
    difference = compare(data_of(BEFORE), data_of(now))
    rows = [{"edition": difference.old["code"], "document": "deck-card-letter", "rulebook": book, "language": "en"}
            for book in ("north", "south")]  # fmt: skip
    judged = judge_prints(rows, {difference.old["code"]: difference}, difference.new["code"], {})
    assert [bool(one.changes) for one in judged] == [True, False]


def test_one_carrier_is_told_of_its_own_prints_only(yard, capsys):
    root, old, _ = yard
    assert main(["--project", str(root), "compare", str(old), "--carrier", "beech", "--json"]) == 0
    assert [(one["carrier"], one["state"]) for one in json.loads(capsys.readouterr().out)["prints"]] == [("beech", "stale")]
    assert main(["--project", str(root), "compare", str(old), "--carrier", "birch"]) == 2
    assert "there is no carrier 'birch' without faults; there are: ash, beech" in capsys.readouterr().err


def test_a_carriers_bulletin_names_its_stale_prints_and_what_the_new_severity_means(yard, tmp_path):
    pypdfium2 = pytest.importorskip("pypdfium2")
    root, old, code = yard

    def text_of(*more: str) -> str:
        out = tmp_path / "bulletin.pdf"
        assert main(["--project", str(root), "compare", str(old), "--bulletin", str(out), *more]) == 0
        return " ".join(" ".join(page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(out)).split())

    text = text_of("--carrier", "ash")
    assert "Ash Haulage" in text
    assert "Hand these in" in text
    assert "Units: Red 1, Red 2" in text
    assert f"Cards (visor) · North · English, Français · Edition {code}, Print code c0de01" in text
    assert "Wheel: A wheel is cracked" in text
    assert "Is now: Major. Do not drive." in text
    assert "B-9" not in text
    assert "Beech" not in text
    assert "report" not in text.split("hand it in.")[1].split("Now more serious")[0].lower()  # it still says the same
    plain = text_of()
    assert "Hand these in" not in plain
    assert "Is now: Major. Do not drive." in plain
    french = text_of("--carrier", "ash", "--language", "fr")
    assert "Unités : Red 1, Red 2" in french.replace("\u00a0", " ")


def test_cards_of_a_format_that_has_no_name_any_more_are_told_as_the_register_has_them(yard, tmp_path):
    pypdfium2 = pytest.importorskip("pypdfium2")
    root, old, _ = yard
    register, out = root / "dist-carriers" / "register.csv", tmp_path / "bulletin.pdf"
    register.write_text(register.read_text(encoding="utf-8").replace("deck-visor-", "deck-pocket-"), encoding="utf-8")
    assert main(["--project", str(root), "compare", str(old), "--carrier", "ash", "--bulletin", str(out)]) == 0
    assert "Cards (pocket)" in pypdfium2.PdfDocument(out)[0].get_textpage().get_text_bounded()


def other_severity(view: dict) -> None:
    next(line for line in view["lines"] if line["after"] == "Major")["after"] = "Minor"


def unmeant(view: dict) -> None:
    next(line for line in view["lines"] if line["means"])["means"] = "May go on."


def other_unit(view: dict) -> None:
    view["pulls"][0]["who"] = view["pulls"][0]["who"].replace("Red 2", "Red 3")


def kept_print(view: dict) -> None:
    del view["pulls"][0]["prints"][0]


def other_edition(view: dict) -> None:
    view["pulls"][0]["prints"][0] = view["pulls"][0]["prints"][0][:-1] + "#"


def unlisted(view: dict) -> None:
    view["lines"].pop(0)


def another_carrier(view: dict) -> None:
    view["owner"] = "Beech Lines"


def other_number(view: dict) -> None:
    view["own"][0]["before"] = view["own"][0]["before"].replace("555-0100", "555-0101")


def untold_number(view: dict) -> None:
    view["own"].clear()


def another_good_edition(view: dict) -> None:
    view["keep"] = view["keep"].replace(": ", ": 0badc0de, ", 1)


def other_new_code(view: dict) -> None:
    view["pulls"][0]["prints"][0] = view["pulls"][0]["prints"][0][:-6] + "000000"


SPOILT = [other_severity, unmeant, other_unit, kept_print, other_edition, unlisted, another_carrier, other_number, untold_number,
          another_good_edition, other_new_code]  # fmt: skip


@pytest.mark.parametrize("spoil", SPOILT)
def test_a_bulletin_that_does_not_say_what_changed_is_not_put_in_place(yard, tmp_path, monkeypatch, capsys, spoil):
    root, old, _ = yard
    from chockbook.printing import bulletin

    register = root / "dist-carriers" / "register.csv"
    register.write_text(register.read_text(encoding="utf-8").replace("555-0111", "555-0100"), encoding="utf-8")
    out = tmp_path / "bulletin.pdf"
    command = ["--project", str(root), "compare", str(old), "--bulletin", str(out), "--carrier", "ash"]
    assert main(command) == 0
    former = out.read_bytes()
    set_settled = bulletin.set_settled

    def spoiled(template: str, data: dict, *others: object):
        before = json.dumps(data["view"])
        spoil(data["view"])
        assert json.dumps(data["view"]) != before
        return set_settled(template, data, *others)

    monkeypatch.setattr(bulletin, "set_settled", spoiled)
    assert main(command) == 1
    assert "bulletin.pdf" in capsys.readouterr().err
    assert out.read_bytes() == former


def test_a_field_that_the_older_file_did_not_know_is_named_and_not_told_step_by_step(tmp_path):
    item = "item: {en: Horn, fr: Klaxon},"
    said = ("route.yaml", item, item + " say: {en: The horn sounds., fr: Le klaxon sonne.},")
    old, new = data_of(BEFORE), data_of(changed(tmp_path, said))
    assert [(one.kind, one.id, one.field) for one in compare(old, new).changes] == [("route", "press-horn", "say")]
    assert compare(old, new).unknown == ()
    for station in old["stations"]:
        for step in station["steps"]:
            del step["say"]
    assert compare(old, new).changes == ()
    assert compare(old, new).unknown == ("steps: say",)


def test_whatever_can_make_a_print_stale_is_a_carriers_business():
    """A changed step makes checklists stale (CARRIED), and a reworded condition decks."""
    assert CARRIED["checklist"]["step"]
    assert "condition" in CARRIED["deck"]["entry"]
    assert {"severity-up", "severity-down", "new", "gone", "route", "wording", "translation", "figures"} <= set(READERS["carrier"])
    assert {"severity-up", "figures", "wording"} <= set(READERS["instructor"])
