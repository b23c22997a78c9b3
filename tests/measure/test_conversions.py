"""Conversions are exact and agree with the general-purpose library pint."""

from __future__ import annotations

from fractions import Fraction

import pytest

from chockbook.catalogue import Catalogue
from chockbook.catalogue.measure import bounds_of, systems_of
from chockbook.catalogue.units import UNITS_OF_MEASURE

pint = pytest.importorskip("pint", reason="pint is not installed")

NAMES = {
    "mm": "millimeter",
    "cm": "centimeter",
    "m": "meter",
    "in": "inch",
    "ft": "foot",
    "kpa": "kilopascal",
    "psi": "pound_force_per_square_inch",
    "mmhg": "millimeter_Hg",
    "inhg": "inch_Hg",
    "s": "second",
    "min": "minute",
    "h": "hour",
    "degree": "degree",
    "percent": "percent",
    "fraction": "dimensionless",
    "count": "dimensionless",
}
BASE = {
    "length": "millimeter",
    "pressure": "kilopascal",
    "time": "second",
    "angle": "degree",
    "share": "dimensionless",
    "count": "dimensionless",
}
registry = pint.UnitRegistry()


def by_pint(value: Fraction, unit: str, target: str) -> float:
    return registry.Quantity(float(value), NAMES[unit]).to(target).magnitude


def test_every_factor_agrees() -> None:
    for unit in UNITS_OF_MEASURE.values():
        if unit.id == "32nds":
            assert unit.factor == UNITS_OF_MEASURE["in"].factor / 32
            continue
        assert float(unit.factor) == pytest.approx(
            by_pint(Fraction(1), unit.id, BASE[unit.dimension]), rel=1e-12
        ), unit.id


def test_every_converted_figure_of_the_tables_agrees(shipped: Catalogue) -> None:
    compared = 0
    for limit in shipped.limits:
        for row in limit.rows:
            for system in systems_of(limit):
                low = bounds_of(limit, row, system).low
                if not low.converted:
                    continue
                other = bounds_of(limit, row, "imperial" if system == "metric" else "metric").low
                assert not other.converted
                wanted = by_pint(other.value, other.unit.id, NAMES[low.unit.id])
                assert float(low.value) == pytest.approx(wanted, rel=1e-12), (limit.id, row.printed)
                compared += 1
    assert compared > 40
