"""The proof objects to every difference between an output and the catalogue, and to nothing else."""

from __future__ import annotations

import copy
import json

import pytest

from chockbook.proof import prove


def change(path, old: str, new: str, times: int = 1) -> None:
    text = path.read_text(encoding="utf-8-sig" if path.suffix == ".csv" else "utf-8")
    assert old in text, f"{old!r} is not in {path.name}"
    path.write_bytes(text.replace(old, new, times).encode("utf-8-sig" if path.suffix == ".csv" else "utf-8"))


def objections(built, output) -> list[str]:
    return [str(objection) for objection in prove(built.catalogue, output).objections]


def test_an_untouched_output_is_proved(built, output):
    result = prove(built.catalogue, output)
    assert result.objections == ()
    assert result.entries == 2


def test_a_file_that_no_proof_opens_is_not_signed_off(built, output):
    strays = ["data/rates.csv", "print/demo/fr/manual.pdf", "print/notes.pdf", "print/readme.txt", "roadside.demo.en.html",
              "site/compare/border-other.pdf"]  # fmt: skip
    for name in strays:
        (output / name).parent.mkdir(parents=True, exist_ok=True)
        (output / name).write_bytes((output / "print" / "cards.pdf").read_bytes())
    found = [line for line in objections(built, output) if not line.startswith("site/sw.js:")]
    assert found == [f"{name}: file: is not proved: no proof opens it" for name in strays]


@pytest.mark.parametrize(
    "file, old, new, expected",
    [
        ("site/components/tire.html", "<strong>Do not drive</strong>", "<strong>Go on</strong>", "is offered under 'Go on'"),
        ("site/components/tire.html", 'words"><span class="mark mark--no" aria-hidden="true"></span> <strong>Do not drive',
         'words"><span></span> <strong>Go on', "does not say: Do not drive"),
        ("site/components/tire.html", '<a href="#flat">A tire is flat', '<a href="#silent">A tire is flat',
         "is not offered where the reader picks"),
        ("site/components/tire.html", "</span> Major</p>", "</span> Minor</p>", "does not say: Major"),
        ("site/components/tire.html", "Do not drive the vehicle.", "Drive the vehicle.", "does not say: Do not drive the vehicle."),
        ("site/components/tire.html", "Part 2, major (a)", "Part 2, major (b)", "does not say: Part 2, major (a)"),
        ("site/components/tire.html", 'id="flat">Tire: A tire is flat', 'id="flat">Tire: A tire is soft', "A tire is soft"),
        ("site/components/tire.html", "at least <b>3 mm</b>", "at least <b>2 mm</b>", "does not say: 3 mm"),
        ("site/components/city-horn.html", "horn dead", "horn alive", "does not say: horn dead"),
        ("site/components/city-horn.html", "</section>", "<p>It is safe to drive.</p></section>", "says what the catalogue does not"),
        ("site/components/tire.html", 'class="entry entry--no"', 'class="entry entry--no" hidden', "<section>: is hidden"),
        ("site/components/tire.html", 'data-entry="tire.flat"', 'data-entry="tire.bald"', "stands nowhere"),
        ("site/components/tire.html", 'id="flat"', 'id="bald"', "has no anchor 'flat'"),
        ("site/severity/major.html", "tire.html#flat", "city-horn.html#silent", "is missing from the list"),
        ("site/schedule.html", "Chock and secure", "Check and secure", "does not say"),
        ("site/cautions.html", "Never go under", "Go under", "says what the tables do not"),
        ("site/search/search_index.json", "components/tire.html#flat", "components/tire.html#round", "cannot be found by search"),
        ("roadside.html", "Check by <b>", 'Check by <b aria-hidden="true">', "is hidden from readers who listen"),
        ("data/catalogue.json", '"severity": "major"', '"severity": "minor"', "'minor'"),
        ("data/catalogue.json", '"record"', '"records"', "'records'"),
        ("data/catalogue.csv", ",major,", ",minor,", "severity is 'minor'"),
        ("data/catalogue.csv", "tire.flat", "tire.round", "tire.flat demo 2-major-a: is missing"),
    ],
)  # fmt: skip
def test_one_changed_word_is_objected_to(built, output, file, old, new, expected):
    change(output / file, old, new)
    found = objections(built, output)
    assert any(expected in line for line in found), found


def test_a_missing_row_of_the_csv_is_objected_to(built, output):
    path = output / "data" / "catalogue.csv"
    rows = path.read_bytes().split(b"\r\n")
    path.write_bytes(b"\r\n".join(rows[:-2] + rows[-1:]))
    assert "data/catalogue.csv: tire.flat demo 2-major-a: is missing" in objections(built, output)


def test_a_heading_that_search_finds_without_its_words_is_objected_to(built, output):
    path = output / "site" / "search" / "search_index.json"
    index = json.loads(path.read_text(encoding="utf-8"))
    next(one for one in index["docs"] if one["location"].endswith("tire.html#flat"))["text"] = ""
    path.write_text(json.dumps(index), encoding="utf-8")
    assert any("components/tire.html#flat: is found without the words" in line for line in objections(built, output))


def test_a_repeated_entry_of_the_json_is_objected_to(built, output):
    path = output / "data" / "catalogue.json"
    data = json.loads(path.read_text(encoding="utf-8"))
    data["entries"].append(data["entries"][0])
    path.write_text(json.dumps(data), encoding="utf-8")
    assert "data/catalogue.json: city-horn.silent: stands twice or out of order" in objections(built, output)


@pytest.mark.parametrize(
    "file",
    ["data/catalogue.json", "data/catalogue.csv", "site/components/tire.html", "site/search/search_index.json",
     "print/manual.pdf", "print/cards.pdf", "print/checklist.pdf"],
)  # fmt: skip
def test_a_missing_file_is_objected_to(built, output, file):
    (output / file).unlink()
    assert objections(built, output)


@pytest.mark.parametrize("file", ["data/catalogue.json", "data/catalogue.csv", "print/manual.pdf", "print/cards.pdf"])
def test_a_spoiled_file_is_an_objection_and_not_a_crash(built, output, file):
    (output / file).write_bytes(b"\xff\x00 spoiled")
    assert objections(built, output)


def changed(catalogue, **facts):
    """The catalogue with one fact of its rulebook or entries changed: what the outputs say is then wrong."""
    data = copy.deepcopy(catalogue)
    for name in ("entry", "entries_of", "source", "limit", "caution"):
        data.__dict__.pop(name, None)
    rulebook = data.rulebooks[0]
    for record in (*rulebook.actions, *rulebook.severities,
                   *(item for part in rulebook.schedules[0].parts for item in part.items)):  # fmt: skip
        for field, (old, new) in facts.items():
            value = getattr(record, field, None)
            if value == old or (isinstance(value, dict) and value.get("en") == old):
                record.__dict__[field] = new if isinstance(value, str) else {"en": new}
    return data


@pytest.mark.parametrize(
    "facts",
    [
        {"text": ("Do not drive the vehicle.", "Do not move the vehicle.")},
        {"outcome": ("Do not drive", "Do not go")},
        {"name": ("Major", "Grave")},
        {"locator": ("Part 2, major (a)", "Part 2, major (b)")},
        {"basis": ("from-memory", "invented")},
    ],
    ids=["an action", "an answer", "a severity", "a locator", "a standing"],
)
def test_a_fact_that_differs_is_objected_to_in_every_kind_of_output(built, facts):
    result = prove(changed(built.catalogue, **facts), built.output)
    kinds = {objection.output.split(" ")[0].split("/")[-1] for objection in result.objections}
    assert {"manual.pdf", "cards.pdf", "tire.html"} <= kinds, kinds


def test_a_step_that_differs_is_objected_to_in_the_checklist(built):
    data = copy.deepcopy(built.catalogue)
    data.stations[0].steps[0].__dict__["want"] = {"en": "stays silent"}
    found = {o.output for o in prove(data, built.output).objections if o.about == "press-horn"}
    assert "print/checklist-all.pdf" in found


def test_a_report_field_that_differs_is_objected_to_on_the_forms(built):
    data = copy.deepcopy(built.catalogue)
    data.rulebooks[0].report[0].__dict__["name"] = {"en": "Number of the unit"}
    found = {o.output for o in prove(data, built.output).objections if o.about == "unit"}
    assert found == {"print/checklist.pdf", "print/report.pdf"}


@pytest.mark.parametrize("place", ["operator", "defects", "inspector", "signed", "repaired"])
def test_a_report_field_that_stands_elsewhere_on_the_form_is_objected_to(built, place):
    data = copy.deepcopy(built.catalogue)
    data.rulebooks[0].report[0].__dict__["on_form"] = place
    assert "print/report.pdf" in {o.output for o in prove(data, built.output).objections}
