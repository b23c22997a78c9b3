"""A carrier with a fault is reported with its file and line, and the others are read."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from demo_carriers import ALL_EQUIPMENT
from projects import SHIPPED, tiny_project
from pydantic import ValidationError
from test_command import write

from chockbook.catalogue import Catalogue, Record
from chockbook.catalogue.carrier import CarrierRecord, ContactRecord, UnitRecord
from chockbook.checks.carriers import Carriers, assemble_carriers
from chockbook.cli import main

NAME = "larch-hollow-haulage.yaml"

CASES = {
    "unknown rulebook": ("rulebooks: [on-s1]", "rulebooks: [on-s2]", 11, "unknown-reference", 'there is no rulebook "on-s2"'),
    "unknown language": ("languages: [en]", "languages: [xx]", 10, "unknown-reference", 'there is no language "xx"'),
    "two rulebooks alike": ("rulebooks: [on-s1]", "rulebooks: [on-s1, on-s1]", 11, "duplicate-id",
                            'the rulebook "on-s1" stands here twice'),
    "two units alike": ('id: "14"', 'id: "12"', 18, "duplicate-id",
                        '"12" is the id of two units, the first at source_tables/carriers/larch-hollow-haulage.yaml:14:11'),
    "other file name": ("id: larch-hollow-haulage", "id: larch-haulage", 3, "carrier-file",
                        'the carrier "larch-haulage" stands in "larch-hollow-haulage.yaml"'),
    "unknown equipment": ("hood-mirrors", "hood-mirror", 17, "bad-choice", '"hood-mirror" is not a choice for "equipment" of "12"'),
    "misspelt key": ("  demo: true", "  demoo: true", 5, "unknown-key", '"demoo" is not a key of "larch-hollow-haulage"'),
    "two languages of one": ("{what: deck, format: card, paper: letter, duplex: long-edge}",
                             "{what: deck, languages: side-by-side, format: card, paper: letter, duplex: long-edge}",
                             24, "two-languages", "a deck is asked for in two languages, and the carrier has 1"),
    "a hole in a visor card": ("{what: deck, format: card, paper: letter, duplex: long-edge}", "{what: deck, format: visor, punch: top}",
                               24, "punch", "a hole is asked for in the format visor"),
    "no letters in a number": ("555-0101", "call us", 7, "bad-phone", '"call us" is not a well-formed phone'),
    "an extension in letters": ("555-0101", "555-0101 ext 4", 7, "bad-phone", '"555-0101 ext 4" is not a well-formed phone'),
    "too few digits": ("555-0101", "555-01", 7, "bad-phone", '"555-01" is not a well-formed phone'),
    "misspelt brakes": ("[air-brakes, def-system, fifth-wheel, air-suspension", "[air brakes, def-system, fifth-wheel, air-suspension", 17,
                        "bad-choice", '"air brakes" is not a choice for "equipment" of "12"'),
    "a misspelt coupling": ("def-system, fifth-wheel, air-suspension, sleeper, hood",
                            "def-system, 5th-wheel, air-suspension, sleeper, hood", 17,
                            "bad-choice", '"5th-wheel" is not a choice for "equipment" of "12"'),
    "a bus": ("vehicles: [tractor, trailer]\n", "vehicles: [bus]\n", 16, "bad-choice", '"bus" is not a choice for "vehicles" of "12"'),
    "a part that is named twice": ("[air-brakes, def-system, fifth-wheel, air-suspension, sleeper, hood",
                                   "[air-brakes, def-system, fifth-wheel, sleeper, air-suspension, sleeper, hood", 17,
                                   "duplicate-id", '"sleeper" stands here twice'),
    "a rulebook in capitals": ("rulebooks: [on-s1]", "rulebooks: [ON-S1]", 11, "unknown-reference", 'there is no rulebook "ON-S1"'),
    "a document that is asked for twice": ("- {what: report}", "- {what: checklist, variant: normal}", 27, "same-document",
                                           "this checklist is asked for twice, first at source_tables/carriers/"),
    "a trailer in front": ("vehicles: [tractor, trailer]\n", "vehicles: [trailer, tractor]\n", 16, "unit-first",
                           'the unit "12" begins with a trailer'),
    "no brakes": ("[air-brakes, def-system, fifth-wheel, air-suspension", "[def-system, fifth-wheel, air-suspension", 17,
                  "unit-brakes", 'the unit "12" has no kind of brakes'),
    "brakes of two kinds": ("[air-brakes, def-system, fifth-wheel, air-suspension",
                            "[air-brakes, hydraulic-brakes, def-system, fifth-wheel, air-suspension", 17,
                            "unit-brakes", 'the unit "12" has air-brakes and hydraulic-brakes at once'),
    "no coupling": ("[air-brakes, def-system, fifth-wheel, air-suspension", "[air-brakes, def-system, air-suspension", 17,
                    "unit-coupling", 'the unit "12" has 2 vehicles and no coupling'),
}  # fmt: skip


@pytest.mark.parametrize("case", list(CASES))
def test_a_fault_names_file_and_line(case: str, shipped: Catalogue, tmp_path: Path) -> None:
    old, new, line, rule, what = CASES[case]
    folder = tmp_path / "source_tables" / "carriers"
    shutil.copytree(SHIPPED / "carriers", folder)
    text = (folder / NAME).read_text(encoding="utf-8")
    assert old in text
    (folder / NAME).write_text(text.replace(old, new, 1), encoding="utf-8")
    found = assemble_carriers(folder, shipped)
    assert [(fault.rule, fault.place.file, fault.place.line) for fault in found.faults] == [
        (rule, f"source_tables/carriers/{NAME}", line)
    ]
    assert found.faults[0].what.startswith(what)
    assert [one.id for one in found.carriers] == ["grey-heron-tank-lines", "quatre-bornes-transport"]


def test_what_has_no_effect_is_told_and_stops_nothing(shipped: Catalogue, tmp_path: Path) -> None:
    folder = tmp_path / "source_tables" / "carriers"
    folder.mkdir(parents=True)
    text = (SHIPPED / "carriers" / NAME).read_text(encoding="utf-8")
    text = text.replace("{what: checklist}", "{what: checklist, format: visor}").replace("{what: report}", "{what: report, variant: big}")
    (folder / NAME).write_text(text.replace("https://", "http://"), encoding="utf-8")
    found = assemble_carriers(folder, shipped)
    assert [(fault.rule, fault.level, fault.place.line, fault.what) for fault in found.faults] == [
        ("plain-http", "warning", 12, "the address of the site is not encrypted (http)"),
        ("without-effect", "warning", 26, '"format" changes nothing for a checklist'),
        ("without-effect", "warning", 27, '"variant" changes nothing for a report'),
    ]
    assert len(found.carriers) == 1


WARNINGS = {
    "one name on two units": ('name: "14"', 'name: "12"', 19, "same-name",
                              '"12" is painted on two units, the first at source_tables/carriers/larch-hollow-haulage.yaml:15:13'),
    "one number for two contacts": ("555-0102", "555 0101", 8, "same-phone",
                                    '"555 0101" is the number of two contacts, the first at source_tables/carriers/'),
    "a trailer that no fifth wheel carries": ("def-system, fifth-wheel, air-suspension, sleeper, hood",
                                              "def-system, pintle-hook, air-suspension, sleeper, hood", 17, "unit-coupling",
                                              'the unit "12" has a tractor and a trailer, and no fifth-wheel'),
    "hours in one language of two": ("languages: [en]", "languages: [en, fr]", 7, "contact-language",
                                     '"day and night" is printed in en and fr alike'),
}  # fmt: skip


@pytest.mark.parametrize("case", list(WARNINGS))
def test_what_looks_like_a_mistake_is_told_and_stops_nothing(case: str, shipped: Catalogue, tmp_path: Path) -> None:
    old, new, line, rule, what = WARNINGS[case]
    found = _with(tmp_path, shipped, old, new)
    assert [(fault.rule, fault.level, fault.place.line) for fault in found.faults] == [(rule, "warning", line)]
    assert found.faults[0].what.startswith(what)
    assert [one.id for one in found.carriers] == ["larch-hollow-haulage"]


@pytest.mark.parametrize(("vehicles", "coupling"), [("[truck, trailer]", "ball-hitch, safety-chains"), ("[truck, truck]", "saddle-mount")])
def test_every_kind_of_coupling_holds_a_unit_together(vehicles: str, coupling: str, shipped: Catalogue, tmp_path: Path) -> None:
    unit = ("vehicles: [tractor, trailer]\n      equipment: [air-brakes, def-system, fifth-wheel,",
            f"vehicles: {vehicles}\n      equipment: [air-brakes, def-system, {coupling},")  # fmt: skip
    assert _with(tmp_path, shipped, *unit).faults == []


MESSAGES = {
    "nothing after a colon": ("phone: 555-0101,", "phone:,", "a key has nothing after its colon",
                              'write the value, as in "phone: 555-0101", or take the key away'),
    "no contacts": ("  contacts:\n    - {role: dispatch, name: Night desk, phone: 555-0101, hours: day and night}\n"
                    "    - {role: maintenance, name: Rosa Tamm, phone: 555-0102, hours: \"06:00-22:00\"}\n"
                    "    - {role: safety, name: Ivo Brandt, phone: 555-0103, hours: \"08:00-17:00\"}\n", "",
                    '"larch-hollow-haulage" has no "contacts"',
                    "add contacts: and its value, such as contacts: [{role: dispatch, phone: 555-0101, hours: '06:00-22:00'}]"),
    "no space in brackets": ("{what: report}", "{what:report}", 'no space stands after the colon of "what:report"',
                             "put a space after the colon: what: report"),
    "no space in a list": ("{what: report}", "what:report", 'no space stands after the colon of "what:report"',
                           "put a space after the colon: what: report"),
}  # fmt: skip


@pytest.mark.parametrize("case", list(MESSAGES))
def test_a_slip_of_writing_is_one_fault_that_says_how_to_write_it(case: str, shipped: Catalogue, tmp_path: Path) -> None:
    old, new, what, mend = MESSAGES[case]
    (fault,) = _with(tmp_path, shipped, old, new).faults
    assert fault.what.endswith(what)
    assert fault.mend == mend


def test_an_id_of_a_unit_is_the_name_of_a_folder(shipped: Catalogue, tmp_path: Path) -> None:
    (fault,) = _with(tmp_path, shipped, 'id: "12"', "id: ../lcv-9").faults
    assert fault.why == "ids become names of folders of prints, and stay for good"


@pytest.mark.parametrize("record", [CarrierRecord, ContactRecord, UnitRecord])
def test_every_example_of_a_field_is_one_that_the_record_takes(record: type[Record]) -> None:
    for name, field in record.model_fields.items():
        for example in field.examples or ():
            assert all(error["loc"][0] != name for error in errors_of(record, {name: example})), name


def errors_of(record: type[Record], data: dict[str, object]) -> list:
    """What a record does not take of its fields."""
    try:
        record.model_validate(data)
    except ValidationError as error:
        return error.errors()
    return []


def _with(folder: Path, shipped: Catalogue, old: str, new: str) -> Carriers:
    """What is told of one carrier's file with a text replaced."""
    carriers = folder / "source_tables" / "carriers"
    carriers.mkdir(parents=True)
    text = (SHIPPED / "carriers" / NAME).read_text(encoding="utf-8")
    assert old in text
    (carriers / NAME).write_text(text.replace(old, new, 1), encoding="utf-8")
    return assemble_carriers(carriers, shipped)


@pytest.mark.parametrize("name", ["ash.yml", "ash.YAML", "ash.yaml.txt"])
def test_a_file_that_is_not_read_for_its_name_is_told(name: str, shipped: Catalogue, tmp_path: Path) -> None:
    folder = tmp_path / "source_tables" / "carriers"
    folder.mkdir(parents=True)
    (folder / name).write_text("carrier:\n  id: ash\n", encoding="utf-8")
    (folder / "notes.md").write_text("no carrier", encoding="utf-8")
    (fault,) = assemble_carriers(folder, shipped).faults
    assert (fault.rule, fault.place.file, fault.mend) == ("carrier-file", f"source_tables/carriers/{name}", 'name it "ash.yaml"')


def test_a_project_without_carriers_has_none(shipped: Catalogue, tmp_path: Path) -> None:
    assert assemble_carriers(tmp_path / "carriers", shipped).carriers == ()


def test_the_shipped_carriers_differ(shipped_carriers) -> None:
    assert len(shipped_carriers) == 3
    assert all(one.demo for one in shipped_carriers)
    assert len({tuple(one.rulebooks) for one in shipped_carriers}) == 3
    assert (
        len(
            {
                document.format
                for one in shipped_carriers
                for document in one.documents
                if document.what == "deck"
            }
        )
        >= 4
    )
    assert len({tuple(sorted(unit.equipment)) for one in shipped_carriers for unit in one.units}) == 6
    for one in shipped_carriers:
        assert all(contact.phone.startswith("555-01") for contact in one.contacts)


def test_a_fault_says_what_a_phone_looks_like_and_names_every_choice(shipped: Catalogue, tmp_path: Path) -> None:
    folder = tmp_path / "source_tables" / "carriers"
    folder.mkdir(parents=True)
    text = (SHIPPED / "carriers" / NAME).read_text(encoding="utf-8")
    spoilt = text.replace("555-0101", "555-0101 ext 4").replace("hood-mirrors", "mirrors")
    (folder / NAME).write_text(spoilt, encoding="utf-8")
    phone, choice = assemble_carriers(folder, shipped).faults
    assert "x4" in phone.mend
    named = choice.mend.split(": ")[1].split(", ")
    assert sorted(named) == sorted(ALL_EQUIPMENT)  # those of the test's own list, eighteen of them


def test_check_reads_the_carriers_too_and_counts_their_faults(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    project = tiny_project(tmp_path)
    write(project, "ash", languages=["xx"])
    assert main(["--project", str(project), "check"]) == 1
    out = capsys.readouterr().out
    assert 'error[unknown-reference]: there is no language "xx"' in out
    assert "1 fault in 1 file" in out
    write(project, "ash")
    assert main(["--project", str(project), "check"]) == 0
    (project / "source_tables" / "limits.yaml").write_text("limits: [", encoding="utf-8")
    assert main(["--project", str(project), "check"]) == 1
    assert "the carriers were not checked" in capsys.readouterr().out
