"""The proof objects to a changed practice question and to a walk sheet that says something else than the route."""

from __future__ import annotations

import copy
import json

import pytest

from chockbook.catalogue import Catalogue
from chockbook.pages.practice import AFTER, BANK, BEFORE, bank_data
from chockbook.printing import render_score_sheet, render_walk_sheet
from chockbook.proof.practice import prove_practice
from chockbook.proof.read_pdf import read_pdf
from chockbook.proof.reading import Vocabulary
from chockbook.proof.texts import all_texts
from chockbook.proof.walk import prove_score_sheet, prove_walk_sheet

BOOK = ("on-s1", "en")


@pytest.fixture(scope="module")
def anything(shipped):
    return Vocabulary(all_texts(shipped, "en"))


@pytest.fixture(scope="module")
def bank(shipped):
    return bank_data(shipped, *BOOK)


@pytest.fixture
def objections(shipped, anything, tmp_path):
    """What the proof says of a bank."""

    def of(data):
        (tmp_path / "practice.html").write_text("", "utf-8")
        path = tmp_path / BANK
        path.parent.mkdir(parents=True, exist_ok=True)
        text = data if isinstance(data, str) else f"{BEFORE}{json.dumps(data, ensure_ascii=False)}{AFTER}"
        path.write_text(text, encoding="utf-8")
        return [str(one) for one in prove_practice(shipped, tmp_path, *BOOK, "site", anything)]

    return of


def test_an_untouched_bank_is_proved(objections, bank):
    assert objections(bank) == []


KINDS = ["severity", "action", "which", "stops", "figure", "measured", "case", "place"]


@pytest.mark.parametrize("kind", KINDS)
def test_every_other_right_answer_is_objected_to(objections, bank, kind):
    data = copy.deepcopy(bank)
    turned = [one for one in data["questions"] if one["kind"] == kind]
    for one in turned:
        one["right"] = (one["right"] + 1) % len(one["choices"])
    found = "\n".join(objections(data))
    assert turned
    assert [one["id"] for one in turned if one["id"] not in found] == []


@pytest.mark.parametrize("kind", KINDS)
def test_the_wording_of_another_question_is_objected_to(objections, bank, kind):
    data = copy.deepcopy(bank)
    question = next(one for one in data["questions"] if one["kind"] == kind)
    other = next(one for one in data["questions"] if one["kind"] != kind and one["kind"] in ("severity", "case"))
    question["text"] = other["text"]
    assert any(question["id"] in line for line in objections(data))


def first_text(data, key):
    return data["questions"][0][key]


@pytest.mark.parametrize(
    "change, said",
    [
        (lambda d: d["texts"].__setitem__(first_text(d, "text"), "Is it safe to go on with this?"), "says what the tables do not"),
        (lambda d: d["texts"].__setitem__(first_text(d, "reason"), "Minor: nothing to worry about."), "says what the tables do not"),
        (lambda d: d["questions"].append(d["questions"][0]), "stands twice"),
        (lambda d: d["questions"][0].update(entries=["tire.of-nowhere"]), "of which the rulebook does not speak"),
        (lambda d: d["questions"][0].update(entries=[]), "is about nothing"),
        (lambda d: d["questions"][0].update(about=first_text(d, "source")), "not to the component"),
        (lambda d: d["questions"][0].update(right=9), "has no single right choice"),
        (lambda d: d["questions"][0].update(choices=[d["questions"][0]["choices"][0]] * 2), "has no single right choice"),
        (lambda d: d["questions"][0].update(text=99999), "cannot be read"),
        (lambda d: [one.update(confirmed=True) for one in d["questions"]], "rests on something from memory"),
    ],
    ids=["question", "reason", "twice", "no such defect", "no defect", "link", "no right", "same choices", "no text", "memory"],
)  # fmt: skip
def test_one_change_is_objected_to(objections, bank, change, said):
    data = copy.deepcopy(bank)
    change(data)
    found = objections(data)
    assert any(said in line for line in found), found


def test_a_spoiled_bank_and_a_missing_page_are_objections(objections, shipped, anything, tmp_path):
    assert any("cannot be read" in line for line in objections("half of a fi"))
    (tmp_path / "practice.html").unlink()
    assert any("is missing" in str(one) for one in prove_practice(shipped, tmp_path, *BOOK, "site", anything))


@pytest.fixture(scope="module")
def sheets(shipped, tmp_path_factory):
    folder = tmp_path_factory.mktemp("walk")
    return {
        name: (read_pdf(render(shipped, *BOOK, folder / f"{name}.pdf").path), prove)
        for name, render, prove in (
            ("walk", render_walk_sheet, prove_walk_sheet), ("score", render_score_sheet, prove_score_sheet)
        )
    }  # fmt: skip


def with_step(catalogue: Catalogue, at: int, **facts) -> Catalogue:
    """The catalogue with a step of its first station changed: the finished sheets then say something else."""
    data = copy.deepcopy(catalogue)
    step = data.stations[0].steps[at]
    data.stations[0].steps[at] = step.model_copy(update=facts)
    return data


def proved(sheets, name, catalogue):
    reading, prove = sheets[name]
    return [str(one) for one in prove(catalogue, reading, f"{name}.pdf", *BOOK)]


@pytest.mark.parametrize("name", ["walk", "score"])
def test_untouched_sheets_are_proved(sheets, shipped, name):
    assert proved(sheets, name, shipped) == []


@pytest.mark.parametrize(
    "facts, names",
    [
        ({"say": {"en": "Hazard lamps are off."}}, ["walk", "score"]),
        ({"item": {"en": "Hazard lamps"}}, ["walk", "score"]),
        ({"do": {"en": "Turn off the hazard lamps."}}, ["walk"]),
        ({"good": {"en": "Nothing flashes."}}, ["walk"]),
        ({"caution": "rolling"}, ["walk"]),
        ({"weight": 5}, ["walk", "score"]),
        ({"must": None, "finds": []}, ["walk", "score"]),
    ],
    ids=["words", "item", "hand", "good", "hazard", "weight", "must"],
)
def test_a_changed_step_is_objected_to(sheets, shipped, facts, names):
    at = next(n for n, step in enumerate(shipped.stations[0].steps) if step.id == "make-safe-engine-off")
    for name in names:
        assert proved(sheets, name, with_step(shipped, at, **facts)), name


@pytest.mark.parametrize("name", ["walk", "score"])
def test_a_step_left_out_or_out_of_order_is_objected_to(sheets, shipped, name):
    data = copy.deepcopy(shipped)
    new = data.stations[1].steps[0].model_copy(update={"id": "one-more", "item": {"en": "One more"}})
    data.stations[1].steps.append(new)
    assert any("one-more" in line for line in proved(sheets, name, data))
    data = copy.deepcopy(shipped)
    data.stations[1].steps.reverse()
    assert any(data.stations[1].steps[0].id in line for line in proved(sheets, name, data))


def test_another_pass_mark_is_objected_to(sheets, shipped):
    data = copy.deepcopy(shipped)
    data.__dict__["marking"] = data.marking.model_copy(update={"pass_percent": 75})
    assert any("pass mark" in line for line in proved(sheets, "score", data))
