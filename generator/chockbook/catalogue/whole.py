"""The whole checked catalogue. Nothing after it looks at YAML, and nothing changes it."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from .defect import ComponentRecord, SystemRecord
from .edition import Edition
from .entry import Entry
from .jurisdiction import JurisdictionRecord
from .limit import LimitRecord
from .publisher import PublisherTable
from .route import MarkingRecord, StationRecord
from .rulebook import RulebookRecord
from .search_words import SearchWordsRecord
from .source import SourceRecord
from .words import CautionRecord, LanguageRecord


@dataclass(frozen=True)
class Catalogue:
    """Every table, checked, in the order in which it was written."""

    edition: Edition
    systems: tuple[SystemRecord, ...]
    components: tuple[ComponentRecord, ...]
    entries: tuple[Entry, ...]
    rulebooks: tuple[RulebookRecord, ...]
    sources: tuple[SourceRecord, ...]
    limits: tuple[LimitRecord, ...]
    stations: tuple[StationRecord, ...]
    jurisdictions: tuple[JurisdictionRecord, ...]
    languages: tuple[LanguageRecord, ...]
    cautions: tuple[CautionRecord, ...]
    words: dict[str, dict[str, str]]
    publisher: PublisherTable
    search: tuple[SearchWordsRecord, ...] = ()
    marking: MarkingRecord = field(default_factory=MarkingRecord)
    locators: tuple[dict[str, str], ...] = ()
    former: tuple[dict[str, Any], ...] = ()
    """Former editions that the project keeps (source_tables/editions), as plain data, the latest last. They are no
    part of what the edition says."""

    @cached_property
    def locator_words(self) -> dict[str, tuple[tuple[str, str], ...]]:
        """Of each language but the first the fixed words of locators, with those that take their place."""
        first, *others = (language.code for language in self.languages)
        return {
            code: tuple((text[first], text[code]) for text in self.locators if first in text and code in text)
            for code in others
        }

    @cached_property
    def entry(self) -> dict[str, Entry]:
        """Entries by id."""
        return {entry.id: entry for entry in self.entries}

    @cached_property
    def entries_of(self) -> dict[str, tuple[Entry, ...]]:
        """Entries by the id of their component."""
        found: dict[str, list[Entry]] = {}
        for entry in self.entries:
            found.setdefault(entry.component.id, []).append(entry)
        return {component: tuple(entries) for component, entries in found.items()}

    @cached_property
    def component(self) -> dict[str, ComponentRecord]:
        """Components by id."""
        return {component.id: component for component in self.components}

    @cached_property
    def rulebook(self) -> dict[str, RulebookRecord]:
        """Rulebooks by id."""
        return {rulebook.id: rulebook for rulebook in self.rulebooks}

    @cached_property
    def source(self) -> dict[str, SourceRecord]:
        """Sources by id."""
        return {source.id: source for source in self.sources}

    @cached_property
    def limit(self) -> dict[str, LimitRecord]:
        """Limits by id."""
        return {limit.id: limit for limit in self.limits}

    @cached_property
    def caution(self) -> dict[str, CautionRecord]:
        """Cautions by id."""
        return {caution.id: caution for caution in self.cautions}
