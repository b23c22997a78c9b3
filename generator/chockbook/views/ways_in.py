"""The ways into the lookup beside its box, with how many defects each leads to, and the plain list of all."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from ..catalogue import Catalogue
from .entry import EntryView
from .grouping import entries_under, rulebook_named
from .wording import in_language


@dataclass(frozen=True, slots=True)
class WayView:
    """A choice: its id, its name, and the defects that it leads to."""

    id: str
    name: str
    count: int
    may_drive: str | None = None


@dataclass(frozen=True, slots=True)
class ComponentDefects:
    """The defects of one component, worst first."""

    name: str
    entries: tuple[EntryView, ...]


@dataclass(frozen=True, slots=True)
class SystemDefects:
    """The defects of one system."""

    id: str
    name: str
    components: tuple[ComponentDefects, ...]


@dataclass(frozen=True, slots=True)
class LegendView:
    """A severity, and what to do about it in general."""

    id: str
    name: str
    outcome: str
    actions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class WaysIn:
    """Every choice that leads to a defect, and all defects under their systems."""

    systems: tuple[WayView, ...]
    severities: tuple[WayView, ...]
    actions: tuple[WayView, ...]
    every: tuple[SystemDefects, ...]
    legend: tuple[LegendView, ...]


def ways_in(catalogue: Catalogue, rulebook_id: str, language: str) -> WaysIn:
    """The ways in under one rulebook; severities worst first. Ways that lead nowhere are left out.

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
        MissingWording: a text has not been written in the language.
    """
    rulebook = rulebook_named(catalogue, rulebook_id)
    entries = entries_under(catalogue, rulebook_id, language)
    action_text = {action.id: in_language(action.text, language) for action in rulebook.actions}
    systems = Counter(entry.system_id for entry in entries)
    severities = Counter(name for entry in entries for name in {r.severity_id for r in entry.rulings})
    actions = Counter(name for entry in entries for name in {a.id for r in entry.rulings for a in r.actions})
    return WaysIn(
        systems=tuple(
            WayView(system.id, in_language(system.name, language), systems[system.id])
            for system in catalogue.systems
            if systems[system.id]
        ),
        severities=tuple(
            WayView(one.id, in_language(one.outcome, language), severities[one.id], one.may_drive)
            for one in reversed(rulebook.severities)
            if severities[one.id]
        ),
        actions=tuple(
            WayView(action.id, in_language(action.text, language), actions[action.id])
            for action in rulebook.actions
            if actions[action.id]
        ),
        every=_under_systems(entries),
        legend=tuple(
            LegendView(
                one.id,
                in_language(one.name, language),
                in_language(one.outcome, language),
                tuple(action_text[action] for action in one.actions),
            )
            for one in reversed(rulebook.severities)
        ),
    )


def _under_systems(entries: tuple[EntryView, ...]) -> tuple[SystemDefects, ...]:
    gathered: dict[tuple[str, str], dict[str, list[EntryView]]] = {}
    for entry in entries:
        system = gathered.setdefault((entry.system_id, entry.system_name), {})
        system.setdefault(entry.component_name, []).append(entry)
    return tuple(
        SystemDefects(*system, tuple(ComponentDefects(part, tuple(rows)) for part, rows in parts.items()))
        for system, parts in gathered.items()
    )
