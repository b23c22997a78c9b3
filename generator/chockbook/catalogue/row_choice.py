"""Choosing the row of a limit by its conditions. A row fits or it does not: nothing lies between two rows."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from .limit import LimitRecord, LimitRow

AUTHORITY = "authority"
"""The condition that says whose figure a row is. The rulebook in force answers it, so nobody is asked."""


@dataclass(frozen=True, slots=True)
class RowChoice:
    """The row that conditions lead to, or what stands in the way."""

    row: LimitRow | None
    own: tuple[LimitRow, ...]
    """Every row that is a figure of the rulebook in force."""
    others: tuple[LimitRow, ...]
    """Rows of other authorities that the conditions do not rule out."""
    asked: Mapping[str, tuple[str, ...]]
    """Conditions that are still to be answered, each with the answers that the table has."""
    outside: bool
    """Whether the conditions name something that the rulebook's table does not have."""


def own_rows(limit: LimitRecord, rulebook_id: str) -> tuple[LimitRow, ...]:
    """The rows of a limit that are the rulebook's own figures."""
    return tuple(row for row in limit.rows if row.rulebook == rulebook_id)


def conditions_of(row: LimitRow) -> dict[str, str]:
    """What has to hold for a row, without whose figure it is."""
    return {key: value for key, value in row.when.items() if key != AUTHORITY}


def choose_row(limit: LimitRecord, rulebook_id: str, conditions: Mapping[str, str]) -> RowChoice:
    """The row of the rulebook in force that fits conditions such as {"chamber": "30", "stroke": "long"}.

    A row fits where everything it asks for is answered so. Of several that fit, the one that asks for most is
    taken, since a narrower rule stands before a wider one.
    """
    own = own_rows(limit, rulebook_id)
    return choose_among(own, tuple(row for row in limit.rows if row not in own), conditions)


def choose_among(own: tuple[LimitRow, ...], beside: tuple[LimitRow, ...], conditions: Mapping[str, str]) -> RowChoice:
    """The one of some rows that fits the conditions; rows beside them are only told of, never chosen."""
    given = {key: _plain(value) for key, value in conditions.items() if value.strip()}
    open_rows = [row for row in own if _agrees(row, given)]
    others = tuple(row for row in beside if _agrees(row, given))
    fitting = [row for row in open_rows if set(conditions_of(row)) <= set(given)]
    most = max((len(conditions_of(row)) for row in fitting), default=0)
    narrowest = [row for row in fitting if len(conditions_of(row)) == most]
    if len(narrowest) == 1:
        return RowChoice(narrowest[0], own, others, {}, False)
    asked: dict[str, dict[str, None]] = {}
    for row in open_rows:
        for key, value in conditions_of(row).items():
            if key not in given:
                asked.setdefault(key, {})[value] = None
    return RowChoice(
        None, own, others, {key: tuple(found) for key, found in asked.items()}, bool(own) and not open_rows
    )


def _agrees(row: LimitRow, given: Mapping[str, str]) -> bool:
    return all(key not in given or given[key] == _plain(value) for key, value in conditions_of(row).items())


def _plain(value: str) -> str:
    return value.lower().replace(" ", "").removeprefix("type")
