"""Reading a measure as people write it: "2 1/4 in", "2-1/4\\"", "5/32", "2,25 po", "57mm", "2 of 10"."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from .units import SPELLINGS, UNITS_OF_MEASURE, Unit

Malformation = Literal[
    "empty",
    "too-long",
    "no-number",
    "sign",
    "two-points",
    "thousands",
    "zero-below",
    "half-fraction",
    "improper",
    "point-and-fraction",
    "exponent",
    "range",
    "two-measures",
    "unknown-unit",
    "part-of-whole",
]
LONGEST = 40
"""Characters of the longest text that is taken for a measure."""

_VULGAR = {
    "¼": "1/4",
    "½": "1/2",
    "¾": "3/4",
    "⅐": "1/7",
    "⅑": "1/9",
    "⅒": "1/10",
    "⅓": "1/3",
    "⅔": "2/3",
    "⅕": "1/5",
    "⅖": "2/5",
    "⅗": "3/5",
    "⅘": "4/5",
    "⅙": "1/6",
    "⅚": "5/6",
    "⅛": "1/8",
    "⅜": "3/8",
    "⅝": "5/8",
    "⅞": "7/8",
}
_SAME = str.maketrans(
    {
        "⁄": "/",
        "∕": "/",
        "″": '"',
        "”": '"',
        "“": '"',
        "′": "'",
        "’": "'",
        "−": "-",
        "–": "-",
        "—": "-",
        "‑": "-",
        "²": "2",
        "\u00a0": " ",
        "\u202f": " ",
        "\u2009": " ",
        "\t": " ",
    }
)
_WHOLE = re.compile(r"([0-9]+) ?(?:out of|of|sur|de) ?([0-9]+)")
_MIXED = re.compile(r"([0-9]+)(?: ?- ?| and | et | )([0-9]+) ?/ ?([0-9]+)")
_FRACTION = re.compile(r"([0-9]+) ?/ ?([0-9]+)")
_SPACED = re.compile(r"([0-9]{1,3}(?: [0-9]{3})+(?:[.,][0-9]+)?)(?![0-9/])")
_DECIMAL = re.compile(r"([0-9]+(?:[.,][0-9]+)?|[.,][0-9]+)")
_THIRTY_SECONDS = ("nds", "nd", "es", "e")


class Malformed(ValueError):
    """A text is not a measure. `kind` says why, `read` what was read, `part` which piece is at fault."""

    def __init__(self, kind: Malformation, read: str, part: str = "", language: str = "en") -> None:
        self.kind = kind
        self.read = read
        self.part = part
        self.language = language
        super().__init__(f"{kind}: {read!r}" + (f" ({part})" if part else ""))

    def __reduce__(self) -> tuple[type[Malformed], tuple[Malformation, str, str, str]]:
        """How it travels from a worker process."""
        return Malformed, (self.kind, self.read, self.part, self.language)


@dataclass(frozen=True, slots=True)
class Quantity:
    """A value as it was written, with its unit; no unit where none was written."""

    value: Fraction
    unit: Unit | None
    is_fraction: bool = False
    """Whether it was written as a common fraction, such as 2 1/4."""

    @property
    def in_base(self) -> Fraction:
        """The value in the base unit of its dimension.

        Raises:
            ValueError: it has no unit.
        """
        if self.unit is None:
            raise ValueError("a bare number has no base unit")
        return self.value * self.unit.factor


def parse_quantity(text: str, language: str = "en") -> Quantity:
    """The measure that a text writes, exactly. Units are read in every language that the spellings know.

    Args:
        text: such as "2 1/4 in", "57mm", "2,25 po" or "2 of 10" (a share).
        language: code of the language in which an error is to be told.

    Raises:
        Malformed: the text is not one number with at most one unit.
    """
    read = text.strip()
    plain = _plain(read)

    def fault(kind: Malformation, part: str = "") -> Malformed:
        return Malformed(kind, read, part, language)

    if not plain:
        raise fault("empty")
    if len(read) > LONGEST:
        raise fault("too-long")
    if not re.search(r"[0-9]", plain):
        raise fault("no-number")
    if plain[0] in "-+±~<>=≤≥":
        raise fault("sign", plain[0])
    value, is_fraction, rest, share = _number(plain, fault)
    rest = rest.strip()
    if is_fraction and rest in _THIRTY_SECONDS and re.search(r"/ ?32 ?[a-z]", plain):
        return Quantity(value, UNITS_OF_MEASURE["in"], True)
    if share and not rest:
        return Quantity(value, UNITS_OF_MEASURE["fraction"], True)
    unit = _unit(rest, fault)
    if is_fraction and unit and unit.id == "32nds":
        raise fault("two-measures", rest)
    return Quantity(value, unit, is_fraction)


def _plain(text: str) -> str:
    for sign, fraction in _VULGAR.items():
        text = text.replace(sign, f" {fraction}")
    text = text.translate(_SAME).lower().replace("''", '"')
    return re.sub(r" +", " ", text).strip()


def _number(text, fault) -> tuple[Fraction, bool, str, bool]:
    """Value, whether it is a common fraction, what follows it, and whether it is a part of a whole."""
    if not re.match(r"[0-9.,]", text):
        raise fault("no-number", re.split(r"[0-9]", text)[0].strip())
    if found := _WHOLE.match(text):
        part, whole = int(found[1]), int(found[2])
        if whole == 0:
            raise fault("zero-below", found[0])
        if part > whole:
            raise fault("part-of-whole", found[0])
        return Fraction(part, whole), True, text[found.end() :], True
    if found := _MIXED.match(text):
        whole, above, below = (int(part) for part in found.groups())
        if below == 0:
            raise fault("zero-below", found[0])
        if above >= below:
            raise fault("improper", found[0])
        return whole + Fraction(above, below), True, text[found.end() :], False
    if found := _FRACTION.match(text):
        if int(found[2]) == 0:
            raise fault("zero-below", found[0])
        return Fraction(int(found[1]), int(found[2])), True, text[found.end() :], False
    if found := _SPACED.match(text):
        return _exact(found[1].replace(" ", "")), False, text[found.end() :], False
    found = _DECIMAL.match(text)
    if not found:
        raise fault("no-number", text)
    rest = text[found.end() :]
    if re.match(r"[.,]", rest):
        raise fault("two-points", found[0] + rest)
    if re.fullmatch(r"[1-9][0-9]{0,2},[0-9]{3}", found[1]):
        raise fault("thousands", found[1])
    if re.match(r"e ?[-+]?[0-9]", rest):
        raise fault("exponent", found[0] + rest)
    if re.match(r" [0-9]+ ?/ ?[0-9]", rest):
        raise fault("point-and-fraction", found[0] + rest)
    if re.match(r" ?(?:-|to|à|and|et|or|ou) ?[0-9]", rest):
        raise fault("range", found[0] + rest)
    if re.fullmatch(r" ?[0-9]* ?/[^0-9]*", rest):
        raise fault("half-fraction", found[0] + rest)
    return _exact(found[1]), False, rest, False


def _exact(digits: str) -> Fraction:
    return Fraction("0" + digits.replace(",", ".") if digits[0] in ".," else digits.replace(",", "."))


def _unit(rest, fault) -> Unit | None:
    if not rest:
        return None
    known = SPELLINGS.get(rest) or SPELLINGS.get(rest.rstrip("."))
    if known:
        return known
    if re.search(r"[0-9]", rest):
        raise fault("two-measures", rest)
    raise fault("unknown-unit", rest)
