"""What changes for a defect from one rulebook to another."""

from __future__ import annotations

from fractions import Fraction
from typing import Literal

from ..catalogue import Entry, LimitRecord, LimitRow
from ..catalogue.measure import bounds_of, systems_of
from ..catalogue.row_choice import own_rows

News = Literal[
    "forbidden-there",
    "stricter-there",
    "only-there",
    "other-figure",
    "other-deadline",
    "milder-there",
    "only-here",
    "same",
]
NEWS: tuple[News, ...] = (
    "forbidden-there",
    "stricter-there",
    "only-there",
    "other-figure",
    "other-deadline",
    "milder-there",
    "only-here",
    "same",
)
"""What can change at the border, worst first."""
STRICT = ("yes", "once-reported", "if-safe", "no")
"""What a severity lets a driver do, mildest first."""


def news_of(entry: Entry, here_id: str, there_id: str) -> tuple[News, ...]:
    """What changes for a defect from one rulebook to another, worst first; empty where neither speaks of it."""
    here, there = entry.rulings_under(here_id), entry.rulings_under(there_id)
    if not here and not there:
        return ()
    if not here:
        return ("only-there",)
    if not there:
        return ("only-here",)
    found: set[News] = set()
    ours, theirs = here[0].severity, there[0].severity
    change = STRICT.index(theirs.may_drive) - STRICT.index(ours.may_drive)
    if change > 0:
        found.add("forbidden-there" if theirs.may_drive == "no" else "stricter-there")
    elif change < 0:
        found.add("milder-there")
    if ours.deadline != theirs.deadline:
        found.add("other-deadline")
    if any(figures_differ(limit, here_id, there_id) for limit in entry.limits):
        found.add("other-figure")
    return tuple(news for news in NEWS if news in found) or ("same",)


def figures_differ(limit: LimitRecord, here_id: str, there_id: str) -> bool:
    """Whether the other rulebook has figures of its own that are not those of the first.

    Figures are held against each other in a unit system that both sources print; where there is none, exactly.
    """
    here, there = own_rows(limit, here_id), own_rows(limit, there_id)
    if not there:
        return False
    if not here:
        return True
    agreeing = []
    for system in systems_of(limit):
        if all(not bounds_of(limit, row, system).low.converted for row in (*here, *there)):
            agreeing.append(_values(limit, here, system) == _values(limit, there, system))
    if agreeing:
        return not any(agreeing)
    system = systems_of(limit)[0]
    return _values(limit, here, system) != _values(limit, there, system)


def _values(limit: LimitRecord, rows: tuple[LimitRow, ...], system) -> set[tuple[Fraction, ...]]:
    bounds = [bounds_of(limit, row, system) for row in rows]
    return {tuple(end.in_base for end in (one.low, one.high) if end) for one in bounds}
