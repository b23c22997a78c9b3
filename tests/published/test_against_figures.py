"""Every figure of the tables against the values typed from what was read, both ways; no record stays unused.

Conversions between the records' units and the tables' are made with pint, never with our own code.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml

from chockbook.catalogue import Catalogue, LimitRow

pint = pytest.importorskip("pint", reason="pint is not installed")
registry = pint.UnitRegistry()
HERE = Path(__file__).parent

UNITS = {
    "mm": ("millimeter", 1),
    "inch": ("inch", 1),
    "32nds of an inch": ("inch", 1 / 32),
    "feet": ("foot", 1),
    "m": ("meter", 1),
    "kPa": ("kilopascal", 1),
    "kPa/min": ("kilopascal", 1),
    "psi": ("psi", 1),
    "inHg": ("inch_Hg", 1),
    "s": ("second", 1),
    "seconds": ("second", 1),
    "minutes": ("minute", 1),
    "degree": ("degree", 1),
    "percent": ("percent", 1),
    "percent of rated stroke": ("percent", 1),
    "percent of article weight": ("percent", 1),
    "fraction": ("dimensionless", 1),
    "fraction full": ("dimensionless", 1),
    "count": ("dimensionless", 1),
    "UL B:C": ("dimensionless", 1),
    "rating": ("dimensionless", 1),
}
COMPARE = {
    "max": "at-most",
    "min": "at-least",
    "fail_above": "at-most",
    "fail_below": "at-least",
    "range": "between",
    "fail_at_or_below": "more-than",
    "fail_at_or_above": "less-than",
    "equals": "about",
    "within": "at-most",
}
ROUNDED = 0.02
"""Metric figures beside printed imperial ones are rounded, in the sources as in the tables: by 2 % at most."""


def records(name: str) -> list[dict[str, Any]]:
    figures = yaml.safe_load((HERE / name).read_text(encoding="utf-8"))["figures"]
    assert figures
    return figures


def same(record: dict[str, Any], key: str, value: Any, unit: str, rel: float) -> bool:
    if value is None:
        return key not in record
    name, factor = UNITS[record["unit"]]
    ours, our_factor = UNITS[unit]
    wanted = registry.Quantity(float(record[key]) * factor, name).to(ours).magnitude
    return float(value) * our_factor == pytest.approx(wanted, rel=rel)


def of_rulebook(catalogue: Catalogue, rulebook: str) -> set[tuple[str, str]]:
    """Every own row of a rulebook, as limit and label."""
    return {
        (limit.id, row.label["en"])
        for limit in catalogue.limits
        for row in limit.rows
        if row.rulebook == rulebook
    }


def sizes(row: LimitRow) -> str:
    """How the Ontario records call a row of the two large tables."""
    return "-".join(
        row.when[key].lower()
        for key in ("chamber", "wheel", "stroke", "steering", "combination")
        if key in row.when
    )


OWNERS = {
    "Ontario": ("on-s1", None),
    "Alberta": (None,),
    "Quebec": ("qc-list-1", None),
    "United States": ("us-fmcsr",),
}


def test_ontario_figures_and_those_beside_them(shipped: Catalogue) -> None:
    found: set[tuple[str, str]] = set()
    for record in records("ontario_figures.yaml"):
        limit_id, _, which = record["id"].partition(".")
        limit = shipped.limit[limit_id]
        fitting = [
            row
            for row in limit.rows
            if row.rulebook in OWNERS[record["authority"]]
            and row.printed["en"] == record["printed"]
            and same(record, "value", row.value, limit.unit, 1e-9)
            and same(record, "upper", row.upper, limit.unit, 1e-9)
            and (not sizes(row) or which == sizes(row))
        ]
        assert len(fitting) == 1, record["id"]
        key = (limit_id, fitting[0].label["en"])
        assert key not in found, record["id"]
        assert (fitting[0].basis == "published") == (record["standing"] == "seen"), record["id"]
        found.add(key)
    assert of_rulebook(shipped, "on-s1") <= found


def test_united_states_figures(shipped: Catalogue) -> None:
    found: set[tuple[str, str]] = set()
    for record in records("us_figures.yaml"):
        limit = shipped.limit[record["limit"]]
        assert COMPARE[record["compare"]] == limit.compare, record["id"]
        owner = ("us-fmcsr", None) if record["authority"] == "US rule" else (None,)
        fitting = [
            row
            for row in limit.rows
            if row.when == record["when"]
            and row.rulebook in owner
            and same(record, "value", row.value, limit.unit, ROUNDED)
            and same(record, "upper", row.upper, limit.unit, ROUNDED)
        ]
        assert len(fitting) == 1, record["id"]
        key = (limit.id, fitting[0].label["en"])
        assert key not in found, record["id"]
        assert (fitting[0].basis == "published") == (record["standing"] == "seen"), record["id"]
        if "colour" in record:
            assert f", {record['colour']}, " in fitting[0].printed["en"], record["id"]
            assert record["section"] in fitting[0].locator.replace(",", ""), record["id"]
        found.add(key)
    assert of_rulebook(shipped, "us-fmcsr") <= found


def test_quebec_figures(shipped: Catalogue) -> None:
    found: set[tuple[str, str]] = set()
    governor: dict[str, dict[str, Any]] = {}
    for record in records("quebec_figures.yaml"):
        limit_id, _, which = record["id"].partition(".")
        if limit_id == "governor":
            governor[which] = record
            continue
        limit = shipped.limit[limit_id]
        assert record["compare"] == limit.compare, record["id"]
        fitting = [
            row
            for row in limit.rows
            if row.source == "qc-r-32"
            and same(record, "value", row.value, limit.unit, 1e-9)
            and (record["own"] == (row.rulebook == "qc-list-1"))
            and (which == "-".join(row.when.values()) if row.when else True)
        ]
        assert len(fitting) == 1, (record["id"], [r.label for r in fitting])
        key = (limit_id, fitting[0].label["en"])
        assert key not in found, record["id"]
        assert (fitting[0].basis == "published") == (record["standing"] == "seen"), record["id"]
        if "fails_at" in record:
            assert record["fails_at"] == (limit.compare in ("less-than", "more-than")), record["id"]
        found.add(key)
    row = next(row for row in shipped.limit["governor"].rows if row.rulebook == "qc-list-1")
    assert set(governor) == {"cut-in", "cut-out-low", "cut-out-high"}
    assert (float(row.value), float(row.upper or 0)) == (
        float(governor["cut-in"]["value"]),
        float(governor["cut-out-high"]["value"]),
    )
    assert governor["cut-out-low"]["value"] in row.printed["en"]
    assert of_rulebook(shipped, "qc-list-1") <= found | {("governor", row.label["en"])}
