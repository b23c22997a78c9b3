"""Figures that are typed into a text agree with the limit that the entry or step names.

A figure stands once, in limits.yaml; what a text says of it is typed by hand, and stays behind when the limit changes.
A quantity of the limit's kind that is none of the limit's rows, as a value, as printed or converted, is a fault. One
that only rows of another rulebook have is told too: the text is read under the rulebooks of its entry, or speaks of
those that it names. Whether a row of the same rulebook is the right one of several, nobody can tell from a text.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from ..catalogue.printed_figures import PrintedFigure, printed_figures
from ..faults import Fault, quoted
from ..tables import Steps, Table
from .limit_rows import HeldRow, Names, by_language, rows_of_limits
from .walk import Tables, listed, records, rulings, said, steps_of_route, texts

RULE = "figure-in-text"
_EXCESS = re.compile(r"(?:limits? by|limites? de)\s+\S+\s+\S+(?:\s+\([^)]*\))?")
"""How far something is past its limit, as in "past their limit by 6.4 mm (1/4 in)": no limit of its own."""
_CLAUSES = re.compile(r"(?<=[.;:])\s+")
"""Where one clause ends and the next can speak of another jurisdiction."""


@dataclass(frozen=True)
class _About:
    """What the texts of a record are about: limits, by their ids, and the rulebooks under which they are read."""

    limits: tuple[str, ...]
    rows: tuple[HeldRow, ...]
    rulebooks: tuple[str, ...]
    names: Names


def find(tables: Tables) -> Iterator[Fault]:
    """A fault for each text with a figure that the named limits do not have; a warning where they have it elsewhere."""
    held = rows_of_limits(tables)
    names = Names(tables, (row for rows in held.values() for row in rows))
    ruled: dict[str, dict[str, None]] = {}
    for defect, _, ruling in rulings(tables):
        if (book := said(ruling, "rulebook")) is not None:
            ruled.setdefault(str(defect.get("id")), {})[book] = None

    def about(limits: Iterable[str], books: Iterable[str]) -> _About:
        limits = tuple(limits)
        return _About(limits, tuple(row for name in limits for row in held.get(name, ())), tuple(dict.fromkeys(books)), names)

    catalogue, route = tables["catalogue.yaml"], tables["route.yaml"]
    for at, defect in records(tables, "catalogue.yaml", "defects"):
        limits = [name for _, name in texts(defect, at, "limits")]
        its = about(limits, ruled.get(str(defect.get("id")), ()))
        yield from _judge(its, catalogue, defect, at, ("condition", "check"))
        for ruling_at, ruling in listed(catalogue, defect, at, "rulings"):
            its = about(limits, filter(None, [said(ruling, "rulebook")]))
            yield from _judge(its, catalogue, ruling, ruling_at, ("applies_when", "remark"))
    for at, step in steps_of_route(tables):
        books = (book for _, entry in texts(step, at, "finds") for book in ruled.get(entry, ()))
        its = about((name for _, name in texts(step, at, "figure")), books)
        yield from _judge(its, route, step, at, ("item", "want", "do", "good", "say"))


def _judge(about: _About, table: Table, record: dict[str, Any], at: Steps, keys: Iterable[str]) -> Iterator[Fault]:
    dimensions = {row.dimension for row in about.rows}
    for key in keys if dimensions else ():
        for language, text in by_language(record.get(key)):
            nowhere: list[str] = []
            not_there: dict[str, list[str]] = {}
            for clause in _CLAUSES.split(_EXCESS.sub(" ", text)):
                for figure in printed_figures(clause):
                    written = f"{float(figure.value):g} {figure.unit.id}"
                    if figure.unit.dimension not in dimensions:
                        continue
                    if not any(row.has(figure) for row in about.rows):
                        nowhere.append(written)
                        continue
                    for whose in _lacking(about, clause, language, figure):
                        not_there.setdefault(whose, []).append(written)
            yield from _told(table, (*at, key, language), text, about, nowhere, not_there)


def _told(table: Table, at: Steps, text: str, about: _About, nowhere: list[str],
          not_there: dict[str, list[str]]) -> Iterator[Fault]:  # fmt: skip
    limits = ", ".join(map(quoted, about.limits))
    why = "the text would say another figure than the table beside it"
    if nowhere:
        yield Fault(table.place(at), RULE, f"{' and '.join(nowhere)} in {quoted(text)}: no figure of {limits}", why,
                    "write the figure of the limit, or name the limit that has this one; figures of how a test is made ready "
                    "stand in the limit's method")  # fmt: skip
    for whose, figures in not_there.items():
        yield Fault(table.place(at), RULE, f"{' and '.join(figures)} in {quoted(text)}: no figure of {limits} under {quoted(whose)}",
                    why, "write no figure here, or name beside it the jurisdiction whose figure it is", level="warning")  # fmt: skip


def _lacking(about: _About, clause: str, language: str, figure: PrintedFigure) -> list[str]:
    """Of whom a figure that the limits have is none: of whoever the clause names, else of each rulebook it is read under."""
    named = about.names.found_in(clause, language)
    if named:
        theirs = [row for row in about.rows if (row.rulebook is not None and row.rulebook in named.values())
                  or any(word in row.labels.get(language, "") for word in named)]  # fmt: skip
        return [" and ".join(named)] if theirs and not any(row.has(figure) for row in theirs) else []
    with_own = [book for book in about.rulebooks if any(row.rulebook == book for row in about.rows)]
    if not with_own and about.rulebooks and all(row.rulebook for row in about.rows if row.has(figure)):
        return [" and ".join(about.rulebooks)]
    return [book for book in with_own if not any(row.has(figure) for row in _of(book, about.rows))]


def _of(book: str, rows: Iterable[HeldRow]) -> Iterator[HeldRow]:
    """A rulebook's own rows; of a limit of which it has none, those that are nobody's own."""
    rows = tuple(rows)
    with_own = {row.limit for row in rows if row.rulebook == book}
    return (row for row in rows if row.rulebook == book or (row.rulebook is None and row.limit not in with_own))
