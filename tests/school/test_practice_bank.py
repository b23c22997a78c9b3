"""The questions of the practice page: how many, how spread, in which order, and the same in every language."""

from __future__ import annotations

import json
from collections import Counter

import pytest

from chockbook.drill import question_bank
from chockbook.drill.practice_bank import practice_questions, taking_turns
from chockbook.pages.practice import AFTER, BEFORE, bank_data, write_bank


@pytest.fixture(scope="module")
def questions(shipped):
    return practice_questions(shipped, "on-s1", "en")


def test_there_are_so_many_and_most_are_confirmed(questions):
    assert len(questions) == 600
    assert sum(one.confirmed for one in questions) == 450
    assert all(one.confirmed for one in questions[:450]), "what is from memory comes last"
    assert len({one.id for one in questions}) == 600


def test_every_question_is_one_of_the_bank(shipped, questions):
    bank = {one.id: one for one in question_bank(shipped, "on-s1", "en", unconfirmed=True)}
    assert all(bank[one.id] == one for one in questions)


def test_kinds_and_systems_take_turns(questions):
    kinds = len({one.kind for one in questions})
    assert len({one.kind for one in questions[:kinds]}) == kinds == 8
    severity = [one for one in questions if one.kind == "severity" and one.confirmed]
    systems = len({one.system_id for one in severity})
    assert systems >= 15
    assert len({one.system_id for one in severity[:systems]}) == systems


def test_no_kind_is_asked_much_more_than_another_while_all_last(questions):
    counts = Counter(one.kind for one in questions[:40])
    assert set(counts.values()) == {5}


def test_a_page_may_ask_for_fewer(shipped, questions):
    few = practice_questions(shipped, "on-s1", "en", most=40)
    assert len(few) == 40
    assert [one.id for one in few[:30]] == [one.id for one in questions[:30]]


def test_both_languages_ask_the_same_in_the_same_order(shipped, questions):
    assert [one.id for one in practice_questions(shipped, "on-s1", "fr")] == [one.id for one in questions]


def test_taking_turns_loses_nothing(questions):
    assert sorted(one.id for one in taking_turns(reversed(questions))) == sorted(one.id for one in questions)
    assert taking_turns([]) == []


def test_the_file_holds_each_text_once_and_the_same_bytes_every_time(shipped, questions, tmp_path):
    one, two = (write_bank(shipped, "on-s1", "en", tmp_path / name).read_bytes() for name in ("one", "two"))
    assert one == two
    text = one.decode("utf-8")
    assert text.startswith(BEFORE)
    assert text.endswith(AFTER)
    data = json.loads(text[len(BEFORE) : -len(AFTER)])
    assert len(set(data["texts"])) == len(data["texts"])
    told = [(q["id"], data["texts"][q["text"]], data["texts"][q["choices"][q["right"]]]) for q in data["questions"]]
    assert told == [(one.id, one.text, one.answer.text) for one in questions]
    assert bank_data(shipped, "on-s1", "en") == data
