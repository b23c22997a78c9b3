"""Units of measure with exact factors, and the spellings by which people write them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

Dimension = Literal["length", "pressure", "time", "angle", "share", "count"]
System = Literal["metric", "imperial", "plain"]

_INCH = Fraction(254, 10)
"""Millimetres in an inch: exact by the international agreement of 1959."""
_POUND_FORCE = Fraction(45359237, 10**8) * Fraction(980665, 10**5)
"""Newtons in a pound-force: the exact pound of 1959 times standard gravity (CGPM 1901)."""
_PSI = _POUND_FORCE / (_INCH / 1000) ** 2 / 1000
"""Kilopascals in a pound-force per square inch."""
_MM_OF_MERCURY = Fraction(135951, 10) * Fraction(980665, 10**5) / 10**6
"""Kilopascals in a conventional millimetre of mercury: 13,595.1 kg/m3 times standard gravity."""


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit: `factor` times a value gives the value in the base unit of its dimension.

    Base units: mm, kPa, s, degree, the whole (share), one (count).
    """

    id: str
    dimension: Dimension
    factor: Fraction
    system: System
    spellings: tuple[str, ...]
    """As written, lower case, in English and in French."""


_ALL = (
    Unit(
        "mm",
        "length",
        Fraction(1),
        "metric",
        ("mm", "millimetre", "millimetres", "millimeter", "millimeters", "millimètre", "millimètres"),
    ),
    Unit(
        "cm",
        "length",
        Fraction(10),
        "metric",
        ("cm", "centimetre", "centimetres", "centimeter", "centimeters", "centimètre", "centimètres"),
    ),
    Unit(
        "m",
        "length",
        Fraction(1000),
        "metric",
        ("m", "metre", "metres", "meter", "meters", "mètre", "mètres"),
    ),
    Unit("in", "length", _INCH, "imperial", ("in", "inch", "inches", '"', "po", "pouce", "pouces")),
    Unit(
        "32nds",
        "length",
        _INCH / 32,
        "imperial",
        (
            "32nds",
            "32nd",
            "32nds of an inch",
            "/32",
            "/32 in",
            "thirty-seconds",
            "32e",
            "32es",
            "32es de pouce",
            "/32 po",
        ),
    ),
    Unit("ft", "length", _INCH * 12, "imperial", ("ft", "foot", "feet", "'", "pi", "pied", "pieds")),
    Unit("kpa", "pressure", Fraction(1), "metric", ("kpa", "kilopascal", "kilopascals")),
    Unit("mmhg", "pressure", _MM_OF_MERCURY, "metric", ("mmhg", "mm hg", "mm of mercury", "mm de mercure")),
    Unit(
        "psi",
        "pressure",
        _PSI,
        "imperial",
        ("psi", "lb/in2", "lb/sq in", "lb/po2", "lbs", "pounds", "livres"),
    ),
    Unit(
        "inhg",
        "pressure",
        _MM_OF_MERCURY * _INCH,
        "imperial",
        ("inhg", "in hg", "in of mercury", "inches of mercury", "po de mercure", "pouces de mercure"),
    ),
    Unit("s", "time", Fraction(1), "plain", ("s", "sec", "secs", "second", "seconds", "seconde", "secondes")),
    Unit("min", "time", Fraction(60), "plain", ("min", "mins", "minute", "minutes")),
    Unit("h", "time", Fraction(3600), "plain", ("h", "hr", "hrs", "hour", "hours", "heure", "heures")),
    Unit(
        "degree", "angle", Fraction(1), "plain", ("°", "deg", "degs", "degree", "degrees", "degré", "degrés")
    ),
    Unit(
        "percent",
        "share",
        Fraction(1, 100),
        "plain",
        ("%", "percent", "per cent", "pct", "pour cent", "p. 100"),
    ),
    Unit(
        "fraction",
        "share",
        Fraction(1),
        "plain",
        ("full", "of full", "of the whole", "plein", "du plein", "du tout"),
    ),
    Unit("count", "count", Fraction(1), "plain", ("pieces", "b:c", "pièces")),
)

UNITS_OF_MEASURE: Mapping[str, Unit] = {unit.id: unit for unit in _ALL}
"""Units by id; those of one dimension stand together, the most used first."""

SPELLINGS: Mapping[str, Unit] = {spelling: unit for unit in _ALL for spelling in unit.spellings}
"""Units by each of their spellings."""

TABLE_UNITS: Mapping[str, str] = {
    "mm": "mm",
    "m": "m",
    "kPa": "kpa",
    "kPa/min": "kpa",
    "s": "s",
    "h": "h",
    "degree": "degree",
    "fraction": "fraction",
    "percent": "percent",
    "count": "count",
    "rating": "count",
}
"""The unit that a limit of the tables is measured in. A loss per minute is read as the loss in one minute."""
