"""A rulebook's schedules part by part, each item with the entries that stand under it."""

from __future__ import annotations

import re
from dataclasses import dataclass

from ..catalogue import Catalogue, ItemRecord, RulebookRecord
from ..catalogue.locator import locator_in
from .entry import part_name
from .grouping import EntryRow, entries_under, rulebook_named
from .wording import fixed_word, in_language


@dataclass(frozen=True, slots=True)
class ItemView:
    """An item of a schedule: severity, letter, our paraphrase, standing, entries."""

    id: str
    letter: str
    text: str
    applies_when: str | None
    severity_id: str
    severity_name: str
    outcome: str
    may_drive: str
    source_id: str
    locator: str
    locator_confirmed: bool
    basis: str
    basis_name: str
    confirmed: bool
    remark: str | None
    rows: tuple[EntryRow, ...]


@dataclass(frozen=True, slots=True)
class PartView:
    """A part of a schedule."""

    anchor: str
    """Where the part stands on the page of the schedules, such as "part-7"."""
    part: str
    name: str
    """What a reader calls it, such as "Part 7"."""
    title: str
    items: tuple[ItemView, ...]


@dataclass(frozen=True, slots=True)
class ScheduleView:
    """A schedule, part by part."""

    id: str
    name: str
    rulebook_name: str
    law: str
    binds: str
    vehicle_names: tuple[str, ...]
    n_items: int
    parts: tuple[PartView, ...]


def part_anchor(schedule_id: str, part: str) -> str:
    """The anchor of a part: lower-case letters, digits and hyphens only."""
    return f"{schedule_id}-part-" + re.sub(r"[^a-z0-9]+", "-", part.lower()).strip("-")


def view_item(
    catalogue: Catalogue,
    rulebook: RulebookRecord,
    item: ItemRecord,
    language: str,
    rows: tuple[EntryRow, ...] = (),
) -> ItemView:
    """An item of a schedule in one language, with the entries that stand under it."""
    severity = next(severity for severity in rulebook.severities if severity.id == item.severity)
    return ItemView(
        id=item.id,
        letter=item.letter,
        text=in_language(item.text, language),
        applies_when=in_language(item.applies_when, language) if item.applies_when else None,
        severity_id=severity.id,
        severity_name=in_language(severity.name, language),
        outcome=in_language(severity.outcome, language),
        may_drive=severity.may_drive,
        source_id=item.source,
        locator=locator_in(catalogue, item.locator, language),
        locator_confirmed=(item.locator_basis or item.basis) != "from-memory",
        basis=item.basis,
        basis_name=fixed_word(catalogue, f"basis-{item.basis}", language),
        confirmed=item.confirmed,
        remark=in_language(item.remark, language) if item.remark else None,
        rows=rows,
    )


def view_schedules(catalogue: Catalogue, rulebook_id: str, language: str) -> tuple[ScheduleView, ...]:
    """The schedules of a rulebook in their own order.

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
        MissingWording: a text has not been written in the language.
    """
    rulebook = rulebook_named(catalogue, rulebook_id)
    under: dict[str, list[EntryRow]] = {}
    for entry in entries_under(catalogue, rulebook_id, language):
        records = catalogue.entry[entry.id].rulings_under(rulebook_id)
        for ruling, record in zip(entry.rulings, records, strict=True):
            for item_id in (ruling.item_id, *(item.id for item in record.also)):
                under.setdefault(item_id, []).append(EntryRow(entry, ruling))
    return tuple(
        ScheduleView(
            id=schedule.id,
            name=in_language(schedule.name, language),
            rulebook_name=in_language(rulebook.name, language),
            law=in_language(rulebook.law, language),
            binds=in_language(rulebook.binds, language),
            vehicle_names=tuple(fixed_word(catalogue, f"vehicle-{v}", language) for v in schedule.vehicles),
            n_items=sum(len(part.items) for part in schedule.parts),
            parts=tuple(
                PartView(
                    anchor=part_anchor(schedule.id, part.part),
                    part=part.part,
                    name=part_name(catalogue, part.part, language),
                    title=in_language(part.title, language),
                    items=tuple(
                        view_item(
                            catalogue, rulebook, item, language, tuple(under.get(item.id, ()))
                        )
                        for item in part.items
                    ),
                )
                for part in schedule.parts
            ),
        )
        for schedule in rulebook.schedules
    )
