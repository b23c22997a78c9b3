"""The report is one page that says what was counted, and its plots stand where the figures put them."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pdfplumber
import pikepdf
import pytest
from hand_made import HEAD, KEYS, ONE, SHEETS, TWO, asked
from hypothesis import given, settings
from hypothesis import strategies as st
from simulated import Simulated

from chockbook.drill.keys import keys_of
from chockbook.drill.sheets import Setting, make_sheets
from chockbook.printing import render_results
from chockbook.printing.plot_labels import LABEL_HEIGHT, axis_of, placed_labels
from chockbook.results import class_results
from chockbook.results.read import answers_in
from chockbook.views.results import view_results
from chockbook.views.results_lines import results_lines

MM = 72 / 25.4
WHITE_EDGE = 6.35 * MM
"""A quarter of an inch, the margin that office printers commonly leave white."""


@pytest.fixture(scope="module")
def keys(shipped):
    return keys_of(make_sheets(shipped, Setting("on-s1", "en", sheets=30, questions=20, seed="winter")))


@pytest.fixture(scope="module")
def of_one_sheet(keys):
    """Sixty students with the same sheet: every question has a discrimination."""
    simulated = Simulated(keys, [next(iter(keys.sheets))] * 60, 31)
    return class_results(answers_in(simulated.file, "a.csv", keys.sheets), [keys])


@pytest.fixture(scope="module")
def of_thirty_sheets(keys):
    return class_results(answers_in(Simulated(keys, list(keys.sheets), 32).file, "a.csv", keys.sheets), [keys])


def report(shipped, results, keys, path: Path, language: str = "en"):
    view = view_results(shipped, results, [keys], language)
    made = render_results(shipped, view, "on-s1", language, results.classes, path)
    with pdfplumber.open(path) as pdf:
        assert len(pdf.pages) == made.pages
        [page] = pdf.pages  # one page, whatever there is to say
        page.chars, page.curves, page.rects  # noqa: B018 - read while the file is open
        return view, page


def flat(text: str) -> str:
    return "".join(text.split())


@pytest.mark.parametrize("language", ["en", "fr"])
@pytest.mark.parametrize("which", ["of_one_sheet", "of_thirty_sheets"])
def test_it_is_one_page_of_readable_type_that_keeps_from_the_edges(shipped, keys, request, tmp_path, which, language):
    view, page = report(shipped, request.getfixturevalue(which), keys, tmp_path / "r.pdf", language)
    assert min(char["size"] for char in page.chars) > 9.99
    ink = [char for char in page.chars if char["text"].strip()]
    assert min(char["x0"] for char in ink) > WHITE_EDGE
    assert max(char["x1"] for char in ink) < page.width - WHITE_EDGE
    assert max(char["bottom"] for char in ink) < page.height - WHITE_EDGE
    text = flat("".join(char["text"] for char in page.chars))
    for said in (view.about, *view.head, view.next_says, view.plot_says, view.questions[0].text, view.pairs[0].says,
                 shipped.words["aid-line"][language], shipped.words["caution-short"][language],
                 *(one.name for one in view.systems), *(one.counted for one in view.systems)):  # fmt: skip
        assert flat(said) in text
    assert "S0001" not in text  # no student stands on it


def test_points_stand_at_their_figures_and_the_axes_say_so(shipped, keys, of_one_sheet, tmp_path):
    _, page = report(shipped, of_one_sheet, keys, tmp_path / "r.pdf")
    circles = [one for one in page.curves if abs(one["width"] - 1.8 * MM) < 0.1 and abs(one["height"] - 1.8 * MM) < 0.1]
    expected = [(item.difficulty, item.point_biserial) for item in of_one_sheet.items]
    assert len(circles) == len(expected) == 20
    across = np.sort([(one["x0"] + one["x1"]) / 2 for one in circles])
    up = np.sort([-(one["top"] + one["bottom"]) / 2 for one in circles])
    shares, discriminations = np.sort(np.array(expected).T)
    for found, figures in ((across, shares), (up, discriminations)):
        slope, start = np.polyfit(figures, found, 1)
        assert slope > 0
        assert np.abs(found - (slope * figures + start)).max() < 0.1  # points
    slope, start = np.polyfit(shares, across, 1)
    left_column = page.crop((0, 0, page.width * 0.45, page.height))
    ticks = [word for word in left_column.extract_words() if word["text"] in ("40", "60", "80")]
    low = max(word["top"] for word in ticks)
    ticks = [word for word in ticks if abs(word["top"] - low) < 1]
    assert len(ticks) >= 2
    for word in ticks:
        assert (word["x0"] + word["x1"]) / 2 == pytest.approx(slope * int(word["text"]) / 100 + start, abs=0.6)


def test_bars_are_as_long_as_their_shares(shipped, keys, of_thirty_sheets, tmp_path):
    view, page = report(shipped, of_thirty_sheets, keys, tmp_path / "r.pdf")
    bars = [one for one in page.rects if abs(one["height"] - 3 * MM) < 0.1 and one["fill"] and one["width"] > 1]
    filled = sorted(one["width"] / (14 * MM) for one in bars if one["non_stroking_color"] not in (None, (1,), 1))
    assert len(filled) == len(view.systems)
    assert filled == pytest.approx(sorted(one.share for one in view.systems), abs=0.005)


def test_the_plot_is_told_to_those_who_cannot_see_it(shipped, keys, of_one_sheet, tmp_path):
    view, _ = report(shipped, of_one_sheet, keys, tmp_path / "r.pdf")
    with pikepdf.open(tmp_path / "r.pdf") as pdf:
        told = [str(one["/Alt"]) for one in pdf.objects if isinstance(one, pikepdf.Dictionary) and "/Alt" in one]
    assert f"Right against discrimination. {view.plot_says}" in told


def test_the_same_class_gives_the_same_bytes(shipped, keys, of_thirty_sheets, tmp_path):
    for name in ("a.pdf", "b.pdf"):
        report(shipped, of_thirty_sheets, keys, tmp_path / name)
    assert (tmp_path / "a.pdf").read_bytes() == (tmp_path / "b.pdf").read_bytes()


@pytest.mark.parametrize("letters", ["ABCAB", "....."])
def test_a_single_student_gives_a_report(shipped, tmp_path, letters):
    results = class_results(answers_in((HEAD + f"{ONE},Otter,{letters}\n").encode(), "a.csv", SHEETS), [KEYS])
    view, _ = report(shipped, results, KEYS, tmp_path / "r.pdf")
    assert view.points == ()


def test_very_long_questions_leave_the_report_at_one_page(shipped, tmp_path):
    long = {code: tuple(replace(one, text=one.text + " more" * 600) for one in asked) for code, asked in SHEETS.items()}
    rows = (HEAD + f"{ONE},Otter,BACBA\n{TWO},Wren,ABBBA\n").encode()
    results = class_results(answers_in(rows, "a.csv", long), [replace(KEYS, sheets=long)])
    report(shipped, results, KEYS, tmp_path / "r.pdf")


@pytest.mark.parametrize(
    ("values", "ticks"),
    [
        ([0.42, 0.97], (0.4, 0.6, 0.8, 1.0)),
        ([0.5], (0.5, 0.55)),
        ([1.0], (0.95, 1.0)),
        ([0.0, 1.0], (0.0, 0.2, 0.4, 0.6, 0.8, 1.0)),
        ([], (0.0, 0.2, 0.4, 0.6, 0.8, 1.0)),
    ],
)
def test_axes_end_at_ticks_that_are_easy_to_read(values, ticks):
    assert axis_of(values, 0.0, 1.0).ticks == pytest.approx(ticks)


@settings(max_examples=150, deadline=None)
@given(st.lists(st.floats(-1, 1), max_size=30))
def test_an_axis_holds_all_its_values(values):
    axis = axis_of(values, -1.0, 1.0)
    assert 2 <= len(axis.ticks) <= 6
    assert -1 <= axis.ticks[0] < axis.ticks[-1] <= 1
    assert all(-1e-9 <= axis.at(value) <= 1 + 1e-9 for value in values)


@settings(max_examples=100, deadline=None)
@given(st.lists(st.tuples(st.integers(0, 62), st.integers(0, 52)), max_size=22))
def test_numbers_lie_inside_the_plot_and_none_is_lost(places):
    points = [{"x": float(x), "y": float(y), "number": n} for n, (x, y) in enumerate(places, 1)]
    labels = placed_labels(points, 62.0, 52.0)
    told = [int(number) for label in labels for number in label["text"].split(", ")]
    assert sorted(told) == list(range(1, len(places) + 1))
    for label in labels:
        assert label["y"] >= -0.01
        assert label["y"] + LABEL_HEIGHT <= 52.01
        assert label["x"] + label["width"] <= 62.01


def test_numbers_of_a_crowd_do_not_lie_on_each_other():
    points = [{"x": 30 + 1.5 * (n % 4), "y": 25 + 1.5 * (n // 4), "number": n + 1} for n in range(12)]
    labels = placed_labels(points, 62.0, 52.0)
    assert len(labels) == 12
    for n, one in enumerate(labels):
        for other in labels[n + 1 :]:
            apart = abs(one["x"] - other["x"]) >= min(one["width"], other["width"]) - 0.01
            assert apart or abs(one["y"] - other["y"]) >= LABEL_HEIGHT - 0.01


def on_page(words, text):
    """Where on the page, in points from its top, a text of several words begins."""
    wanted = text.split()
    said = [word["text"] for word in words]
    [at] = [n for n in range(len(said)) if said[n : n + len(wanted)] == wanted][:1]
    return words[at]["top"]


def test_it_says_what_to_teach_first_before_anything_else(shipped, keys, tmp_path):
    simulated = Simulated(keys, list(keys.sheets), 33, missed=("tires", "coupling"))
    results = class_results(answers_in(simulated.file, "a.csv", keys.sheets), [keys])
    path = tmp_path / "r.pdf"
    view, _ = report(shipped, results, keys, path)
    assert view.teach[0].startswith("Teach first: ")
    for name in ("Coupling devices", "Tires"):  # those that the simulated class does not know
        assert name in view.teach[0]
    with pdfplumber.open(path) as pdf:
        words = pdf.pages[0].extract_words()
    first = on_page(words, "Teach first:")
    assert first < on_page(words, "Right against discrimination")
    assert first < on_page(words, "Right, by system")
    assert first < 100, "in the first lines of the page"


def seen(shipped, rows):
    """What is shown of the class made by hand: a row is a sheet, an alias and letters."""
    text = HEAD + "".join(f"{','.join(row)}\n" for row in rows)
    return view_results(shipped, class_results(answers_in(text.encode(), "a.csv", SHEETS), [KEYS]), [KEYS], "en")


def students(number, sheet, letters, name="S"):
    return [(sheet, f"{name}{n}", letters) for n in range(number)]


def test_it_names_no_system_where_none_stands_out(shipped):
    """Ten students miss question e, of tires, and nine of them question b, of the horn: 10 of 30, and 9 of 20."""
    told = seen(shipped, [*students(9, ONE, "AACAA"), (ONE, "Wren", "ABCAA")]).teach[0]
    assert told == "Teach first: the questions missed most. No system was missed clearly more than the others."


def test_it_says_so_where_nobody_missed_a_question(shipped):
    view = seen(shipped, students(4, ONE, "ABCAB"))
    assert view.teach == ("Nobody missed a question.",)
    assert view.questions == ()
    assert "  Nobody missed a question." in list(results_lines(shipped, view, "en"))


def test_a_system_is_not_named_for_few_answers_or_a_tick_or_two(shipped):
    # The horn is asked twice on a sheet: four students give eight answers, all of them wrong.
    few = seen(shipped, students(4, ONE, "BACAB"))
    assert "Horn" not in few.teach[0]
    # Two wrong of twenty, where all else is right, and three.
    two = seen(shipped, students(8, ONE, "ABCAB") + students(2, ONE, "BBCAB", "W"))
    assert "Horn" not in two.teach[0]
    three = seen(shipped, students(7, ONE, "ABCAB") + students(3, ONE, "BBCAB", "W"))
    assert three.teach[0] == "Teach first: Horn (17 of 20 right)."


def test_two_students_give_too_few_answers_to_name_a_system(shipped):
    told = seen(shipped, students(2, ONE, "BACAB")).teach[0]
    assert told == "Teach first: the questions missed most. No system has 10 answers: too few to name one."


def test_systems_that_are_missed_as_often_as_the_last_one_named_are_counted(shipped):
    """Five systems with a question each, missed by every one of ten students, and five that all know."""
    names = ["tires", "horn", "steering", "exhaust", "coupling", "fuel", "suspension", "cab-doors", "load", "air-brakes"]
    sheet = tuple(asked(name, name, ("Minor", "Major"), "A") for name in names)
    keys = replace(KEYS, sheets={ONE: sheet})
    rows = HEAD + "".join(f"{ONE},S{n},BBBBBAAAAA\n" for n in range(10))
    results = class_results(answers_in(rows.encode(), "a.csv", keys.sheets), [keys])
    told = view_results(shipped, results, [keys], "en").teach[0]
    assert told.count("(0 of 10 right)") == 3
    assert told.endswith(" and 2 more missed as often.")


def test_a_question_that_nobody_missed_is_not_among_those_missed_most(shipped):
    view = seen(shipped, [(ONE, "Otter", "ABCAB"), (TWO, "Wren", "BCBAB"), (ONE, "Heron", "ABCAB")])
    assert [(one.text, one.counted) for one in view.questions] == [("Question b?", "2 of 3")]


def test_a_reliability_is_told_from_twenty_sheets_on_and_why_not_below(shipped):
    rows = [(ONE, "Otter", "ABCAB"), (ONE, "Wren", "AACBB"), (TWO, "Heron", "BCAAB"), (TWO, "Vole", "A.BCA")]
    many = [(sheet, f"{name}{n}", letters) for n in range(5) for sheet, name, letters in rows]
    few = seen(shipped, many[:19]).head[-1]
    assert few == "Reliability of the scores: not told below 20 sheets, where chance decides it."
    assert seen(shipped, many).head[-1] == "Reliability of the scores, KR-20 over 5 questions: 0.93."
    alike = seen(shipped, students(20, ONE, "ABCAB")).head[-1]
    assert alike.startswith("Reliability of the scores: not told. All scores are alike")


@pytest.mark.parametrize("language", ["en", "fr"])
def test_a_class_too_small_for_a_discrimination_has_no_empty_plot(shipped, tmp_path, language):
    rows = (HEAD + f"{ONE},Otter,AACAB\n{TWO},Wren,BCAAB\n").encode()
    results = class_results(answers_in(rows, "a.csv", SHEETS), [KEYS])
    view, page = report(shipped, results, KEYS, tmp_path / "r.pdf", language)
    text = flat("".join(char["text"] for char in page.chars))
    assert flat(shipped.words["results-plot"][language]) not in text
    assert flat(view.plot_says) in text
    assert all(flat(one.name) in text for one in view.systems)
    with pikepdf.open(tmp_path / "r.pdf") as pdf:
        assert not [one for one in pdf.objects if isinstance(one, pikepdf.Dictionary) and "/Alt" in one]


def test_the_worst_severity_and_the_pair_most_taken_for_each_other_are_said_in_words(shipped):
    # By hand: ten students answer sheet 1 (right: ABCAB). All tick A, not B, at question b, which is major: "Minor"
    # instead of "Major", 10 times. Of major answers 0 of 10 are right, of minor ones (a and e) 20 of 20.
    rows = (HEAD + "".join(f"{ONE},S{n},AACAB\n" for n in range(10))).encode()
    results = class_results(answers_in(rows, "a.csv", SHEETS), [KEYS])
    told = view_results(shipped, results, [KEYS], "en").teach
    assert "Severity: Major was known least, 0 of 10 right; Minor, 20 of 20." in told
    # a, b and e each offer both answers to ten students: 30 times.
    assert "Taken for each other most: “Minor” was ticked instead of “Major”, 10 times of 30." in told
    # Of nine students the severity has nine answers, too few to be named.
    assert not any("Severity" in line for line in seen(shipped, students(9, ONE, "AACAB")).teach)


def test_no_pair_is_named_where_another_was_taken_for_each_other_as_often(shipped):
    # All tick A at c ("10 mm" for "16 mm") and B at d ("2 mm" for "3 mm"): each pair five times of five.
    told = seen(shipped, students(5, ONE, "ABABB")).teach
    assert not any("Taken for each other" in line for line in told)


def test_two_answers_taken_for_each_other_both_ways_are_named_once(shipped):
    # Sheet 1: Major is right at b, Minor at a. Two students tick Minor at b, one ticks Major at a.
    pairs = seen(shipped, [(ONE, "Otter", "AACAB"), (ONE, "Wren", "AACAB"), (ONE, "Heron", "BBCAB")]).pairs
    assert [one.says for one in pairs] == ["severity: “Minor” instead of “Major” (2 ×). The other way round: 1 ×."]


@pytest.mark.parametrize("language", ["en", "fr"])
def test_a_question_is_shown_without_the_rulebook_in_either_language(shipped, language):
    sheets = {ONE: tuple(replace(one, text=f"Ontario Schedule 1. {one.text}") for one in SHEETS[ONE])}
    results = class_results(answers_in((HEAD + f"{ONE},Otter,BBCAB\n").encode(), "a.csv", sheets), [replace(KEYS, sheets=sheets)])
    [question] = view_results(shipped, results, [KEYS], language).questions
    assert question.text == {"en": "Question a?", "fr": "[en] Question a?"}[language]


@pytest.mark.parametrize("language", ["en", "fr"])
def test_the_terminal_says_it_before_the_students(shipped, keys, of_thirty_sheets, language):
    view = view_results(shipped, of_thirty_sheets, [keys], language)
    lines = "\n".join(results_lines(shipped, view, language))
    assert flat(lines).index(flat(view.teach[0])) < flat(lines).index(flat(view.head[0]))
