"""Values to ask about a figure: at it, just past it and well past it, on both sides, and how they are written."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from ..catalogue import LimitRecord, LimitRow
from ..catalogue.measure import Bound, Result, bounds_of, has_more, measure, systems_of
from ..catalogue.printed_figures import figures_removed
from ..catalogue.quantity import Quantity
from ..catalogue.units import UNITS_OF_MEASURE
from ..catalogue.wording import wording_read
from .wording import Words

ADDS_NOTHING = frozenset({"in", "one", "of", "from", "minute", "minutes", "mercury"})
"""Words beside the figure of a printed line that set no further rule, as in "40 kPa in one minute"."""
RULER = (1, 2, 4, 8, 16, 32)
"""Parts of an inch that a ruler or gauge shows."""
STEPS: dict[str, tuple[tuple[Fraction, Fraction], ...]] = {
    "in": ((Fraction(1), Fraction(1, 8)), (Fraction(1, 4), Fraction(1, 16)), (Fraction(0), Fraction(1, 32))),
    "ft": ((Fraction(0), Fraction(1)),),
    "mm": ((Fraction(50), Fraction(5)), (Fraction(20), Fraction(3)), (Fraction(5), Fraction(1)),
           (Fraction(1), Fraction(1, 2)), (Fraction(0), Fraction(1, 5))),
    "m": ((Fraction(0), Fraction(1)),),
    "kpa": ((Fraction(300), Fraction(20)), (Fraction(100), Fraction(10)), (Fraction(0), Fraction(5))),
    "psi": ((Fraction(20), Fraction(5)), (Fraction(0), Fraction(1))),
    "mmhg": ((Fraction(0), Fraction(10)),),
    "inhg": ((Fraction(0), Fraction(1)),),
    "s": ((Fraction(60), Fraction(15)), (Fraction(0), Fraction(2))),
    "min": ((Fraction(0), Fraction(1)),),
    "h": ((Fraction(0), Fraction(1)),),
    "degree": ((Fraction(100), Fraction(10)), (Fraction(0), Fraction(2))),
    "percent": ((Fraction(0), Fraction(5)),),
    "count": ((Fraction(0), Fraction(1)),),
}  # fmt: skip
"""For each unit: from which figure on, and the step that a person would notice there (common practice)."""
SHOWN_IN_MINUTES = 300
"""Seconds from which a time is told in minutes."""


@dataclass(frozen=True, slots=True)
class Value:
    """A measured value with what the figure says of it."""

    quantity: Quantity
    result: Result
    level: int
    """3 at the figure, 2 one or two steps from it, 1 three steps from it."""


def plain_line(row: LimitRow) -> bool:
    """Whether the source's line for a row is its figure and nothing else: "or the wear mark" is a further rule."""
    return set(re.findall(r"\w+", figures_removed(wording_read(row.printed)))) <= ADDS_NOTHING


def values_of(limit: LimitRecord, row: LimitRow) -> Iterator[Value]:
    """Values to ask about, in each unit system in which the source itself prints the figure.

    Empty where the line sets a further rule, or where the figure cannot decide.
    """
    if not plain_line(row) or has_more(limit, row):
        return
    for system in systems_of(limit):
        bounds = bounds_of(limit, row, system)
        for bound in (bounds.low, *((bounds.high,) if bounds.high else ())):
            if not bound.converted:
                yield from _round(limit, row, bound)


def _round(limit: LimitRecord, row: LimitRow, bound: Bound) -> Iterator[Value]:
    value, unit = bound.value, bound.unit
    if unit.id == "fraction":
        value, unit = value * 100, UNITS_OF_MEASURE["percent"]
    elif unit.id == "s" and value >= SHOWN_IN_MINUTES and value % 60 == 0:
        value, unit = value / 60, UNITS_OF_MEASURE["min"]
    if unit.id == "in" and value.denominator not in RULER:
        return
    step = next(step for least, step in STEPS[unit.id] if value >= least)
    for steps, level in ((-3, 1), (-1, 2), (0, 3), (1, 2), (2, 2), (3, 1)):
        asked = value + steps * step
        if asked <= 0 or (unit.dimension == "share" and asked > 100):
            continue
        quantity = Quantity(asked, unit, unit.id == "in")
        result = measure(limit, row, quantity)
        if result.passes is not None:
            yield Value(quantity, result, level)


def number_in_words(value: Fraction, unit_id: str, words: Words, rating: bool = False) -> str:
    """A value with its unit as a person writes it: 2 5/8 in, 67 mm, 0,8 mm. A count stands alone."""
    if unit_id in ("in", "ft") and value.denominator in RULER and value.denominator > 1:
        whole, above = divmod(value.numerator, value.denominator)
        digits = f"{whole} {above}/{value.denominator}" if whole else f"{above}/{value.denominator}"
    else:
        digits = f"{float(value):.10g}"
    if words.language == "fr":
        digits = digits.replace(".", ",")
    if unit_id == "count":
        return f"{digits} B:C" if rating else digits
    joint = "\u00a0" if words.language == "fr" else "" if unit_id == "percent" else " "
    return f"{digits}{joint}{words.fixed(f'measure-unit-{unit_id}')}"
