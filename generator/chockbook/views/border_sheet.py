"""The border sheet: what a driver who crosses from one rulebook into another needs first, short enough for paper."""

from __future__ import annotations

from dataclasses import dataclass

from ..catalogue import Catalogue
from ..catalogue.row_choice import own_rows
from .border_news import NEWS, figures_differ
from .comparison import SeverityAcross, view_crossing
from .sides import SideView
from .wording import fixed_word, in_language

IN_LISTS = ("forbidden-there", "stricter-there", "only-there", "milder-there", "only-here")
"""News that is listed defect by defect. Deadlines belong to severities and figures to limits: both have a list of their
own."""
MOST_FIGURES = 6
"""Figures of one limit that the sheet prints for a rulebook; of a longer table it says how long it is."""


@dataclass(frozen=True, slots=True)
class SheetLine:
    """A defect in a list of the sheet."""

    name: str
    detail: str
    """What the other rulebook says of it, or this one where the other does not speak."""
    may_drive: str
    confirmed: bool


@dataclass(frozen=True, slots=True)
class SheetGroup:
    """The defects of one system."""

    name: str
    lines: tuple[SheetLine, ...]


@dataclass(frozen=True, slots=True)
class SheetSection:
    """A kind of news with its defects by system."""

    key: str
    title: str
    number: int
    groups: tuple[SheetGroup, ...]


@dataclass(frozen=True, slots=True)
class SheetFigure:
    """A limit with the figures of both rulebooks."""

    quantity: str
    here: tuple[str, ...]
    there: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class BorderSheetView:
    """What the sheet holds, the worst news first."""

    here_name: str
    there_name: str
    title: str
    severities: tuple[SeverityAcross, ...]
    sections: tuple[SheetSection, ...]
    figures: tuple[SheetFigure, ...]
    none_forbidden: str | None
    """What to say where nothing that is allowed here is forbidden there."""


def view_border_sheet(
    catalogue: Catalogue, rulebook_id: str, other_id: str, language: str
) -> BorderSheetView:
    """The sheet for a driver who knows one rulebook and crosses into another.

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
    """
    crossing = view_crossing(catalogue, rulebook_id, other_id, language)
    sections = []
    for key in IN_LISTS:
        groups = []
        for system in crossing.systems:
            lines = tuple(
                _line(row.name, row.there if row.there.rulings else row.here)
                for row in system.rows
                if key in row.news
            )
            if lines:
                groups.append(SheetGroup(system.name, lines))
        number = sum(len(group.lines) for group in groups)
        if groups:
            sections.append(
                SheetSection(key, fixed_word(catalogue, f"across-{key}", language), number, tuple(groups))
            )
    title = fixed_word(catalogue, "across-into", language)
    forbidden = any(section.key == NEWS[0] for section in sections)
    return BorderSheetView(
        here_name=crossing.here_name,
        there_name=crossing.there_name,
        title=title.replace("{here}", crossing.here_name).replace("{there}", crossing.there_name),
        severities=crossing.severities,
        sections=tuple(sections),
        figures=_figures(catalogue, rulebook_id, other_id, language),
        none_forbidden=None if forbidden else fixed_word(catalogue, "across-sheet-none", language),
    )


def _line(name: str, side: SideView) -> SheetLine:
    ruling = side.rulings[0]
    when = f", {ruling.applies_when}" if ruling.applies_when else ""
    return SheetLine(
        name, f"{ruling.severity_name}{when}; {ruling.locator}", ruling.may_drive, ruling.confirmed
    )


def _figures(catalogue: Catalogue, here_id: str, there_id: str, language: str) -> tuple[SheetFigure, ...]:
    """The limits that decide a defect of both rulebooks and whose figures differ."""
    both = [e for e in catalogue.entries if e.rulings_under(here_id) and e.rulings_under(there_id)]
    wanted = {limit.id for entry in both for limit in entry.limits}
    found = []
    for limit in catalogue.limits:
        if limit.id in wanted and figures_differ(limit, here_id, there_id):
            told = [_told(catalogue, limit, rulebook, language) for rulebook in (here_id, there_id)]
            found.append(SheetFigure(in_language(limit.quantity, language), *told))
    return tuple(found)


def _told(catalogue: Catalogue, limit, rulebook_id: str, language: str) -> tuple[str, ...]:
    rows = own_rows(limit, rulebook_id)
    if not rows:
        return (fixed_word(catalogue, "across-no-figure", language),)
    if len(rows) > MOST_FIGURES:
        return (fixed_word(catalogue, "across-more-figures", language).replace("{number}", str(len(rows))),)
    compare = (
        ""
        if limit.compare == "between"
        else fixed_word(catalogue, f"compare-{limit.compare}", language) + " "
    )
    unsure = fixed_word(catalogue, "not-confirmed", language)
    return tuple(
        f"{in_language(row.label, language)}: {compare}{in_language(row.printed, language)}"
        + ("" if row.confirmed else f" ({unsure})")
        for row in rows
    )
