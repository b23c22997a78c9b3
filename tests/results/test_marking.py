"""A class of four, marked and counted by hand.

Otter and Wren have sheet 01, Heron and Vole sheet 02. Wrong are: Wren b (Minor for Major) and d (2 mm for 3 mm);
Vole e and a (Major for Minor), b (Minor for Major), c (13 mm for 16 mm), and d, which is blank.
"""

from __future__ import annotations

import pytest
from hand_made import HEAD, KEYS, ONE, SHEETS, TWO

from chockbook.results import class_results
from chockbook.results.class_results import as_data
from chockbook.results.item_analysis import FEWEST
from chockbook.results.read import answers_in

FILE = HEAD + f"{ONE},Otter,ABCAB\n{ONE},Wren,AACBB\n{TWO},Heron,BCAAB\n{TWO},Vole,A.BCA\n"


def of(text: str):
    return class_results(answers_in(text.encode(), "a.csv", SHEETS), [KEYS])


@pytest.fixture(scope="module")
def found():
    return of(FILE)


def test_each_sheet_is_marked_by_its_own_key(found):
    assert [(one.student, one.right, one.blank, one.share) for one in found.sheets] == [
        ("Otter", 5, 0, 1.0), ("Wren", 3, 0, 0.6), ("Heron", 5, 0, 1.0), ("Vole", 0, 1, 0.0),
    ]  # fmt: skip
    assert (found.mean, found.blanks, found.left_out) == (pytest.approx(0.65), 1, 0)


def test_a_question_is_known_by_its_id_and_not_by_its_number(found):
    counted = {item.asked.question_id: (item.students, item.right, item.blank, item.difficulty) for item in found.items}
    assert counted == {
        "severity-a": (4, 3, 0, 0.75), "severity-b": (4, 2, 0, 0.5), "figure-c": (4, 3, 0, 0.75),
        "figure-d": (4, 2, 1, 0.5), "severity-e": (4, 3, 0, 0.75),
    }  # fmt: skip
    wrong = {item.asked.question_id: item.wrong for item in found.items}
    assert wrong["severity-b"] == (("Minor", 2),)
    assert wrong["figure-d"] == (("2 mm", 1),)  # the blank is wrong, and ticked nothing


def test_few_students_give_no_discrimination(found):
    assert len(found.sheets) < FEWEST
    assert {item.point_biserial for item in found.items} == {item.upper_lower for item in found.items} == {None}


@pytest.mark.parametrize(
    ("group", "expected"),
    [
        ("systems", {"horn": (8, 5), "tires": (12, 8)}),
        ("severities", {"minor": (8, 6), "major": (4, 2)}),
        ("kinds", {"severity": (12, 8), "figure": (8, 5)}),
        ("levels", {"2": (20, 13)}),
    ],
)
def test_shares_are_of_all_answers_of_a_group(found, group, expected):
    assert {one.id: (one.asked, one.right) for one in found.shares[group]} == expected
    assert [one.share for one in found.shares[group]] == sorted(right / asked for asked, right in expected.values())


def test_what_was_taken_for_what(found):
    told = [(c.kind, c.one, c.other, c.other_for_one, c.one_for_other, c.offered, c.systems) for c in found.confusions]
    assert told == [
        ("severity", "Major", "Minor", 2, 2, 12, (("horn", 3), ("tires", 1))),
        ("figure", "16 mm", "13 mm", 1, 0, 4, (("tires", 1),)),
        ("figure", "3 mm", "2 mm", 1, 0, 4, (("tires", 1),)),
    ]


def test_kr20_by_hand(found):
    # sum of p q = 3 * 0.1875 + 2 * 0.25 = 1.0625; variance of 5, 3, 5, 0 = 4.1875; 5/4 * (1 - 1.0625 / 4.1875)
    # Variances divided by n are the same of the four students and of five such fours.
    assert found.reliability is None, "four are too few"
    rows = FILE.splitlines()[1:]
    found = of(HEAD + "".join(f"{row.replace(',', f',{n} ', 1)}\n" for n in range(5) for row in rows))
    assert found.reliability.formula == "kr20"
    assert found.reliability.parts == 5
    assert found.reliability.value == pytest.approx(0.932836, abs=1e-6)


def test_weights_by_hand(found):
    # wrong: 7 of 20 = 0.35. horn: (3 + 5 * 0.35) / (8 + 5) / 0.35; tires: (4 + 5 * 0.35) / (12 + 5) / 0.35
    assert found.weights == {"horn": 1.04, "tires": 0.97}


def test_the_data_hold_what_was_counted(found):
    data = as_data(found)
    assert data["classes"] == ["abc123"]
    assert data["marked"] == 4
    assert data["students"][1] == {"sheet": ONE, "student": "Wren", "right": 3, "of": 5, "blank": 0, "share": 0.6}
    assert [fault["rule"] for fault in data["faults"]] == ["blank-answer"]


def test_all_right_and_all_wrong_give_no_reliability_and_even_weights():
    right = of(HEAD + f"{ONE},Otter,ABCAB\n{TWO},Heron,BCAAB\n")
    assert right.reliability is None
    assert set(right.weights.values()) == {1.0}
    assert right.confusions == ()
    wrong = of(HEAD + f"{ONE},Otter,.....\n{TWO},Heron,.....\n")
    assert wrong.mean == 0
    assert set(wrong.weights.values()) == {1.0}


def test_a_file_without_a_good_row_gives_an_empty_result():
    data = as_data(of(""))
    assert (data["marked"], data["mean"], data["reliability"], data["questions"]) == (0, None, None, [])
