"""Every question of every rulebook and language has one right answer, by a walk over catalogue.json.

What is right is found from the printed words alone: the defect from its condition, the value from its digits.
Nothing of the generator takes part, and a question's own entry ids and marks are only compared with.
"""

from __future__ import annotations

import json
import re

import pytest
from plain_catalogue import find_defect, measured, passes, printed_bounds, rulings, words_of

from chockbook.drill import question_bank
from chockbook.exports import write_catalogue_json

BOOKS = [(rulebook, language) for rulebook in ("on-s1", "us-fmcsr", "qc-list-1") for language in ("en", "fr")]
LEAST = {"on-s1": 1800, "us-fmcsr": 1000, "qc-list-1": 1200}


@pytest.fixture(scope="module")
def data(shipped, tmp_path_factory):
    path = tmp_path_factory.mktemp("data") / "catalogue.json"
    write_catalogue_json(shipped, path)
    return json.loads(path.read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def banks(shipped):
    return {book: question_bank(shipped, *book, unconfirmed=True) for book in BOOKS}


def right_texts(data, book, question) -> set[str]:
    """Which of the choices are right, by the data alone."""
    return CHECKS[question.kind](data, *book, question)


def _book(data, rulebook):
    return next(one for one in data["rulebooks"] if one["id"] == rulebook)


def by_severity(data, rulebook, language, question):
    entry = find_defect(data, question.text, language)
    held = {ruling["severity"] for ruling in rulings(entry, rulebook, question.text, language)}
    return {s["name"][language] for s in _book(data, rulebook)["severities"] if s["id"] in held}


def by_action(data, rulebook, language, question):
    entry = find_defect(data, question.text, language)
    held = {action for ruling in rulings(entry, rulebook, question.text, language) for action in ruling["actions"]}
    return {a["text"][language] for a in _book(data, rulebook)["actions"] if a["id"] in held}


def _severities_of(data, rulebook, language, choice):
    entry = find_defect(data, choice.text, language)
    return [next(s for s in _book(data, rulebook)["severities"] if s["id"] == ruling["severity"])
            for ruling in rulings(entry, rulebook, None, language)]  # fmt: skip


def by_which(data, rulebook, language, question):
    asked = {s["id"] for s in _book(data, rulebook)["severities"]
             if re.search(r"\b" + re.escape(s["name"][language]) + r"\b", question.text)}  # fmt: skip
    assert len(asked) == 1, question.text
    return {choice.text for choice in question.choices
            if asked & {s["id"] for s in _severities_of(data, rulebook, language, choice)}}  # fmt: skip


def by_stops(data, rulebook, language, question):
    goes_on = "does not stop" in question.text or "n'interdit pas" in question.text
    return {choice.text for choice in question.choices
            if any((s["may_drive"] == "no") != goes_on
                   for s in _severities_of(data, rulebook, language, choice))}  # fmt: skip


def by_place(data, rulebook, language, question):
    entry = find_defect(data, question.text, language)
    covering = {item for r in rulings(entry, rulebook, None, language) for item in (r["item_id"], *r["also"])}
    schedules = _book(data, rulebook)["schedules"]
    named = [one for one in schedules if len(schedules) == 1 or one["name"][language] in question.text]
    return {part["title"][language] for schedule in named for part in schedule["parts"]
            if covering & {item["id"] for item in part["items"]}}  # fmt: skip


COLON = {"en": ": ", "fr": "\u00a0: "}


def _row(data, rulebook, language, question):
    found = [(limit, row) for limit in data["limits"] for row in limit["rows"] if row["rulebook"] == rulebook
             and question.text.endswith(f" {limit['quantity'][language]}{COLON[language]}{row['label'][language]}.")]  # fmt: skip
    assert len(found) == 1, question.text
    return found[0]


def by_figure(data, rulebook, language, question):
    _, row = _row(data, rulebook, language, question)
    return {choice.text for choice in question.choices if choice.text.endswith(row["printed"][language])
            and not re.search(r"[\d/ ]$", choice.text.removesuffix(row["printed"][language]).rstrip())}  # fmt: skip


def by_measured(data, rulebook, language, question):
    limit, row = _row(data, rulebook, language, question)
    said = re.search(r"(?:You find|Vous relevez) (.*?)\. (?:What|Qu')", question.text)[1]
    unit = re.search(r"[\d/.,]+[ \u00a0]?([^\d]*)$", said)[1]
    if passes(limit, printed_bounds(limit, row, unit), measured(said)):
        return {"It passes", "C'est conforme"}
    names = {s["id"]: s["name"][language] for s in _book(data, rulebook)["severities"]}
    severe = {names[r["severity"]] for entry in data["entries"] if limit["id"] in entry["limits"]
              for r in rulings(entry, rulebook, None, language)}  # fmt: skip
    fails = {choice.text for choice in question.choices if choice.text not in ("It passes", "C'est conforme")}
    if len(fails) == 1:
        return fails
    return {text for text in fails if any(text.endswith(f" {name}") for name in severe)}


def by_case(data, rulebook, language, question):
    severities = {s["id"]: s for s in _book(data, rulebook)["severities"]}
    order = list(severities)
    parts = re.split(r"\(\d\) ", question.text)[1:]
    held = []
    for part in parts:
        [severity] = {r["severity"] for r in rulings(find_defect(data, part, language), rulebook, part, language)}
        held.append(severity)
    worst = severities[max(held, key=order.index)]
    stopping = [str(n) for n, one in enumerate(held, 1) if severities[one]["may_drive"] == "no"]
    if not stopping:
        return {worst["outcome"][language]}
    # That a part of the findings that stop the vehicle stops it is true as well.
    because = f"{worst['outcome'][language]}, " + ("because of " if language == "en" else "à cause de ")
    return {choice.text for choice in question.choices if choice.text.startswith(because)
            and set(choice.text.removeprefix(because).split(", ")) <= set(stopping)}  # fmt: skip


CHECKS = {"severity": by_severity, "action": by_action, "which": by_which, "stops": by_stops, "place": by_place,
          "figure": by_figure, "measured": by_measured, "case": by_case}  # fmt: skip


def test_there_are_ten_thousand_questions(banks):
    assert sum(map(len, banks.values())) >= 10_000
    for (rulebook, _), bank in banks.items():
        assert len(bank) >= LEAST[rulebook]


@pytest.mark.parametrize("book", BOOKS, ids="-".join)
def test_each_question_has_exactly_one_right_answer(data, banks, book):
    wrong = []
    for question in banks[book]:
        offered = {choice.text for choice in question.choices}
        marked = {choice.text for choice in question.choices if choice.right}
        right = right_texts(data, book, question) & offered
        if len(marked) != 1 or right != marked or len(offered) != len(question.choices) or not 2 <= len(offered) <= 6:
            wrong.append((question.id, question.text, sorted(offered), marked, right))
    assert wrong == []


@pytest.mark.parametrize("book", BOOKS, ids="-".join)
def test_no_question_repeats_its_answer_in_its_wording(banks, book):
    for question in banks[book]:
        assert words_of(question.answer.text) not in words_of(question.text), question


@pytest.mark.parametrize("rulebook", sorted(LEAST))
def test_a_question_is_the_same_in_every_language(banks, rulebook):
    english, french = banks[rulebook, "en"], banks[rulebook, "fr"]
    assert [(q.id, q.kind, q.entry_ids, q.level, [c.right for c in q.choices]) for q in english] == [
        (q.id, q.kind, q.entry_ids, q.level, [c.right for c in q.choices]) for q in french
    ]
    assert len({q.id for q in english}) == len(english)


def test_what_is_from_memory_is_left_out_until_asked_for(shipped, banks):
    sure = question_bank(shipped, "on-s1", "en")
    every = banks["on-s1", "en"]
    assert 0 < len(sure) < len(every)
    assert [q.id for q in sure] == [q.id for q in every if q.confirmed]
    # Ontario's stroke limits are from memory: no sheet asks about them unasked.
    assert not any(q.entry_ids[0] == "brake-pushrod.stroke-over-limit" and q.kind == "measured" for q in sure)


def test_the_united_states_are_never_asked_for_what_is_left_to_the_driver(banks):
    for language in ("en", "fr"):
        assert not {"severity", "action", "which", "stops", "case"} & {q.kind for q in banks["us-fmcsr", language]}


@pytest.mark.parametrize("book", BOOKS, ids="-".join)
def test_no_choice_is_an_action_or_a_decision_of_another_rulebook(data, banks, book):
    own, language = _book(data, book[0]), book[1]
    actions = {action["text"][language] for action in own["actions"]}
    outcomes = tuple(severity["outcome"][language] for severity in own["severities"])
    strange = {choice.text for question in banks[book] for choice in question.choices
               if (question.kind == "action" and choice.text not in actions)
               or (question.kind == "case" and not choice.text.startswith(outcomes))}  # fmt: skip
    assert strange == set()


BRAKES = {"air-brakes", "hydraulic-brakes", "electric-brakes"}
HITCHES = {"pintle-hook", "ball-hitch"}


def places_of_case(data, question, language):
    """What is said to be found where: (place in words, equipment of the component) for each finding."""
    for part in re.split(r"\(\d\) ", question.text)[1:]:
        yield part.partition(",")[0], set(find_defect(data, part, language)["fitted"])


@pytest.mark.parametrize("rulebook", ["on-s1", "qc-list-1"])
def test_the_findings_of_a_case_can_be_met_on_one_vehicle(data, banks, rulebook):
    """A powered vehicle has air brakes or hydraulic ones, electric brakes are of a trailer behind hydraulic ones, and
    a truck pulls by one kind of coupling."""
    found = {}
    for question in (q for q in banks[rulebook, "en"] if q.kind == "case"):
        where = list(places_of_case(data, question, "en"))
        brakes = set().union(*(fitted for _, fitted in where)) & BRAKES
        assert brakes <= {"air-brakes"} or brakes <= {"hydraulic-brakes", "electric-brakes"}, question.text
        assert len(set().union(*(fitted for _, fitted in where)) & HITCHES) <= 1, question.text
        assert not any("hydraulic-brakes" in fitted and place != "Truck" for place, fitted in where), question.text
        assert not any(fitted & {"pintle-hook", "ball-hitch", "safety-chains"} and place == "Tractor" for place, fitted in where)
        for _, fitted in where:
            for kind in fitted:
                found[kind] = found.get(kind, 0) + 1
    assert {"air-brakes", "fifth-wheel", "pintle-hook", "safety-chains"} <= set(found)


def test_driving_and_repair_are_asked_for_as_the_rule_has_them(banks):
    """To stop for a minor defect, or to repair it at once, is never wrong: only as the rule it is."""
    for language, rule in (("en", "What is the rule on "), ("fr", "Quelle est la règle pour ")):
        asked = [q.text for q in banks["on-s1", language] if q.kind == "action"]
        assert len(asked) > 500
        assert all(rule in text for text in asked)
