"""Measures and figures in words: values with their units, states, and messages for what is not a measure."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from ..catalogue import Catalogue, LimitRecord
from ..catalogue.measure import Bound, Result, UnfitMeasure, other_unit, unit_of
from ..catalogue.quantity import Malformed
from ..catalogue.units import UNITS_OF_MEASURE, Unit
from .wording import fixed_word

BELOW_THE_LINE = (2, 4, 8, 16, 32, 64)
"""Denominators of the fractions in which inches are told."""


def fill(text: str, values: Mapping[str, str]) -> str:
    """A wording with its values put in, all at once: braces inside a value stay as they are."""
    pieces = text.split("{")
    filled = [pieces[0]]
    for piece in pieces[1:]:
        name, closed, rest = piece.partition("}")
        filled.append(values[name] + rest if closed and name in values else "{" + piece)
    return "".join(filled)


def number_words(catalogue: Catalogue, value: Fraction, unit: Unit, language: str) -> str:
    """A value with its unit, such as "2 1/4 in", "57 mm", "20 %" or "about 0.504 in"; a share comes as percent.

    Exact where three decimals or a fraction of an inch tell it whole; rounded half up otherwise, with "about".
    """
    if unit.dimension == "share":
        value, unit = value * unit.factor * 100, UNITS_OF_MEASURE["percent"]
    name = fixed_word(catalogue, f"measure-unit-{unit.id}", language)
    if unit.id in ("in", "ft") and value.denominator in BELOW_THE_LINE:
        whole, above = divmod(value.numerator, value.denominator)
        return (
            f"{whole} {above}/{value.denominator} {name}" if whole else f"{above}/{value.denominator} {name}"
        )
    exact = (value * 1000).denominator == 1
    places = 3 if exact or unit.system == "imperial" else 2
    digits = _decimal(value, places if exact or value >= Fraction(1, 20) else 6)
    if language == "fr":
        digits = digits.replace(".", ",")
    about = "" if exact else fixed_word(catalogue, "compare-about", language) + " "
    return f"{about}{digits} {name}"


def _decimal(value: Fraction, places: int) -> str:
    scaled = (2 * value * 10**places + 1) // 2
    text = str(scaled).rjust(places + 1, "0")
    return f"{text[:-places]}.{text[-places:]}".rstrip("0").rstrip(".")


def unit_names(catalogue: Catalogue, limit: LimitRecord, language: str) -> str:
    """The units that a limit can be measured in, as a list in words."""
    kind = unit_of(limit).dimension
    names = [
        fixed_word(catalogue, f"measure-unit-{u.id}", language)
        for u in UNITS_OF_MEASURE.values()
        if u.dimension == kind
    ]
    return ", ".join(names)


def error_words(catalogue: Catalogue, error: Malformed | UnfitMeasure, read: str, language: str) -> str:
    """What was read, why it is not a measure that can be used, and how to write it."""
    if isinstance(error, UnfitMeasure):
        units = unit_names(catalogue, error.limit, language)
        return fill(
            fixed_word(catalogue, f"measure-error-{error.kind}", language),
            {"read": read.strip(), "units": units},
        )
    every = ", ".join(fixed_word(catalogue, f"measure-unit-{unit}", language) for unit in UNITS_OF_MEASURE)
    values = {"read": error.read, "part": error.part, "units": every}
    return fill(fixed_word(catalogue, f"measure-error-{error.kind}", language), values)


def difference_words(catalogue: Catalogue, result: Result, language: str) -> tuple[str, str | None]:
    """How far a measure is from its bound: in the unit measured in, and in the other system's where there is one."""
    own = result.measured.unit
    told = number_words(catalogue, result.by / own.factor, own, language)
    if own.system == "plain":
        return told, None
    other = other_unit(own)
    return told, number_words(catalogue, result.by / other.factor, other, language)


def bound_words(catalogue: Catalogue, limit: LimitRecord, result: Result, language: str) -> str:
    """The figure that was used, such as "no more than 1 3/4 in" or "between 80 psi and 145 psi"."""

    def told(bound: Bound) -> str:
        return number_words(catalogue, bound.value, bound.unit, language)

    compare = fixed_word(catalogue, f"compare-{limit.compare}", language)
    if result.bounds.high is None:
        return f"{compare} {told(result.bounds.low)}"
    return f"{compare} {told(result.bounds.low)} – {told(result.bounds.high)}"


def result_lines(
    catalogue: Catalogue, limit: LimitRecord, printed: str, result: Result, language: str
) -> list[str]:
    """A result in words: the state and by how much, what was read, and the figure that it was held against."""

    def word(key: str, **values: str) -> str:
        return fill(fixed_word(catalogue, key, language), values)

    own, other = difference_words(catalogue, result, language)
    state = word(f"measure-state-{result.state}")
    if result.state in ("within", "over", "under"):
        by = word("measure-by-both", own=own, other=other) if other else word("measure-by", own=own)
        state = f"{state}, {by}"
    lines = [state]
    if result.why == "about":
        lines.append(word("measure-about", own=own))
    elif result.why == "figures-apart":
        lines.append(word("measure-figures-apart", printed=printed))
    measured = result.measured
    lines.append(
        word("measure-read-as", value=number_words(catalogue, measured.value, measured.unit, language))
    )
    figure = bound_words(catalogue, limit, result, language)
    key = "measure-held-converted" if result.bound.converted else "measure-held"
    lines.append(word(key, figure=figure, printed=printed))
    return lines
