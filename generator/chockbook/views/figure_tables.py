"""The limits as tables for paper: what rows have in common stands once, in numbered notes."""

from __future__ import annotations

from dataclasses import dataclass

from ..catalogue import Catalogue
from .entry import FigureView, LimitView, view_limit
from .wording import in_language


@dataclass(frozen=True, slots=True)
class FigureNote:
    """What several figures of a limit have in common: where they come from and how sure they are."""

    number: int
    source_title: str
    locator: str
    basis_name: str
    confirmed: bool
    remark: str | None


@dataclass(frozen=True, slots=True)
class FigureRow:
    """A row of a limit's table."""

    label: str
    printed: str
    own: bool
    """Whether it is the rulebook's own figure, or what another authority or handbook says."""
    note: int


@dataclass(frozen=True, slots=True)
class LimitTable:
    """A limit as a table with its notes."""

    id: str
    quantity: str
    compare: str
    compare_name: str
    method: str
    rows: tuple[FigureRow, ...]
    notes: tuple[FigureNote, ...]


def figure_line(limit: LimitView, figure: FigureView) -> str:
    """Such as "Fifth wheel: no more than 13 mm (1/2 in)"; a range is given as printed, not compared."""
    if limit.compare == "between":
        return f"{figure.label}: {figure.printed}"
    return f"{figure.label}: {limit.compare_name} {figure.printed}"


def view_limit_tables(catalogue: Catalogue, rulebook_id: str, language: str) -> tuple[LimitTable, ...]:
    """Every limit in the order of the table.

    Raises:
        MissingWording: a text has not been written in the language.
    """
    return tuple(
        _limit_table(catalogue, view_limit(catalogue, limit, language), rulebook_id, language)
        for limit in catalogue.limits
    )


def _limit_table(catalogue: Catalogue, limit: LimitView, rulebook_id: str, language: str) -> LimitTable:
    notes: dict[tuple[object, ...], FigureNote] = {}
    rows = []
    for figure in limit.figures:
        key = (figure.source_id, figure.locator, figure.basis, figure.remark)
        if key not in notes:
            notes[key] = FigureNote(
                number=len(notes) + 1,
                source_title=in_language(catalogue.source[figure.source_id].title, language),
                locator=figure.locator,
                basis_name=figure.basis_name,
                confirmed=figure.confirmed,
                remark=figure.remark,
            )
        own = figure.rulebook_id == rulebook_id
        rows.append(FigureRow(figure.label, figure.printed, own, notes[key].number))
    return LimitTable(
        id=limit.id,
        quantity=limit.quantity,
        compare=limit.compare,
        compare_name=limit.compare_name,
        method=limit.method,
        rows=tuple(rows),
        notes=tuple(notes.values()),
    )
