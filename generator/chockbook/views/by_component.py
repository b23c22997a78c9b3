"""The catalogue for a reader who can point at the part: systems, their components, their entries."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby

from ..catalogue import Catalogue
from .entry import EntryView
from .grouping import EntryRow, entries_under
from .wording import in_language


@dataclass(frozen=True, slots=True)
class OutcomeRows:
    """Entries of one component that have the same governing severity."""

    severity_id: str
    severity_name: str
    outcome: str
    may_drive: str
    rows: tuple[EntryRow, ...]


@dataclass(frozen=True, slots=True)
class ComponentView:
    """A component with its entries, worst first."""

    id: str
    name: str
    system_id: str
    system_name: str
    aliases: tuple[str, ...]
    entries: tuple[EntryView, ...]
    outcomes: tuple[OutcomeRows, ...]
    """The same entries gathered by governing severity, worst first."""


@dataclass(frozen=True, slots=True)
class SystemView:
    """A system with those of its components that have entries."""

    id: str
    name: str
    components: tuple[ComponentView, ...]


def outcome_rows(entries: tuple[EntryView, ...]) -> tuple[OutcomeRows, ...]:
    """Entries that stand worst first, gathered by their governing severity."""
    gathered = []
    for severity_id, group in groupby(entries, key=lambda entry: entry.governing.severity_id):
        rows = tuple(EntryRow(entry, entry.governing) for entry in group)
        worst = rows[0].ruling
        gathered.append(OutcomeRows(severity_id, worst.severity_name, worst.outcome, worst.may_drive, rows))
    return tuple(gathered)


def view_by_component(catalogue: Catalogue, rulebook_id: str, language: str) -> tuple[SystemView, ...]:
    """Systems in their order, with their components and the entries a rulebook speaks of.

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
        MissingWording: a text has not been written in the language.
    """
    records = {component.id: component for component in catalogue.components}
    systems: dict[str, list[ComponentView]] = {}
    names: dict[str, str] = {}
    by_component = groupby(entries_under(catalogue, rulebook_id, language), key=lambda e: e.component_id)
    for component_id, group in by_component:
        entries = tuple(group)
        first = entries[0]
        names[first.system_id] = first.system_name
        systems.setdefault(first.system_id, []).append(
            ComponentView(
                id=component_id,
                name=in_language(records[component_id].name, language),
                system_id=first.system_id,
                system_name=first.system_name,
                aliases=tuple((records[component_id].aliases or {}).get(language, ())),
                entries=entries,
                outcomes=outcome_rows(entries),
            )
        )
    return tuple(SystemView(key, names[key], tuple(components)) for key, components in systems.items())
