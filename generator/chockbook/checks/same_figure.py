"""Whether two figures are one, written in units of the two systems."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Any

from ..catalogue.units import Unit

APART = Fraction(1, 20)
"""The most that a figure and its conversion differ, of the larger: 10 mm is printed of 3/8 in, which is 9.525 mm. Half a
digit alone would take 2 in, which is 50.8 mm, for 40 mm."""

_NUMBER = re.compile(r"-?[0-9]{1,12}(\.[0-9]{1,12})?")


def is_conversion(value: Fraction, unit: Unit, other: Fraction, its: Unit) -> bool:
    """Whether a figure is another one in a unit of the other system, rounded as either of them is written."""
    if not _of_two_systems(unit, its):
        return False
    here, there = value * unit.factor, other * its.factor
    half = max(half_a_digit(value) * unit.factor, half_a_digit(other) * its.factor)
    return abs(here - there) <= min(half, APART * max(abs(here), abs(there)))


def is_rounded(value: Fraction, unit: Unit, exact: Fraction, its: Unit) -> bool:
    """Whether a figure is an exact one in a unit of the other system, rounded as the first is written."""
    return _of_two_systems(unit, its) and abs(value * unit.factor - exact * its.factor) <= half_a_digit(value) * unit.factor


def half_a_digit(value: Fraction) -> Fraction:
    """Half of the last decimal place that a number is written with; halves and quarters have their decimals too."""
    places = next((n for n in range(4) if (value * 10**n).denominator == 1), 4)
    return Fraction(1, 2 * 10**places)


def number_in(text: Any) -> Fraction | None:
    """A number as a table has it; None where it is none, or longer than any figure, which the shape tells."""
    return Fraction(text) if isinstance(text, str) and _NUMBER.fullmatch(text) else None


def _of_two_systems(unit: Unit, its: Unit) -> bool:
    return unit.dimension == its.dimension and unit.system != its.system
