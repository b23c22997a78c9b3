"""The printed manual: the whole reference, section by section, ready to be set."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from ..catalogue import Catalogue
from ..catalogue.locator import locator_in
from .cautions import CautionView, view_cautions
from .changes import changed_entries
from .checklist import StationView, view_stations
from .duties import DutiesView, view_duties
from .entry import EntryView, RulingView
from .entry_lists import (
    ActionList,
    PartReferences,
    SeverityList,
    view_action_lists,
    view_parts,
    view_severity_lists,
)
from .figure_tables import LimitTable, figure_line, view_limit_tables
from .grouping import entries_under, rulebook_named
from .sources import SourceView, view_sources
from .word_index import IndexLetterView, index_words
from .wording import fixed_word, in_language

MOST_FIGURES_IN_AN_ENTRY = 4
"""An entry with more figures than this points to the table of figures, so that it stays on one page."""
MOST_ON_ONE_PAGE = 4000
"""Letters; an entry with more, such as one with long wording of the law, may run on to a further page."""


@dataclass(frozen=True, slots=True)
class EntryLimit:
    """A limit as an entry shows it."""

    id: str
    quantity: str
    lines: tuple[str, ...]
    """The rulebook's own figures; empty where they are too many or there are none, and the table is named."""
    confirmed: bool


@dataclass(frozen=True, slots=True)
class ManualEntry:
    """An entry with what only the manual adds to it."""

    view: EntryView
    heading: str
    fitted_names: tuple[str, ...]
    limits: tuple[EntryLimit, ...]
    long: bool
    """Whether it may be too much for one page."""
    changed: tuple[str, ...] = ()
    """In words what changed of it since the last kept edition; empty where nothing did."""


@dataclass(frozen=True, slots=True)
class SystemSection:
    """The entries of a system, component by component."""

    id: str
    number: int
    """Place of the system in the catalogue, from 1: the number in the thumb mark."""
    name: str
    entries: tuple[ManualEntry, ...]


@dataclass(frozen=True, slots=True)
class ManualSource:
    """A source and how much rests on it."""

    id: str
    title: str
    issuer: str
    kind_name: str
    edition: str | None
    url: str | None
    read_on: str | None
    how_read: str
    rests: tuple[tuple[str, int], ...]
    """What kind of fact names it, and how many of them."""
    n_read_in: int
    """Facts of any source that were read in it."""
    n_entries: int


@dataclass(frozen=True, slots=True)
class LeftOutView:
    """Something that the source holds and the rulebook here does not, and why."""

    locator: str
    what: str
    why: str


@dataclass(frozen=True, slots=True)
class ManualView:
    """The manual."""

    rulebook_name: str
    rulebook_short_name: str
    law: str
    binds: str
    n_entries: int
    n_items: int
    cautions: tuple[CautionView, ...]
    duties: DutiesView
    parts: tuple[PartReferences, ...]
    systems: tuple[SystemSection, ...]
    severity_lists: tuple[SeverityList, ...]
    action_lists: tuple[ActionList, ...]
    limits: tuple[LimitTable, ...]
    """Those with a figure of the rulebook's own, and those that decide an entry."""
    stations: tuple[StationView, ...]
    sources: tuple[ManualSource, ...]
    """Those that something in the manual rests on."""
    left_out: tuple[LeftOutView, ...]
    index: tuple[IndexLetterView, ...]


def view_manual(catalogue: Catalogue, rulebook_id: str, language: str) -> ManualView:
    """The manual of one rulebook in one language. Entries that the rulebook does not speak of are left out.

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
        MissingWording: a text has not been written in the language.
    """
    rulebook = rulebook_named(catalogue, rulebook_id)
    entries = entries_under(catalogue, rulebook_id, language)
    items = [item for schedule in rulebook.schedules for part in schedule.parts for item in part.items]
    changed = changed_entries(catalogue, rulebook_id, language)
    sections = tuple(
        SystemSection(
            id=system.id,
            number=number,
            name=in_language(system.name, language),
            entries=tuple(
                _manual_entry(catalogue, entry, rulebook_id, language, changed.get(entry.id, ()))
                for entry in entries
                if entry.system_id == system.id
            ),
        )
        for number, system in enumerate(catalogue.systems, start=1)
    )
    deciding = {limit.id for entry in entries for limit in entry.limits}
    return ManualView(
        rulebook_name=in_language(rulebook.name, language),
        rulebook_short_name=in_language(rulebook.short_name, language),
        law=in_language(rulebook.law, language),
        binds=in_language(rulebook.binds, language),
        n_entries=len(entries),
        n_items=len(items),
        cautions=view_cautions(catalogue, language),
        duties=view_duties(catalogue, rulebook_id, language),
        parts=view_parts(catalogue, rulebook_id, language),
        systems=tuple(section for section in sections if section.entries),
        severity_lists=view_severity_lists(catalogue, rulebook_id, language),
        action_lists=view_action_lists(catalogue, rulebook_id, language),
        limits=tuple(
            table
            for table in view_limit_tables(catalogue, rulebook_id, language)
            if table.own or table.id in deciding
        ),
        stations=view_stations(catalogue, rulebook_id, language),
        sources=tuple(
            _source(source)
            for source in view_sources(catalogue, rulebook_id, language)
            if source.n_cited or source.n_read_in or source.n_entries
        ),
        left_out=tuple(
            LeftOutView(
                locator_in(catalogue, left.locator, language),
                in_language(left.what, language),
                in_language(left.why, language),
            )
            for left in rulebook.left_out
        ),
        index=index_words(catalogue, entries, language),
    )


def _manual_entry(
    catalogue: Catalogue, entry: EntryView, rulebook_id: str, language: str, changed: tuple[str, ...]
) -> ManualEntry:
    limits = []
    for limit in entry.limits:
        own = [figure for figure in limit.figures if figure.rulebook_id == rulebook_id]
        shown = own if len(own) <= MOST_FIGURES_IN_AN_ENTRY else []
        limits.append(
            EntryLimit(
                id=limit.id,
                quantity=limit.quantity,
                lines=tuple(figure_line(limit, figure) for figure in shown),
                confirmed=all(figure.confirmed for figure in own),
            )
        )
    return ManualEntry(
        view=entry,
        heading=entry.heading,
        fitted_names=tuple(fixed_word(catalogue, f"fitted-{item}", language) for item in entry.fitted),
        limits=tuple(limits),
        changed=changed,
        long=len(entry.check) + sum(_length(ruling) for ruling in entry.rulings) > MOST_ON_ONE_PAGE,
    )


def _length(ruling: RulingView) -> int:
    texts = [ruling.locator, ruling.remark, ruling.law_text, *(action.text for action in ruling.actions)]
    return sum(len(text) for text in texts if text)


def _source(source: SourceView) -> ManualSource:
    rests: Counter[str] = Counter()
    for resting in source.cited:
        rests[resting.kind_name] += resting.n_facts
    return ManualSource(
        id=source.id,
        title=source.title,
        issuer=source.issuer,
        kind_name=source.kind_name,
        edition=source.edition,
        url=source.url,
        read_on=source.read_on.isoformat() if source.read_on else None,
        how_read=source.how_read,
        rests=tuple(rests.items()),
        n_read_in=source.n_read_in,
        n_entries=source.n_entries,
    )
