"""Figures that are typed into a text agree with the limit that the entry or step names.

A figure stands once, in limits.yaml; what a text says of it is typed by hand, and stays behind when the limit changes.
A quantity of the limit's kind that is none of the limit's rows, as a value, as printed or converted, is told.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from ..catalogue.printed_figures import printed_figures
from ..catalogue.units import TABLE_UNITS, UNITS_OF_MEASURE, Unit
from ..faults import Fault, quoted
from ..tables import Steps, Table
from .walk import Tables, listed, records, steps_of_route, texts

RULE = "figure-in-text"
_EXCESS = re.compile(r"(?:limits? by|limites? de)\s+\S+\s+\S+(?:\s+\([^)]*\))?")
"""How far something is past its limit, as in "past their limit by 6.4 mm (1/4 in)": no limit of its own."""


@dataclass(frozen=True)
class _Held:
    """What the limits that a record names hold."""

    dimensions: frozenset[str]
    printed: frozenset[Fraction]
    """In base units, exactly as sources print them and as the rows have them."""
    values: tuple[tuple[Fraction, Unit], ...]


def find(tables: Tables) -> Iterator[Fault]:
    """A warning for each text with a figure that the named limits do not have."""
    limits = {limit["id"]: limit for _, limit in records(tables, "limits.yaml", "limits")
              if isinstance(limit.get("id"), str)}  # fmt: skip
    catalogue, route = tables["catalogue.yaml"], tables["route.yaml"]
    for at, defect in records(tables, "catalogue.yaml", "defects"):
        named = [name for _, name in texts(defect, at, "limits")]
        held = _held(named, limits)
        for key in ("condition", "check"):
            yield from _judge(catalogue, defect, at, key, named, held)
        for ruling_at, ruling in listed(catalogue, defect, at, "rulings"):
            yield from _judge(catalogue, ruling, ruling_at, "applies_when", named, held)
    for at, step in steps_of_route(tables):
        named = [name for _, name in texts(step, at, "figure")]
        held = _held(named, limits)
        for key in ("want", "do", "good", "say"):
            yield from _judge(route, step, at, key, named, held)


def _held(named: list[str], limits: dict[str, dict[str, Any]]) -> _Held:
    dimensions: set[str] = set()
    printed: set[Fraction] = set()
    values: list[tuple[Fraction, Unit]] = []
    for limit in (limits[name] for name in named if name in limits):
        unit = UNITS_OF_MEASURE.get(TABLE_UNITS.get(str(limit.get("unit")), ""))
        rows = limit.get("rows")
        if unit is None or not isinstance(rows, list):
            continue
        dimensions.add(unit.dimension)
        for row in (row for row in rows if isinstance(row, dict)):
            for number in filter(None, (_number(row.get("value")), _number(row.get("upper")))):
                values.append((number, unit))
                printed.add(number * unit.factor)
            said = row.get("printed")
            for text in said.values() if isinstance(said, dict) else ():
                for figure in printed_figures(text) if isinstance(text, str) else ():
                    values.append((figure.value, figure.unit))
                    printed.add(figure.in_base)
    return _Held(frozenset(dimensions), frozenset(printed), tuple(values))


def _judge(table: Table, record: dict[str, Any], at: Steps, key: str, named: list[str], held: _Held) -> Iterator[Fault]:
    said = record.get(key)
    for language, text in said.items() if isinstance(said, dict) else ():
        if not isinstance(text, str):
            continue
        strange = [f"{float(figure.value):g} {figure.unit.id}" for figure in printed_figures(_EXCESS.sub(" ", text))
                   if figure.unit.dimension in held.dimensions and figure.in_base not in held.printed
                   and not any(_converted(figure.value, figure.unit, *value) for value in held.values)]  # fmt: skip
        if strange:
            limits = ", ".join(map(quoted, named))
            what = f"{' and '.join(strange)} in {quoted(text)}: no figure of {limits}"
            yield Fault(table.place((*at, key, language)), RULE, what,
                        "the text would say another figure than the table beside it",
                        "write the figure of the limit, or name the limit that has this one", level="warning")  # fmt: skip


def _converted(value: Fraction, unit: Unit, other: Fraction, its: Unit) -> bool:
    """Whether a figure is another one in a unit of the other system, rounded as either of them is written."""
    if unit.dimension != its.dimension or unit.system == its.system:
        return False
    apart = abs(value * unit.factor - other * its.factor)
    return apart <= max(_half_a_digit(value) * unit.factor, _half_a_digit(other) * its.factor)


def _half_a_digit(value: Fraction) -> Fraction:
    """Half of the last decimal place that a number is written with; halves and quarters have their decimals too."""
    places = next((n for n in range(4) if (value * 10**n).denominator == 1), 4)
    return Fraction(1, 2 * 10**places)


def _number(text: Any) -> Fraction | None:
    try:
        return Fraction(str(text)) if text is not None else None
    except (ValueError, ZeroDivisionError):
        return None
