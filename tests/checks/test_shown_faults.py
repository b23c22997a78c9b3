"""How faults are shown to a person."""

from __future__ import annotations

from chockbook.faults import Fault, Place, shown


def _warnings(lines: range, rule: str = "gap") -> list[Fault]:
    return [Fault(Place("words.yaml", line), rule, "what", "why", "mend", "warning") for line in lines]


def test_of_many_warnings_of_one_kind_the_first_is_shown_and_the_lines_of_the_others_named():
    first, folded = shown(_warnings(range(1, 6)))
    assert first.startswith("words.yaml:1:1: warning[gap]")
    assert folded == "words.yaml: 4 more warnings [gap], on lines 2, 3, 4, 5; each whole: chockbook check --all"


def test_of_thousands_of_warnings_some_lines_are_named():
    assert "2999 more warnings [gap], on lines 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, …; each" in shown(_warnings(range(1, 3001)))[1]


def test_a_few_warnings_of_each_kind_are_shown_whole():
    assert len(shown([*_warnings(range(1, 4)), *_warnings(range(1, 4), "style")])) == 6


def test_errors_come_last_and_whole():
    wrong = [Fault(Place("carriers/a.yaml", line), "gap", "what", "why", "mend") for line in range(1, 6)]
    lines = shown([*wrong, *_warnings(range(1, 3))])
    assert [line.split(": ")[1] for line in lines] == ["warning[gap]"] * 2 + ["error[gap]"] * 5
