"""Rulebooks side by side: a defect under all of them, and what changes for a driver who crosses from one to
another.

A rulebook that does not speak of a defect is never shown as allowing it: what was not read may still be the
law.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from ..catalogue import Catalogue, Entry, LimitRecord, LimitRow, RulebookRecord, SeverityRecord
from ..catalogue.measure import bounds_of, systems_of
from ..catalogue.row_choice import own_rows
from .entry import RulingView, view_ruling
from .grouping import rulebook_named
from .wording import fixed_word, in_language

News = Literal[
    "forbidden-there",
    "stricter-there",
    "only-there",
    "other-figure",
    "other-deadline",
    "milder-there",
    "only-here",
    "same",
]
NEWS: tuple[News, ...] = (
    "forbidden-there",
    "stricter-there",
    "only-there",
    "other-figure",
    "other-deadline",
    "milder-there",
    "only-here",
    "same",
)
"""What can change at the border, worst first."""
STRICT = ("yes", "once-reported", "if-safe", "no")
"""What a severity lets a driver do, mildest first."""
SHOWN_FIGURES = 3
"""Figures of one limit shown in a row; longer tables are pointed to."""


@dataclass(frozen=True, slots=True)
class FigureLine:
    """A rulebook's own figures of one limit that decides the defect."""

    limit_id: str
    quantity: str
    figures: tuple[str, ...]
    """Each with what it applies to; the first few of a longer table."""
    more: int
    """Figures of the table beyond those."""


@dataclass(frozen=True, slots=True)
class SideView:
    """What one rulebook says of a defect."""

    rulebook_id: str
    rulebook_name: str
    rulings: tuple[RulingView, ...]
    """Worst first; empty where the rulebook, as far as it was read, does not speak of the defect."""
    deadline: str | None
    figures: tuple[FigureLine, ...]
    absent: str | None
    """What to say where there is no ruling."""

    @property
    def governing(self) -> RulingView | None:
        """The worst ruling."""
        return self.rulings[0] if self.rulings else None


@dataclass(frozen=True, slots=True)
class DefectAcross:
    """A defect with what every rulebook says of it."""

    entry_id: str
    name: str
    component_id: str
    slug: str
    sides: tuple[SideView, ...]


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


def compare_defect(catalogue: Catalogue, entry_id: str, language: str) -> DefectAcross:
    """A defect under every rulebook, in the order of the tables.

    Raises:
        KeyError: the catalogue has no such defect.
    """
    return _across(catalogue, catalogue.entry[entry_id], language)


def compare_all(catalogue: Catalogue, language: str) -> tuple[tuple[str, str, tuple[DefectAcross, ...]], ...]:
    """Every defect under every rulebook: id and name of each system with its defects."""
    found = []
    for system in catalogue.systems:
        entries = [entry for entry in catalogue.entries if entry.system.id == system.id]
        name = in_language(system.name, language)
        found.append((system.id, name, tuple(_across(catalogue, entry, language) for entry in entries)))
    return tuple(found)


def _across(catalogue: Catalogue, entry: Entry, language: str) -> DefectAcross:
    sides = tuple(_side(catalogue, entry, rulebook, language) for rulebook in catalogue.rulebooks)
    return DefectAcross(entry.id, _name(entry, language), entry.component.id, entry.slug, sides)


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


def news_of(entry: Entry, here_id: str, there_id: str) -> tuple[News, ...]:
    """What changes for a defect from one rulebook to another, worst first; empty where neither speaks of
    it."""
    here, there = entry.rulings_under(here_id), entry.rulings_under(there_id)
    if not here and not there:
        return ()
    if not here:
        return ("only-there",)
    if not there:
        return ("only-here",)
    found: set[News] = set()
    ours, theirs = here[0].severity, there[0].severity
    change = STRICT.index(theirs.may_drive) - STRICT.index(ours.may_drive)
    if change > 0:
        found.add("forbidden-there" if theirs.may_drive == "no" else "stricter-there")
    elif change < 0:
        found.add("milder-there")
    if ours.deadline != theirs.deadline:
        found.add("other-deadline")
    if any(figures_differ(limit, here_id, there_id) for limit in entry.limits):
        found.add("other-figure")
    return tuple(news for news in NEWS if news in found) or ("same",)


def figures_differ(limit: LimitRecord, here_id: str, there_id: str) -> bool:
    """Whether the other rulebook has figures of its own that are not those of the first.

    Figures are held against each other in a unit system that both sources print; where there is none,
    exactly.
    """
    here, there = own_rows(limit, here_id), own_rows(limit, there_id)
    if not there:
        return False
    if not here:
        return True
    agreeing = []
    for system in systems_of(limit):
        if all(not bounds_of(limit, row, system).low.converted for row in (*here, *there)):
            agreeing.append(_values(limit, here, system) == _values(limit, there, system))
    if agreeing:
        return not any(agreeing)
    system = systems_of(limit)[0]
    return _values(limit, here, system) != _values(limit, there, system)


def _values(limit: LimitRecord, rows: tuple[LimitRow, ...], system) -> set[tuple[Fraction, ...]]:
    bounds = [bounds_of(limit, row, system) for row in rows]
    return {tuple(end.in_base for end in (one.low, one.high) if end) for one in bounds}


def _crossing(
    catalogue: Catalogue, entry: Entry, here: RulebookRecord, there: RulebookRecord, language: str
) -> CrossingRow | None:
    news = news_of(entry, here.id, there.id)
    if not news:
        return None
    return CrossingRow(
        entry_id=entry.id,
        name=_name(entry, language),
        component_id=entry.component.id,
        slug=entry.slug,
        news=news,
        news_names=tuple(fixed_word(catalogue, f"across-{one}", language) for one in news),
        here=_side(catalogue, entry, here, language),
        there=_side(catalogue, entry, there, language),
    )


def _side(catalogue: Catalogue, entry: Entry, rulebook: RulebookRecord, language: str) -> SideView:
    rulings = entry.rulings_under(rulebook.id)
    name = in_language(rulebook.short_name, language)
    figures = []
    for limit in entry.limits:
        rows = own_rows(limit, rulebook.id)
        if rows:
            figures.append(_figure_line(catalogue, limit, rows, language))
    return SideView(
        rulebook_id=rulebook.id,
        rulebook_name=name,
        rulings=tuple(view_ruling(catalogue, ruling, language) for ruling in rulings),
        deadline=_deadline(rulebook, rulings[0].severity, language) if rulings else None,
        figures=tuple(figures),
        absent=None if rulings else fixed_word(catalogue, "across-absent", language),
    )


def _figure_line(
    catalogue: Catalogue, limit: LimitRecord, rows: tuple[LimitRow, ...], language: str
) -> FigureLine:
    compare = (
        ""
        if limit.compare == "between"
        else fixed_word(catalogue, f"compare-{limit.compare}", language) + " "
    )
    shown = rows if len(rows) <= SHOWN_FIGURES else ()
    told = tuple(
        f"{in_language(row.label, language)}: {compare}{in_language(row.printed, language)}" for row in shown
    )
    return FigureLine(limit.id, in_language(limit.quantity, language), told, len(rows) - len(shown))


def _severity(rulebook: RulebookRecord, severity: SeverityRecord, language: str) -> SeverityAcross:
    return SeverityAcross(
        rulebook_name=in_language(rulebook.short_name, language),
        name=in_language(severity.name, language),
        may_drive=severity.may_drive,
        outcome=in_language(severity.outcome, language),
        meaning=in_language(severity.meaning, language),
        deadline=_deadline(rulebook, severity, language),
        confirmed=severity.confirmed,
    )


def _deadline(rulebook: RulebookRecord, severity: SeverityRecord, language: str) -> str | None:
    """By when the defect is repaired: the severity's deadline, otherwise what its actions say of the
    repair."""
    if severity.deadline:
        return in_language(severity.deadline, language)
    repairs = [a for a in rulebook.actions if a.id in severity.actions and a.kind == "repair"]
    return " ".join(in_language(action.text, language) for action in repairs) or None


def _name(entry: Entry, language: str) -> str:
    return f"{in_language(entry.component.name, language)}: {in_language(entry.condition, language)}"


def _strictness(side: SideView) -> int:
    return STRICT.index(side.governing.may_drive) if side.governing else -1
