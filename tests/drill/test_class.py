"""The sheets of a class: the same from the same seed, equally hard by the plan, and in no neighbour's order."""

from __future__ import annotations

from collections import Counter

import pytest
from projects import tiny_project

from chockbook.cli import main
from chockbook.drill.bank import question_bank
from chockbook.drill.keys import keys_of, read_keys, write_keys
from chockbook.drill.plan import TooFewQuestions
from chockbook.drill.sheets import Setting, make_sheets


@pytest.fixture(scope="module")
def made(shipped):
    return make_sheets(shipped, Setting("on-s1", "en", sheets=30, questions=20, seed="winter"))


def test_the_same_seed_gives_the_same_sheets_and_another_seed_others(shipped, made):
    assert make_sheets(shipped, made.setting) == made
    other = make_sheets(shipped, Setting("on-s1", "en", sheets=30, questions=20, seed="summer"))
    assert other.code != made.code
    assert [s.questions for s in other.sheets] != [s.questions for s in made.sheets]


def test_every_sheet_has_as_many_of_each_kind_and_level(made):
    counts = {tuple(sorted(Counter((q.kind, q.level) for q in sheet.questions).items())) for sheet in made.sheets}
    assert len(counts) == 1
    assert set(made.plan.kinds.values()) == {2, 3}  # 20 places among 8 kinds
    assert len(made.plan.kinds) == 8


def test_no_kind_can_be_answered_without_reading_it(made):
    """Every sheet has a minor and a major, a pass and a fail, driving and repairing: none more than two in three."""
    for sheet in made.sheets:
        for kind, most in (("severity", 2), ("action", 2), ("measured", 1)):
            answers = Counter(q.answer.text for q in sheet.questions if q.kind == kind)
            assert max(answers.values()) == most, (sheet.code, kind, answers)
        decisions = {q.severity_id for q in sheet.questions if q.kind == "case"}
        assert decisions == {"minor", "major"}


@pytest.mark.parametrize("book", ["us-fmcsr", "qc-list-1"])
def test_values_to_judge_pass_and_fail_under_every_rulebook(shipped, book):
    for sheet in make_sheets(shipped, Setting(book, "en", sheets=10, questions=20, seed="winter")).sheets:
        passes = [q.answer.text == "It passes" for q in sheet.questions if q.kind == "measured"]
        assert 0 < sum(passes) < len(passes)


def test_a_sheet_spreads_over_systems_and_severities_and_asks_once_about_a_defect(made):
    for sheet in made.sheets:
        systems = Counter(q.system_id for q in sheet.questions)
        severities = Counter(q.severity_id for q in sheet.questions if q.severity_id)
        assert len(systems) >= 12
        assert max(systems.values()) <= 4
        assert abs(severities["major"] - severities["minor"]) <= 4
        assert len({q.entry_ids[0] for q in sheet.questions}) == 20


def test_no_two_neighbours_have_a_question_in_one_place_or_its_choices_in_one_order(made):
    shared = 0
    for before, after in zip(made.sheets, made.sheets[1:], strict=False):
        places = {q.id: (n, q.choices) for n, q in enumerate(before.questions)}
        for n, question in enumerate(after.questions):
            if question.id in places:
                shared += 1
                assert places[question.id][0] != n
                assert places[question.id][1] != question.choices
    assert shared, "no neighbours share a question, so nothing was looked at"


def test_keys_are_read_as_they_were_written(made, tmp_path):
    write_keys(keys_of(made), tmp_path / "keys.json")
    keys = read_keys(tmp_path / "keys.json")
    assert keys == keys_of(made)
    assert "".join(one.answer for one in keys.sheets[made.sheets[0].code]) == made.sheets[0].letters


def test_more_weight_asks_more_about_a_system(shipped, made):
    def share(sheets):
        return sum(q.system_id == "horn" for s in sheets.sheets for q in s.questions)

    heavy = make_sheets(shipped, Setting("on-s1", "en", 30, 20, "winter", weights=(("horn", 4.0),)))
    assert share(heavy) > share(made)


def test_too_long_a_sheet_is_refused(shipped):
    with pytest.raises(TooFewQuestions):
        make_sheets(shipped, Setting("on-s1", "en", 1, 5000))


def test_the_command_says_when_too_few_questions_can_be_made(tmp_path, capsys):
    project = tiny_project(tmp_path)
    assert main(["--project", str(project), "drill", "--questions", "50"]) == 1
    assert "questions were asked for" in capsys.readouterr().err


def test_a_kind_that_there_is_not_is_a_wrong_use(tmp_path, capsys):
    project = tiny_project(tmp_path)
    assert main(["--project", str(project), "drill", "--kinds", "riddle"]) == 2
    assert "'riddle' is not a kind of question" in capsys.readouterr().err


@pytest.mark.parametrize("kind", ["severity", "action", "which", "stops", "case"])
def test_a_rulebook_that_leaves_the_decision_to_the_driver_has_none_to_ask_for(shipped, kind):
    # 49 CFR 396.13(a): the driver has to be satisfied that the vehicle is safe. To stop is never wrong.
    with pytest.raises(TooFewQuestions, match="0 can be made"):
        make_sheets(shipped, Setting("us-fmcsr", "en", questions=5, kinds=(kind,)))


def test_a_figure_that_only_divides_two_severities_never_makes_a_value_pass(shipped):
    # C-24.2, r. 32, List 1: a frame crack is major past its length and minor below it, and never fine.
    bank = question_bank(shipped, "qc-list-1", "en", kinds=("measured",), unconfirmed=True)
    cracks = [q for q in bank if any("crack" in shipped.entry[key].condition["en"].lower() for key in q.entry_ids)]
    assert cracks
    assert [q.id for q in cracks if q.answer.text == "It passes"] == []


def test_what_to_do_cannot_be_ticked_unread(made):
    """By the Act a driver stops for what is major and goes on, once it is reported, with what is minor: a class is
    asked both, or every such question could be answered without reading it."""
    asked = [q for sheet in made.sheets for q in sheet.questions if q.kind == "action"]
    drive = Counter(q.severity_id for q in asked if q.text.startswith("Ontario Schedule 1. What is the rule on driving?"))
    assert drive["major"] >= 15
    assert drive["minor"] >= 15


def test_a_lesson_on_one_system_is_drilled_by_itself(shipped):
    setting = Setting("on-s1", "en", sheets=12, questions=20, seed="air", systems=("air-brakes",))
    made = make_sheets(shipped, setting)
    for sheet in made.sheets:
        assert {shipped.entry[entry].system.id for q in sheet.questions for entry in q.entry_ids} == {"air-brakes"}
        assert len({q.id for q in sheet.questions}) == 20
    assert make_sheets(shipped, setting) == made


def test_the_command_names_the_systems_when_one_is_not_known(tmp_path, capsys):
    project = tiny_project(tmp_path)
    assert main(["--project", str(project), "drill", "--systems", "bananas"]) == 2
    assert "'bananas'; the systems are" in capsys.readouterr().err
