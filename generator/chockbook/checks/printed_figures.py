"""The value of a limit and what is printed of it are the same figure.

A value decides when a driver measures, and the printed form is what the driver reads. One of the two changed alone
would tell people one thing and judge them by another.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Any

from ..catalogue.printed_figures import PrintedFigure, printed_figures
from ..catalogue.units import TABLE_UNITS, UNITS_OF_MEASURE, Unit
from ..faults import Fault, quoted
from ..tables import Steps, Table
from .same_figure import is_rounded, number_in
from .walk import Tables, listed, records

RULE = "printed-figure"


def find(tables: Tables) -> Iterator[Fault]:
    """A fault for each printed form that has figures of the limit's kind, and not those of its row."""
    table = tables["limits.yaml"]
    for at, limit in records(tables, "limits.yaml", "limits"):
        unit = UNITS_OF_MEASURE.get(TABLE_UNITS.get(str(limit.get("unit")), ""))
        if unit is not None:
            for row_at, row in listed(table, limit, at, "rows"):
                yield from _judge(table, row, row_at, unit, str(limit["unit"]))


def _judge(table: Table, row: dict[str, Any], at: Steps, unit: Unit, unit_name: str) -> Iterator[Fault]:
    values = {key: number for key in ("value", "upper") if (number := number_in(row.get(key))) is not None}
    said = row.get("printed")
    for language, text in said.items() if isinstance(said, dict) else ():
        figures = [one for one in printed_figures(text) if one.unit.dimension == unit.dimension] if isinstance(text, str) else []
        if not figures:
            continue  # in words, such as "one quarter full"
        for key, number in values.items():
            if not any(_is_printed(number, unit, figure) for figure in figures):
                yield Fault(table.place((*at, "printed", language)), RULE,
                            f"{quoted(text)} is printed where `{key}` is {row[key]} {unit_name}",
                            "people would read one figure and be judged by the other",
                            f"write the figure of the source in both; `{key}` is in {unit_name}, the unit of the limit")  # fmt: skip


def _is_printed(value: Fraction, unit: Unit, figure: PrintedFigure) -> bool:
    """Whether a value is a printed figure: exactly, or converted and rounded as the value is written."""
    return value * unit.factor == figure.in_base or is_rounded(value, unit, figure.value, figure.unit)
