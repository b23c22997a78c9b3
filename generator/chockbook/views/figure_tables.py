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
    note: int


@dataclass(frozen=True, slots=True)
class LimitTable:
    """A limit as a table with its notes."""

    id: str
    quantity: str
    compare: str
    compare_name: str
    method: str
    own: tuple[FigureRow, ...]
    """The figures of the rulebook that the manual is about."""
    others: tuple[FigureRow, ...]
    """What another authority or a handbook says."""
    notes: tuple[FigureNote, ...]


def figure_line(limit: LimitView, figure: FigureView) -> str:
    """Such as "Fifth wheel: no more than 13 mm (1/2 in)"; a range is given as printed, not compared."""
    if limit.compare == "between":
        return f"{figure.label}: {figure.printed}"
    return f"{figure.label}: {limit.compare_name} {figure.printed}"


def view_limit_tables(catalogue: Catalogue, rulebook_id: str, language: str) -> tuple[LimitTable, ...]:
    """Every limit in the order of the table; in each the rulebook's own figures come first.

    Raises:
        MissingWording: a text has not been written in the language.
    """
    return tuple(
        _limit_table(catalogue, view_limit(catalogue, limit, language), rulebook_id, language)
        for limit in catalogue.limits
    )


def _limit_table(catalogue: Catalogue, limit: LimitView, rulebook_id: str, language: str) -> LimitTable:
    own = [figure for figure in limit.figures if figure.rulebook_id == rulebook_id]
    others = [figure for figure in limit.figures if figure.rulebook_id != rulebook_id]
    notes: dict[tuple[object, ...], FigureNote] = {}
    for figure in (*own, *others):
        if _common(figure) not in notes:
            notes[_common(figure)] = FigureNote(
                number=len(notes) + 1,
                source_title=in_language(catalogue.source[figure.source_id].title, language),
                locator=figure.locator,
                basis_name=figure.basis_name,
                confirmed=figure.confirmed,
                remark=figure.remark,
            )

    def rows(figures: list[FigureView]) -> tuple[FigureRow, ...]:
        return tuple(FigureRow(f.label, f.printed, notes[_common(f)].number) for f in figures)

    return LimitTable(
        id=limit.id,
        quantity=limit.quantity,
        compare=limit.compare,
        compare_name=limit.compare_name,
        method=limit.method,
        own=rows(own),
        others=rows(others),
        notes=tuple(notes.values()),
    )


def _common(figure: FigureView) -> tuple[object, ...]:
    return (figure.source_id, figure.locator, figure.basis, figure.remark)
