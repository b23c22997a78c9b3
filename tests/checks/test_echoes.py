"""Faults that only follow from another one are left out, and never all of those that explain each other."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from chockbook.faults import Fault, Place, errors, without_echoes

NAMES = "abcde"


def fault(number: int, subject: str = "", touches: tuple[str, ...] = (), level: str = "error") -> Fault:
    return Fault(Place("t.yaml", number), "rule", f"fault {number}", "why", "mend", level, subject, touches)


@st.composite
def many(draw: st.DrawFn) -> list[Fault]:
    drawn = draw(st.lists(st.tuples(st.sampled_from(["", *NAMES]), st.lists(st.sampled_from(NAMES), max_size=2),
                                    st.sampled_from(["error", "warning"])), max_size=8))  # fmt: skip
    return [fault(number, subject, tuple(touches), level) for number, (subject, touches, level) in enumerate(drawn, 1)]


@given(many())
def test_an_error_never_goes_unless_an_error_that_explains_it_was_there(faults):
    kept = without_echoes(faults)
    touched = {name for one in errors(faults) for name in one.touches}
    assert [one for one in faults if one not in kept and one.subject not in touched] == []
    assert bool(errors(kept)) == bool(errors(faults))


def test_a_fault_that_follows_from_another_is_left_out():
    slip, follows, further = fault(1, "a", ("b",)), fault(2, "b", ("c",)), fault(3, "c")
    assert without_echoes([further, slip, follows]) == [slip]


def test_where_two_explain_each_other_both_stay_without_what_follows_from_them():
    one, other, follows = fault(1, "a", ("b",)), fault(2, "b", ("a",)), fault(3, "b")
    assert without_echoes([follows, one, other]) == [one, other]


def test_a_warning_explains_no_error():
    warned, wrong = fault(1, "", ("a",), "warning"), fault(2, "a")
    assert without_echoes([warned, wrong]) == [warned, wrong]
