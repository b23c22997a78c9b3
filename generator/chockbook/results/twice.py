"""A student on a sheet stands in a file once."""

from __future__ import annotations

from collections.abc import Iterable

from ..faults import Fault
from .row import Answered


def without_second_rows(rows: Iterable[Answered]) -> tuple[list[Answered], list[Fault]]:
    """Rows without those that stand for one student and sheet more than once.

    Of equal rows the first is kept. Where they differ, which one is meant cannot be told, and all are left out.
    """
    groups: dict[tuple[str, str], list[Answered]] = {}
    for row in rows:
        groups.setdefault((row.sheet, row.student.casefold()), []).append(row)
    kept: list[Answered] = []
    faults: list[Fault] = []
    for first, *others in groups.values():
        same = all(row.letters == first.letters for row in others)
        if same:
            kept.append(first)
        for row in others if same else [first, *others] if others else []:
            other = first if row is not first else others[0]
            why = "the same answers count once" if same else "the answers differ, and which are meant cannot be told"
            faults.append(Fault(row.place, "second-row",
                                f"{row.student} on sheet {row.sheet} stands also on line {other.place.line}", why,
                                "keep one of the rows, or give the other student another alias"))  # fmt: skip
    return kept, faults
