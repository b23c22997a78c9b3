"""The figures in a line that a source prints, such as 44 mm and 1 3/4 in of "44 mm (1 3/4 in)"."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from .units import SPELLINGS, Unit

_FRACTION = r"\d+/0*[1-9]\d*"
_NUMBER = rf"(?:\d+ {_FRACTION}|{_FRACTION}|\d{{1,3}}(?: \d{{3}})+|\d+(?:[.,]\d+)?)"
_JOINED = r"(?: (?:to|and|à|et|a) )"
_UNITS = "|".join(
    re.escape(spelling) for spelling in sorted(SPELLINGS, key=len, reverse=True) if spelling[0] != "/"
)
_FIGURE = re.compile(rf"({_NUMBER})(?:{_JOINED}({_NUMBER}))? ?({_UNITS})(?![a-zà-ÿ0-9])")


@dataclass(frozen=True, slots=True)
class PrintedFigure:
    """A number with its unit, as a source prints them."""

    value: Fraction
    unit: Unit

    @property
    def in_base(self) -> Fraction:
        """The value in the base unit of its dimension."""
        return self.value * self.unit.factor


def printed_figures(text: str) -> tuple[PrintedFigure, ...]:
    """Every figure with a unit in a line, in order. "80 to 145 psi" and "203 mm (8 in) of mercury" hold two each."""
    found = []
    for first, second, spelled in _FIGURE.findall(_plain(text)):
        found += [PrintedFigure(_number(digits), SPELLINGS[spelled]) for digits in (first, second) if digits]
    return tuple(found)


def figures_removed(text: str) -> str:
    """What a line says beside its figures, in lower case: "or the wear mark" of "6.4 mm (1/4 in), or the wear mark"."""
    return " ".join(re.findall(r"\w+", _FIGURE.sub(" ", _plain(text))))


def _plain(text: str) -> str:
    plain = re.sub(r"[\u00a0\u202f]", " ", text.lower()).replace("²", "2")
    return re.sub(r"mm \(([^)]*?)(in|po)\) (of mercury|de mercure)", r"mm \3 (\1\2 \3)", plain)


def _number(digits: str) -> Fraction:
    if "/" in digits:
        whole, _, fraction = digits.rpartition(" ")
        return Fraction(fraction) + int(whole or 0)
    return Fraction(digits.replace(" ", "").replace(",", "."))
