"""How faults are shown to a person."""

from __future__ import annotations

from chockbook.faults import Fault, Place, shown


def test_of_many_warnings_of_one_kind_the_first_are_shown_and_the_others_counted():
    warnings = [Fault(Place("words.yaml", line), "gap", "what", "why", "mend", "warning") for line in range(1, 13)]
    wrong = Fault(Place("words.yaml", 99), "gap", "what", "why", "mend")
    lines = shown([*warnings, wrong])
    assert [line.split(":")[1] for line in lines[:-1]] == [*map(str, range(1, 11)), "99"]
    assert lines[-1] == "words.yaml: 2 more warnings [gap]; all of them: chockbook check --all"
