"""The cards: what may go on them and in which order. Where a card ends is found out in printing."""

from __future__ import annotations

import re
from dataclasses import dataclass

from ..catalogue import Catalogue, Entry, Ruling
from ..catalogue.locator import locator_in
from .card_limit import card_limit
from .carrier_unit import MadeUp, can_have
from .entry import ActionView, view_action
from .grouping import rulebook_named
from .wording import fixed_word, in_language

STOPS = "no"
"""The value of may_drive whose lanes stand on the front of a card."""
NOT_READ = re.compile(r" \([^()]*not read\)$")
"""The end of a locator that says what of the place was not read."""


@dataclass(frozen=True, slots=True)
class CardEntryView:
    """A defect as it stands under its item."""

    entry_id: str
    component_name: str
    condition: str
    limit: str | None
    """What still holds, such as "Limit: at least 3 mm"; None where the card gives no figure."""


@dataclass(frozen=True, slots=True)
class CardItemView:
    """An item of the schedule with the defects that it covers; locator and marks stand once for all of them."""

    item_id: str
    locator: str
    applies_when: str | None
    marks: tuple[str, ...]
    """What is not yet confirmed about it, in words; empty where all is."""
    entries: tuple[CardEntryView, ...]


@dataclass(frozen=True, slots=True)
class CardSystemView:
    """The part of a lane that belongs to one system."""

    system_id: str
    system_name: str
    items: tuple[CardItemView, ...]


@dataclass(frozen=True, slots=True)
class LaneView:
    """Defects with the same severity and the same actions; the lane head gives both once for each card."""

    severity_id: str
    severity_name: str
    may_drive: str
    outcome: str
    actions: tuple[ActionView, ...]
    systems: tuple[CardSystemView, ...]

    @property
    def stops(self) -> bool:
        """Whether the lane belongs on the stop side."""
        return self.may_drive == STOPS


@dataclass(frozen=True, slots=True)
class DeckView:
    """Every lane of a deck, worst first."""

    system_names: tuple[tuple[str, str], ...]
    """Id and name of the systems that have entries, in the order of the catalogue."""
    lanes: tuple[LaneView, ...]


def view_deck(
    catalogue: Catalogue,
    rulebook_id: str,
    language: str,
    unit: MadeUp | None = None,
    worst_only: bool = False,
) -> DeckView:
    """The deck of one rulebook, for one unit or for all.

    Args:
        catalogue: the checked catalogue.
        rulebook_id: the rulebook; defects that it does not speak of are left out.
        language: code of the deck's language.
        unit: leaves out what the unit cannot have; None keeps everything.
        worst_only: keeps the rulebook's worst severity only.

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
        MissingWording: a text has not been written in the language.
    """
    worst = len(rulebook_named(catalogue, rulebook_id).severities) - 1
    found = [
        (entry, ruling)
        for entry in catalogue.entries
        if can_have(unit, entry)
        for ruling in entry.rulings_under(rulebook_id)
        if ruling.rank == worst or not worst_only
    ]
    lanes: dict[tuple[int, tuple[str, ...]], list[tuple[Entry, Ruling]]] = {}
    for entry, ruling in found:
        key = (-ruling.rank, tuple(action.id for action in ruling.actions))
        lanes.setdefault(key, []).append((entry, ruling))
    with_entries = {entry.system.id for entry, _ in found}
    return DeckView(
        system_names=tuple(
            (system.id, in_language(system.name, language))
            for system in catalogue.systems
            if system.id in with_entries
        ),
        lanes=tuple(_lane(catalogue, lanes[key], language) for key in sorted(lanes, key=lambda key: key[0])),
    )


def _lane(catalogue: Catalogue, pairs: list[tuple[Entry, Ruling]], language: str) -> LaneView:
    first = pairs[0][1]
    severity = first.severity
    by_system: dict[str, list[tuple[Entry, Ruling]]] = {}
    for entry, ruling in pairs:
        by_system.setdefault(entry.system.id, []).append((entry, ruling))
    return LaneView(
        severity_id=severity.id,
        severity_name=in_language(severity.name, language),
        may_drive=severity.may_drive,
        outcome=in_language(severity.outcome, language),
        actions=tuple(view_action(catalogue, action, language) for action in first.actions),
        systems=tuple(
            CardSystemView(
                system_id=system.id,
                system_name=in_language(system.name, language),
                items=_items(catalogue, by_system[system.id], language),
            )
            for system in catalogue.systems
            if system.id in by_system
        ),
    )


def _items(
    catalogue: Catalogue, pairs: list[tuple[Entry, Ruling]], language: str
) -> tuple[CardItemView, ...]:
    """The items in the order of the schedule, each with its entries by component."""
    items = [
        item.id
        for schedule in pairs[0][1].rulebook.schedules
        for part in schedule.parts
        for item in part.items
    ]
    schedule_order = {item: place for place, item in enumerate(items)}
    component_order = {component.id: place for place, component in enumerate(catalogue.components)}
    gathered: dict[tuple[str, str | None], list[tuple[Entry, Ruling]]] = {}
    for entry, ruling in pairs:
        applies = in_language(ruling.applies_when, language) if ruling.applies_when else None
        gathered.setdefault((ruling.item.id, applies), []).append((entry, ruling))
    return tuple(
        CardItemView(
            item_id=item,
            locator=_place(catalogue, gathered[item, applies][0][1], language),
            applies_when=applies,
            marks=_marks(catalogue, gathered[item, applies][0][1], language),
            entries=tuple(
                CardEntryView(
                    entry_id=entry.id,
                    component_name=in_language(entry.component.name, language),
                    condition=in_language(entry.condition, language),
                    limit=card_limit(catalogue, entry, ruling.rulebook.id, language),
                )
                for entry, ruling in sorted(
                    gathered[item, applies], key=lambda pair: component_order[pair[0].component.id]
                )
            ),
        )
        for item, applies in sorted(gathered, key=lambda key: schedule_order[key[0]])
    )


def _place(catalogue: Catalogue, ruling: Ruling, language: str) -> str:
    """Where the item stands, without what of it was not read where a mark beside it says so."""
    locator = NOT_READ.sub("", ruling.locator) if _marks(catalogue, ruling, language) else ruling.locator
    return locator_in(catalogue, locator, language)


def _marks(catalogue: Catalogue, ruling: Ruling, language: str) -> tuple[str, ...]:
    item = ruling.item
    if not item.confirmed:
        return (fixed_word(catalogue, "not-confirmed", language),)
    if (item.locator_basis or item.basis) == "from-memory":
        return (fixed_word(catalogue, "letter-not-confirmed", language),)
    return ()
