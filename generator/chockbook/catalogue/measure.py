"""Judging a measure by a figure of the tables. Nothing is interpolated, and no rounded conversion decides.

site_templates/web/assets/measure/rule.js does the same; tests/measure holds the two together.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from .entry import Entry
from .limit import LimitRecord, LimitRow
from .printed_figures import PrintedFigure, printed_figures
from .quantity import Quantity
from .units import TABLE_UNITS, UNITS_OF_MEASURE, System, Unit
from .wording import wording_read

State = Literal["within", "at-within", "at-beyond", "over", "under", "undecided"]
Unfitness = Literal["wrong-kind", "unit-needed"]
CLOSE = Fraction(6, 100)
"""How far a printed figure may be from the table's value to be the same figure: 3/8 in stands beside 10 mm."""


class UnfitMeasure(ValueError):
    """A measure cannot be held against a limit: it is of another kind, or its unit is not known."""

    def __init__(self, kind: Unfitness, limit: LimitRecord, quantity: Quantity) -> None:
        self.kind = kind
        self.limit = limit
        self.quantity = quantity
        super().__init__(f"{kind}: {limit.id}")

    def __reduce__(self) -> tuple[type[UnfitMeasure], tuple[Unfitness, LimitRecord, Quantity]]:
        """How it travels from a worker process."""
        return UnfitMeasure, (self.kind, self.limit, self.quantity)


@dataclass(frozen=True, slots=True)
class Bound:
    """A figure in one unit system."""

    value: Fraction
    unit: Unit
    converted: bool
    """Whether the source prints it in the other system only, and it is converted from there, exactly."""

    @property
    def in_base(self) -> Fraction:
        """The figure in the base unit of its dimension."""
        return self.value * self.unit.factor


@dataclass(frozen=True, slots=True)
class Bounds:
    """The figures of a row in one unit system."""

    low: Bound
    high: Bound | None
    """Only of a range."""


@dataclass(frozen=True, slots=True)
class Result:
    """What a figure says of a measure."""

    state: State
    passes: bool | None
    """Whether the measure is what the figure asks for; None where the figure cannot decide."""
    measured: Quantity
    """With the unit that it was read in."""
    bound: Bound
    """The figure that was used; of a range, the end that the measure is nearer to."""
    bounds: Bounds
    by: Fraction
    """How far the measure is from the bound, in the base unit of the dimension; never negative."""
    why: Literal["", "about", "figures-apart"] = ""
    """Why a figure cannot decide."""


def unit_of(limit: LimitRecord) -> Unit:
    """The unit in which the tables hold a limit's values."""
    return UNITS_OF_MEASURE[TABLE_UNITS[limit.unit]]


def only_divides(limit: LimitRecord, entries: Iterable[Entry], rulebook_id: str) -> bool:
    """Whether a limit only tells one severity of the defects that it decides from another.

    What meets such a limit can still be a defect. A share is of a part that is damaged or of parts that are missing, so
    less of it is no pass either.

    Args:
        limit: the limit.
        entries: the defects that it decides under the rulebook.
        rulebook_id: the rulebook.
    """
    decided = [entry.rulings_under(rulebook_id) for entry in entries]
    by_share = unit_of(limit).dimension == "share"
    return any(by_share or len(rulings) > 1 or rulings[0].applies_when is not None for rulings in decided)


def systems_of(limit: LimitRecord) -> tuple[System, ...]:
    """The unit systems in which a limit can be measured."""
    both = unit_of(limit).dimension in ("length", "pressure")
    return ("metric", "imperial") if both else ("plain",)


def bounds_of(limit: LimitRecord, row: LimitRow, system: System) -> Bounds:
    """The figures of a row in one unit system: as the source prints them there, otherwise converted.

    Args:
        limit: the limit that the row belongs to.
        row: the row.
        system: metric or imperial; for kinds with one system only, plain.
    """
    low = _bound(limit, row, Fraction(row.value), system)
    high = None if row.upper is None else _bound(limit, row, Fraction(row.upper), system)
    return Bounds(low, high)


def figures_of(limit: LimitRecord, row: LimitRow) -> tuple[PrintedFigure, ...]:
    """The figures of the limit's kind that the source prints for a row."""
    return tuple(f for f in printed_figures(wording_read(row.printed)) if f.unit.dimension == unit_of(limit).dimension)


def has_more(limit: LimitRecord, row: LimitRow) -> bool:
    """Whether the source prints more figures for a row than the two ends of a range.

    Such a line holds a rule for each of its figures, so between the ends it needs reading.
    """
    printed = figures_of(limit, row)
    return any(
        len({f.in_base for f in printed if f.unit.system == system}) > 2 for system in ("metric", "imperial")
    )


def _bound(limit: LimitRecord, row: LimitRow, value: Fraction, system: System) -> Bound:
    unit = unit_of(limit)
    target = value * unit.factor
    if system == "plain":
        return Bound(value, unit, False)
    near = [f for f in figures_of(limit, row) if abs(f.in_base - target) <= CLOSE * target]
    near.sort(key=lambda figure: abs(figure.in_base - target))
    printed = next((f for f in near if f.unit.system == system), None)
    if printed:
        return Bound(printed.value, printed.unit, False)
    exact = near[0].in_base if near else target
    shown = unit if system == unit.system else other_unit(unit)
    return Bound(exact / shown.factor, shown, bool(near) or system != unit.system)


def other_unit(unit: Unit) -> Unit:
    """The unit of the other system in which the same thing is usually told."""
    pairs = {
        "mm": "in",
        "cm": "in",
        "m": "ft",
        "in": "mm",
        "32nds": "mm",
        "ft": "m",
        "kpa": "psi",
        "psi": "kpa",
        "mmhg": "inhg",
        "inhg": "mmhg",
    }
    return UNITS_OF_MEASURE[pairs[unit.id]]


def with_unit(limit: LimitRecord, quantity: Quantity) -> Quantity:
    """The measure with its unit: a bare fraction of a length is in inches, and of a share part of the whole.

    A bare number is taken where the limit's kind has one unit only; a unit is never guessed from the size.

    Raises:
        UnfitMeasure: the measure is of another kind, or a bare number could be in several units.
    """
    kind = unit_of(limit).dimension
    if quantity.unit is not None:
        if quantity.unit.dimension != kind:
            raise UnfitMeasure("wrong-kind", limit, quantity)
        return quantity
    if kind in ("count", "angle"):
        return Quantity(quantity.value, unit_of(limit), quantity.is_fraction)
    if quantity.is_fraction and kind in ("length", "share"):
        unit = UNITS_OF_MEASURE["in" if kind == "length" else "fraction"]
        return Quantity(quantity.value, unit, True)
    raise UnfitMeasure("unit-needed", limit, quantity)


def measure(limit: LimitRecord, row: LimitRow, quantity: Quantity) -> Result:
    """What one figure says of a measure.

    The figure is taken in the unit system that was measured in, as the source prints it there: inches are
    held against 1 3/4 in and millimetres against 44 mm, wherever the source prints both.

    Raises:
        UnfitMeasure: the measure is of another kind, or a bare number could be in several units.
    """
    measured = with_unit(limit, quantity)
    bounds = bounds_of(limit, row, measured.unit.system)
    value, low = measured.in_base, bounds.low
    if bounds.high is not None:
        return _within_range(limit, row, measured, bounds, low, bounds.high)
    by = abs(value - low.in_base)
    if limit.compare == "about":
        return Result("undecided", None, measured, low, bounds, by, "about")
    if value == low.in_base:
        passes = limit.compare in ("at-most", "at-least", "between")
        return Result("at-within" if passes else "at-beyond", passes, measured, low, bounds, by)
    above = value > low.in_base
    passes = above == (limit.compare in ("at-least", "more-than"))
    state: State = "within" if passes else "over" if above else "under"
    return Result(state, passes, measured, low, bounds, by)


def _within_range(
    limit: LimitRecord, row: LimitRow, measured: Quantity, bounds: Bounds, low: Bound, high: Bound
) -> Result:
    value = measured.in_base
    to_low, to_high = abs(value - low.in_base), abs(value - high.in_base)
    nearer, by = (low, to_low) if to_low <= to_high else (high, to_high)
    if value < low.in_base:
        return Result("under", False, measured, low, bounds, to_low)
    if value > high.in_base:
        return Result("over", False, measured, high, bounds, to_high)
    if has_more(limit, row):
        return Result("undecided", None, measured, nearer, bounds, by, "figures-apart")
    return Result("at-within" if by == 0 else "within", True, measured, nearer, bounds, by)
