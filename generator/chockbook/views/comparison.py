"""What changes for a driver who crosses from one rulebook into another, defect by defect.

A rulebook that does not speak of a defect is never shown as allowing it: what was not read may still be the law.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from ..catalogue import Catalogue, Entry, RulebookRecord, SeverityRecord
from ..catalogue.remembered import remembered
from .border_news import NEWS, STRICT, news_of
from .entry import entry_name
from .grouping import rulebook_named
from .sides import SideView, deadline_of, side_of
from .wording import fixed_word, in_language


@dataclass(frozen=True, slots=True)
class CrossingRow:
    """A defect for which something changes at the border."""

    entry_id: str
    name: str
    component_id: str
    slug: str
    news: tuple[str, ...]
    """Keys of what changes, worst first."""
    news_names: tuple[str, ...]
    here: SideView
    there: SideView


@dataclass(frozen=True, slots=True)
class CrossingSystem:
    """The rows of one system, worst news first."""

    id: str
    name: str
    rows: tuple[CrossingRow, ...]


@dataclass(frozen=True, slots=True)
class SeverityAcross:
    """A severity of one of the rulebooks, in its own words."""

    rulebook_name: str
    name: str
    may_drive: str
    outcome: str
    meaning: str
    deadline: str | None
    confirmed: bool


@dataclass(frozen=True, slots=True)
class CrossingView:
    """What a driver who crosses from one rulebook into another is to know."""

    here_id: str
    here_name: str
    there_id: str
    there_name: str
    severities: tuple[SeverityAcross, ...]
    counts: tuple[tuple[str, str, int], ...]
    """Of each kind of news its key, its name and how many defects it concerns, worst first."""
    systems: tuple[CrossingSystem, ...]
    n_same: int
    """Defects of which both speak with no difference found."""


@remembered
def view_crossing(catalogue: Catalogue, rulebook_id: str, other_id: str, language: str) -> CrossingView:
    """What changes for a driver who crosses from one rulebook into another.

    Args:
        catalogue: the checked catalogue.
        rulebook_id: the rulebook that the driver knows.
        other_id: the rulebook that the driver crosses into.
        language: code of the language.

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
    """
    here, there = rulebook_named(catalogue, rulebook_id), rulebook_named(catalogue, other_id)
    rows = [row for entry in catalogue.entries if (row := _crossing(catalogue, entry, here, there, language))]
    counted = Counter(news for row in rows for news in row.news)
    systems = []
    for system in catalogue.systems:
        inside = [
            row
            for row in rows
            if catalogue.entry[row.entry_id].system.id == system.id and row.news != ("same",)
        ]
        inside.sort(key=lambda row: (NEWS.index(row.news[0]), -_strictness(row.there)))
        if inside:
            systems.append(CrossingSystem(system.id, in_language(system.name, language), tuple(inside)))
    return CrossingView(
        here_id=here.id,
        here_name=in_language(here.short_name, language),
        there_id=there.id,
        there_name=in_language(there.short_name, language),
        severities=tuple(
            _severity(rulebook, s, language)
            for rulebook in (here, there)
            for s in reversed(rulebook.severities)
        ),
        counts=tuple(
            (news, fixed_word(catalogue, f"across-{news}", language), counted[news]) for news in NEWS[:-1]
        ),
        systems=tuple(systems),
        n_same=counted["same"],
    )


def _crossing(
    catalogue: Catalogue, entry: Entry, here: RulebookRecord, there: RulebookRecord, language: str
) -> CrossingRow | None:
    news = news_of(entry, here.id, there.id)
    if not news:
        return None
    return CrossingRow(
        entry_id=entry.id,
        name=entry_name(catalogue, entry, language),
        component_id=entry.component.id,
        slug=entry.slug,
        news=news,
        news_names=tuple(fixed_word(catalogue, f"across-{one}", language) for one in news),
        here=side_of(catalogue, entry, here, language),
        there=side_of(catalogue, entry, there, language),
    )


def _severity(rulebook: RulebookRecord, severity: SeverityRecord, language: str) -> SeverityAcross:
    return SeverityAcross(
        rulebook_name=in_language(rulebook.short_name, language),
        name=in_language(severity.name, language),
        may_drive=severity.may_drive,
        outcome=in_language(severity.outcome, language),
        meaning=in_language(severity.meaning, language),
        deadline=deadline_of(rulebook, severity, language),
        confirmed=severity.confirmed,
    )


def _strictness(side: SideView) -> int:
    return STRICT.index(side.governing.may_drive) if side.governing else -1
