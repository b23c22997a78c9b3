"""Lists that name entries and leave their pages to the setter: by item, by severity, by action."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby

from ..catalogue import Catalogue
from .by_action import ActionPageView, view_by_action
from .by_severity import SeverityView, view_by_severity
from .entry import ActionView
from .grouping import EntryRow, SystemRows
from .schedule import ItemView, view_schedules
from .wording import fixed_word


@dataclass(frozen=True, slots=True)
class EntryReference:
    """An entry named in a list; its page is found when the list is set."""

    id: str
    condition: str
    applies_when: str | None


@dataclass(frozen=True, slots=True)
class ComponentReferences:
    """The entries of a component in a list."""

    name: str
    entries: tuple[EntryReference, ...]


@dataclass(frozen=True, slots=True)
class ItemReferences:
    """An item of a schedule with the entries that stand under it."""

    id: str
    letter: str
    """Such as "(a)"; empty where the schedule numbers its items otherwise, as the locator then tells."""
    text: str
    applies_when: str | None
    locator: str
    standing: tuple[str, ...]
    """Basis in words, then what of its place is not confirmed."""
    remark: str | None
    components: tuple[ComponentReferences, ...]


@dataclass(frozen=True, slots=True)
class SeverityColumn:
    """The items of one severity in a part."""

    severity_name: str
    outcome: str
    may_drive: str
    items: tuple[ItemReferences, ...]


@dataclass(frozen=True, slots=True)
class PartReferences:
    """A part of a schedule, worst column first."""

    schedule_name: str | None
    """Only where the rulebook has several schedules."""
    id: str
    """Unlike that of every other part of the rulebook."""
    name: str
    """What a reader calls it, such as "Part 7"."""
    title: str
    columns: tuple[SeverityColumn, ...]


@dataclass(frozen=True, slots=True)
class SystemReferences:
    """The entries of a system in a list."""

    name: str
    components: tuple[ComponentReferences, ...]


@dataclass(frozen=True, slots=True)
class SeverityList:
    """A severity, what it calls for, and its entries by system."""

    id: str
    name: str
    outcome: str
    may_drive: str
    meaning: str
    deadline: str | None
    """By when it is to be repaired, where the rulebook says so."""
    actions: tuple[ActionView, ...]
    source_title: str
    locator: str
    basis_name: str
    remark: str | None
    n_entries: int
    systems: tuple[SystemReferences, ...]


@dataclass(frozen=True, slots=True)
class ComponentPages:
    """A component and its entries, of which only the pages are printed."""

    name: str
    entry_ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ActionList:
    """An action, the severities that call for it, and where it applies."""

    id: str
    text: str
    by_name: str
    source_title: str
    locator: str
    basis_name: str
    remark: str | None
    severities: tuple[str, ...]
    n_entries: int
    systems: tuple[tuple[str, tuple[ComponentPages, ...]], ...]


def view_parts(catalogue: Catalogue, rulebook_id: str, language: str) -> tuple[PartReferences, ...]:
    """The parts of every schedule of a rulebook.

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
        MissingWording: a text has not been written in the language.
    """
    order = [severity.id for severity in view_by_severity(catalogue, rulebook_id, language)]
    parts = []
    schedules = view_schedules(catalogue, rulebook_id, language)
    for schedule in schedules:
        for part in schedule.parts:
            worst_first = sorted(part.items, key=lambda item: order.index(item.severity_id))
            columns = []
            for _, group in groupby(worst_first, key=lambda item: item.severity_id):
                items = tuple(group)
                columns.append(
                    SeverityColumn(
                        severity_name=items[0].severity_name,
                        outcome=items[0].outcome,
                        may_drive=items[0].may_drive,
                        items=tuple(_item(catalogue, item, language) for item in items),
                    )
                )
            parts.append(
                PartReferences(
                    schedule_name=schedule.name if len(schedules) > 1 else None,
                    id=part.anchor,
                    name=part.name,
                    title=part.title,
                    columns=tuple(columns),
                )
            )
    return tuple(parts)


def view_severity_lists(catalogue: Catalogue, rulebook_id: str, language: str) -> tuple[SeverityList, ...]:
    """Every severity of a rulebook, worst first, with its entries.

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
        MissingWording: a text has not been written in the language.
    """
    return tuple(_severity(severity) for severity in view_by_severity(catalogue, rulebook_id, language))


def view_action_lists(catalogue: Catalogue, rulebook_id: str, language: str) -> tuple[ActionList, ...]:
    """Every action of a rulebook with the components whose entries call for it.

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
        MissingWording: a text has not been written in the language.
    """
    return tuple(_action(page) for page in view_by_action(catalogue, rulebook_id, language))


def _references(rows: tuple[EntryRow, ...]) -> tuple[ComponentReferences, ...]:
    by_component: dict[str, list[EntryReference]] = {}
    for row in rows:
        reference = EntryReference(row.entry.id, row.entry.condition, row.ruling.applies_when)
        by_component.setdefault(row.entry.component_name, []).append(reference)
    return tuple(ComponentReferences(name, tuple(entries)) for name, entries in by_component.items())


def _item(catalogue: Catalogue, item: ItemView, language: str) -> ItemReferences:
    standing = [item.basis_name]
    if item.confirmed and not item.locator_confirmed:
        standing.append(fixed_word(catalogue, "letter-not-confirmed", language))
    return ItemReferences(
        id=item.id,
        letter=f"({item.letter})" if item.letter.isalpha() else "",
        text=item.text,
        applies_when=item.applies_when,
        locator=item.locator,
        standing=tuple(standing),
        remark=item.remark,
        components=_references(item.rows),
    )


def _severity(severity: SeverityView) -> SeverityList:
    return SeverityList(
        id=severity.id,
        name=severity.name,
        outcome=severity.outcome,
        may_drive=severity.may_drive,
        meaning=severity.meaning,
        deadline=severity.deadline,
        actions=severity.actions,
        source_title=severity.source_title,
        locator=severity.locator,
        basis_name=severity.basis_name,
        remark=severity.remark,
        n_entries=severity.n_entries,
        systems=tuple(
            SystemReferences(group.system_name, _references(group.rows)) for group in severity.systems
        ),
    )


def _action(page: ActionPageView) -> ActionList:
    return ActionList(
        id=page.action.id,
        text=page.action.text,
        by_name=page.by_name,
        source_title=page.source_title,
        locator=page.action.locator,
        basis_name=page.basis_name,
        remark=page.action.remark,
        severities=tuple(severity.name for severity in page.severities),
        n_entries=page.n_entries,
        systems=tuple((group.system_name, _components(group)) for group in page.systems),
    )


def _components(group: SystemRows) -> tuple[ComponentPages, ...]:
    ids: dict[str, dict[str, None]] = {}
    for row in group.rows:
        ids.setdefault(row.entry.component_name, {})[row.entry.id] = None
    return tuple(ComponentPages(name, tuple(entry_ids)) for name, entry_ids in ids.items())
