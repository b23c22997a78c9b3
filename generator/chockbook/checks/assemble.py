"""From tables to the catalogue, or to faults: never half of either."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import cast

from ..catalogue import (
    TABLES,
    Catalogue,
    CatalogueTable,
    DefectRecord,
    Edition,
    Entry,
    JurisdictionsTable,
    LimitsTable,
    PublisherTable,
    Record,
    RouteTable,
    RulebookRecord,
    RulebooksTable,
    Ruling,
    RulingRecord,
    SourcesTable,
    WordsTable,
    edition_code,
)
from ..faults import Fault, errors, in_order, without_echoes
from ..tables import read_table, validate_shape
from . import (
    card_figures,
    coverage,
    dates,
    defects,
    duplicate_ids,
    figures,
    file_names,
    kept_editions,
    letters,
    plain_language,
    printed_figures,
    references,
    standing,
    translations,
    words,
)
from . import sources as sources_of_facts


@dataclass(frozen=True)
class Assembly:
    """What came of reading the tables."""

    catalogue: Catalogue | None
    """None where there is any error."""
    faults: list[Fault]
    """Errors and warnings, in the order of the files."""


def assemble_folder(folder: Path, needed_words: Iterable[str] = (), today: date | None = None) -> Assembly:
    """Read and check every table of a folder.

    Args:
        folder: the folder of tables, such as source_tables.
        needed_words: keys of the fixed words that the outputs use.
        today: the day by which review dates are judged; the machine's day where it is left out.
    """
    tables = {name: read_table(folder / name, f"{folder.name}/{name}") for name in TABLES}
    shaped = {name: validate_shape(tables[name], shape) for name, shape in TABLES.items()}
    found = [fault for table in tables.values() for fault in table.faults]
    for check in (duplicate_ids, file_names, letters, references, coverage, standing, defects, plain_language, translations,
                  printed_figures, figures, card_figures):
        found.extend(check.find(tables))
    found.extend(dates.find(tables, today))
    found.extend(sources_of_facts.find(tables, today))
    found.extend(words.find(tables, needed_words))
    kept, unfit = kept_editions.read_kept(folder)
    found.extend(unfit)
    faults = in_order(without_echoes(_of_what_was_read(found)))
    if errors(faults):
        return Assembly(None, faults)
    catalogue = _join(cast("dict[str, Record]", shaped))
    former = tuple(one.data for one in kept if one.code != catalogue.edition.code)
    return Assembly(replace(catalogue, former=former), faults)


def _of_what_was_read(faults: list[Fault]) -> list[Fault]:
    """Faults without those that only follow from a table that could not be read at all."""
    unread = {"missing-table", "empty-table", "encoding", "yaml-syntax", "unreadable", "too-large", "too-deep"}
    if any(fault.rule in unread for fault in faults):
        return [f for f in faults if f.rule not in ("unknown-reference", "uncovered-item", "unreached-entry",
                                                    "unused-record")]  # fmt: skip
    return faults


def _join(shaped: dict[str, Record]) -> Catalogue:
    table = cast(CatalogueTable, shaped["catalogue.yaml"])
    rulebooks = cast(RulebooksTable, shaped["rulebooks.yaml"]).rulebooks
    sources = cast(SourcesTable, shaped["sources.yaml"]).sources
    limits = cast(LimitsTable, shaped["limits.yaml"]).limits
    route = cast(RouteTable, shaped["route.yaml"])
    stations = route.stations
    others = cast(JurisdictionsTable, shaped["jurisdictions.yaml"]).jurisdictions
    fixed = cast(WordsTable, shaped["words.yaml"])
    content: list[Record] = [*table.systems, *table.components, *table.defects, *rulebooks, *sources, *limits,
                             *stations, route.marking, *others, *fixed.cautions]  # fmt: skip
    edition = Edition(edition_code(content, fixed.words), table.edition.date, table.edition.check_by)
    follow = _Follow(table, rulebooks, {s.id: s for s in sources}, {limit.id: limit for limit in limits})
    return Catalogue(
        edition=edition,
        systems=tuple(table.systems),
        components=tuple(table.components),
        entries=tuple(follow.entry(defect) for defect in table.defects),
        rulebooks=tuple(rulebooks),
        sources=tuple(sources),
        limits=tuple(limits),
        stations=tuple(stations),
        jurisdictions=tuple(others),
        languages=tuple(fixed.languages),
        cautions=tuple(fixed.cautions),
        words=fixed.words,
        publisher=cast(PublisherTable, shaped["publisher.yaml"]),
        search=tuple(fixed.search),
        marking=route.marking,
        locators=tuple(fixed.locators),
    )


class _Follow:
    """Follows every reference of a defect. All of them exist: the checks have seen to it."""

    def __init__(self, table: CatalogueTable, rulebooks: list[RulebookRecord], sources: dict, limits: dict) -> None:
        self.systems = {system.id: system for system in table.systems}
        self.components = {component.id: component for component in table.components}
        self.sources, self.limits = sources, limits
        self.rulebooks = {rulebook.id: rulebook for rulebook in rulebooks}
        self.items = {
            (rulebook.id, item.id): (schedule, part, item)
            for rulebook in rulebooks
            for schedule in rulebook.schedules
            for part in schedule.parts
            for item in part.items
        }
        self.ranks = {(r.id, s.id): (n, s) for r in rulebooks for n, s in enumerate(r.severities)}
        self.actions = {(r.id, a.id): a for r in rulebooks for a in r.actions}

    def entry(self, defect: DefectRecord) -> Entry:
        component = self.components[defect.component]
        return Entry(
            id=defect.id,
            system=self.systems[component.system],
            component=component,
            condition=defect.condition,
            check=defect.check,
            aliases={language: tuple(words) for language, words in defect.aliases.items()},
            vehicles=tuple(defect.vehicles),
            limits=tuple(self.limits[limit] for limit in defect.limits),
            rulings=tuple(self.ruling(ruling) for ruling in defect.rulings),
        )

    def ruling(self, record: RulingRecord) -> Ruling:
        rulebook = self.rulebooks[record.rulebook]
        schedule, part, item = self.items[rulebook.id, record.item]
        rank, severity = self.ranks[rulebook.id, item.severity]
        actions = record.actions if record.actions is not None else severity.actions
        return Ruling(
            rulebook=rulebook,
            schedule=schedule,
            part=part,
            item=item,
            also=tuple(self.items[rulebook.id, other][2] for other in record.also),
            severity=severity,
            rank=rank,
            applies_when=record.applies_when or item.applies_when,
            actions=tuple(self.actions[rulebook.id, action] for action in actions),
            source=self.sources[item.source],
            fit=record.fit,
            law_text=record.law_text,
            remark=record.remark,
        )
