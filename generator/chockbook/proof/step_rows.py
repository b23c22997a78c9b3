"""Which figures of a rulebook hold at a step of the route, worked out once more for the proof."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from ..catalogue import Catalogue, LimitRow, StepRecord

MOST_FIGURES = 2
"""Figures that a row has room for; where there are more, none stands in it."""


def rows_at(
    catalogue: Catalogue, step: StepRecord, rulebook_id: str, vehicles: Iterable[str] | None
) -> list[LimitRow]:
    """The rulebook's figures for the step's wheels, and for a unit of these vehicles; None is every unit there is."""
    if not step.figure:
        return []
    rows = [row for row in catalogue.limit[step.figure].rows if row.rulebook == rulebook_id and _of_axle(row, step.axle)]
    return [row for row in rows if vehicles is None or _of_unit(row, Counter(vehicles))]


def _of_axle(row: LimitRow, axle: str | None) -> bool:
    """A figure of another axle is no figure of the step: "front" is one axle, all others are the other."""
    told = row.when.get("axle")
    return not axle or not told or (told == "front") is (axle == "front")


def _of_unit(row: LimitRow, count: Counter[str]) -> bool:
    """No figure names a truck with a trailer, so that none is ruled out for it by what draws what."""
    drawn, tractor = count["trailer"], count["tractor"] > 0
    if "units" in row.when and int(row.when["units"]) != min(3, drawn + 1):
        return False
    if "combination" not in row.when or (drawn and not tractor):
        return True
    return {"straight-truck": not tractor, "tractor-alone": tractor and not drawn, "one-trailer": drawn == 1,
            "two-or-more-trailers": drawn > 1}[row.when["combination"]]  # fmt: skip
