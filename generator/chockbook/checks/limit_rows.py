"""What figures in texts are held against: rows of limits with whose they are, and the words that name whose."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from ..catalogue.printed_figures import PrintedFigure, printed_figures
from ..catalogue.units import TABLE_UNITS, UNITS_OF_MEASURE, Unit
from .same_figure import is_conversion, number_in
from .walk import Tables, listed, records, said


@dataclass(frozen=True)
class HeldRow:
    """A row of a limit: whose figure it is, and every way in which the table has it."""

    limit: str
    dimension: str
    rulebook: str | None
    labels: dict[str, str]
    values: tuple[tuple[Fraction, Unit], ...]

    def has(self, figure: PrintedFigure) -> bool:
        """Whether a figure in a text is this row's: the same quantity, or converted as it is written."""
        return any(
            (unit.dimension == figure.unit.dimension and figure.in_base == value * unit.factor)
            or is_conversion(figure.value, figure.unit, value, unit)
            for value, unit in self.values
        )


class Names:
    """Words that name whose a figure is.

    A jurisdiction has its name. A rulebook has the first word of its short name ("Ontario Schedule 1"), and what all
    labels of its figures begin with ("United States, type 6").
    """

    def __init__(self, tables: Tables, rows: Iterable[HeldRow]) -> None:
        rows = list(rows)
        self._books: dict[str, dict[str, str | None]] = {}
        for _, record in records(tables, "jurisdictions.yaml", "jurisdictions"):
            for language, text in by_language(record.get("name")):
                self._books.setdefault(language, {})[text] = None
        for _, record in records(tables, "rulebooks.yaml", "rulebooks"):
            book = said(record, "id")
            for language, text in by_language(record.get("short_name")):
                names = self._books.setdefault(language, {})
                names[text.split()[0].strip(",.")] = book
                labels = {row.labels[language].split(",")[0] for row in rows if row.rulebook == book and language in row.labels}
                if len(labels) == 1:
                    names[labels.pop()] = book

    def found_in(self, clause: str, language: str) -> dict[str, str | None]:
        """The names in a clause, each with the id of its rulebook where it has one."""
        return {word: book for word, book in self._books.get(language, {}).items() if re.search(rf"\b{re.escape(word)}\b", clause)}


def rows_of_limits(tables: Tables) -> dict[str, list[HeldRow]]:
    """The rows of each limit that is measured in a known unit, by its id."""
    found = {}
    for at, limit in records(tables, "limits.yaml", "limits"):
        unit = UNITS_OF_MEASURE.get(TABLE_UNITS.get(str(limit.get("unit")), ""))
        name = said(limit, "id")
        if unit is not None and name is not None:
            found[name] = [_row(name, row, unit) for _, row in listed(tables["limits.yaml"], limit, at, "rows")]
    return found


def _row(limit: str, row: dict[str, Any], unit: Unit) -> HeldRow:
    values = [(number, unit) for key in ("value", "upper") if (number := number_in(row.get(key))) is not None]
    for _, text in by_language(row.get("printed")):
        values += [(figure.value, figure.unit) for figure in printed_figures(text)]
    return HeldRow(limit, unit.dimension, said(row, "rulebook"), dict(by_language(row.get("label"))), tuple(values))


def by_language(written: Any) -> Iterator[tuple[str, str]]:
    """The texts of a mapping by language, those that are empty or no texts left out."""
    for language, text in written.items() if isinstance(written, dict) else ():
        if isinstance(text, str) and text.strip():
            yield language, text
