"""Which entries a rulebook speaks of, and lists of them under their systems."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from ..catalogue import Catalogue, RulebookRecord
from ..catalogue.remembered import remembered
from .entry import EntryView, RulingView, view_entry


class UnknownRulebook(LookupError):
    """A rulebook is wanted that the catalogue does not hold."""


@dataclass(frozen=True, slots=True)
class EntryRow:
    """An entry in a list, with the ruling for which it stands there."""

    entry: EntryView
    ruling: RulingView


@dataclass(frozen=True, slots=True)
class SystemRows:
    """The rows of a list that belong to one system."""

    system_id: str
    system_name: str
    rows: tuple[EntryRow, ...]


def rulebook_named(catalogue: Catalogue, rulebook_id: str) -> RulebookRecord:
    """The rulebook with an id.

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
    """
    if rulebook_id not in catalogue.rulebook:
        raise UnknownRulebook(f"the catalogue has no rulebook {rulebook_id!r}")
    return catalogue.rulebook[rulebook_id]


@remembered
def entries_under(catalogue: Catalogue, rulebook_id: str, language: str) -> tuple[EntryView, ...]:
    """Entries that a rulebook speaks of, by system and component; within a component worst first.

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
        MissingWording: a text has not been written in the language.
    """
    rulebook_named(catalogue, rulebook_id)
    systems = {system.id: place for place, system in enumerate(catalogue.systems)}
    components = {component.id: place for place, component in enumerate(catalogue.components)}
    spoken_of = [entry for entry in catalogue.entries if entry.rulings_under(rulebook_id)]
    spoken_of.sort(
        key=lambda entry: (
            systems[entry.system.id],
            components[entry.component.id],
            -entry.rulings_under(rulebook_id)[0].rank,
        )
    )
    return tuple(view_entry(catalogue, entry, rulebook_id, language) for entry in spoken_of)


def under_systems(rows: Iterable[EntryRow]) -> tuple[SystemRows, ...]:
    """Rows gathered under their systems, both in the order in which they come."""
    gathered: dict[str, list[EntryRow]] = {}
    for row in rows:
        gathered.setdefault(row.entry.system_id, []).append(row)
    return tuple(
        SystemRows(system_id=system_id, system_name=rows_here[0].entry.system_name, rows=tuple(rows_here))
        for system_id, rows_here in gathered.items()
    )
