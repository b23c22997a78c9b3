"""The figures that decide a defect, each limit with the entries it decides."""

from __future__ import annotations

from dataclasses import dataclass

from ..catalogue import Catalogue
from ..catalogue.locator import locator_in
from .entry import FigureView, LimitView, view_limit
from .grouping import EntryRow, entries_under
from .wording import in_language


@dataclass(frozen=True, slots=True)
class FigureSource:
    """A source of some figures of a limit, and the places in it."""

    source_id: str
    title: str
    locators: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LimitPageView:
    """A limit, the rulebook's own figures apart from what others say, and what it decides."""

    limit: LimitView
    own: tuple[FigureView, ...]
    """The figures of the rulebook that the pages are about."""
    others: tuple[FigureView, ...]
    """What another authority or a handbook says."""
    sources: tuple[FigureSource, ...]
    rows: tuple[EntryRow, ...]


def view_figures(catalogue: Catalogue, rulebook_id: str, language: str) -> tuple[LimitPageView, ...]:
    """Every limit in the order of its table.

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
        MissingWording: a text has not been written in the language.
    """
    entries = entries_under(catalogue, rulebook_id, language)
    views = []
    for record in catalogue.limits:
        limit = view_limit(catalogue, record, language)
        places: dict[str, dict[str, None]] = {}
        for row in record.rows:
            places.setdefault(row.source, {})[locator_in(catalogue, row.locator, language)] = None
        views.append(
            LimitPageView(
                limit=limit,
                own=tuple(figure for figure in limit.figures if figure.rulebook_id == rulebook_id),
                others=tuple(figure for figure in limit.figures if figure.rulebook_id != rulebook_id),
                sources=tuple(
                    FigureSource(key, in_language(catalogue.source[key].title, language), tuple(locators))
                    for key, locators in places.items()
                ),
                rows=tuple(
                    EntryRow(entry, entry.governing)
                    for entry in entries
                    if any(decides.id == record.id for decides in entry.limits)
                ),
            )
        )
    return tuple(views)
