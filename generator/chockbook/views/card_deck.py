"""The pocket cards: a deck for each system, stop lane first. Setting finds out where a card ends."""

from __future__ import annotations

from dataclasses import dataclass

from ..catalogue import Catalogue
from .entry import ActionView, EntryView, RulingView
from .grouping import entries_under
from .wording import fixed_word, in_language


@dataclass(frozen=True, slots=True)
class CardEntryView:
    """A defect as it stands in a lane."""

    entry_id: str
    component_name: str
    condition: str
    applies_when: str | None
    locator: str
    marks: tuple[str, ...]
    """What is not yet confirmed about it, in words; empty where all is."""


@dataclass(frozen=True, slots=True)
class LaneView:
    """Entries with the same severity and the same actions; the lane head gives both once for each card."""

    severity_id: str
    severity_name: str
    may_drive: str
    outcome: str
    actions: tuple[ActionView, ...]
    entries: tuple[CardEntryView, ...]


@dataclass(frozen=True, slots=True)
class DeckView:
    """The cards of a system."""

    system_id: str
    system_name: str
    lanes: tuple[LaneView, ...]


def view_decks(catalogue: Catalogue, rulebook_id: str, language: str) -> tuple[DeckView, ...]:
    """The decks of one rulebook, in the order of the systems; a system without entries has none.

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
        MissingWording: a text has not been written in the language.
    """
    entries = entries_under(catalogue, rulebook_id, language)
    decks = []
    for system in catalogue.systems:
        lanes = _lanes(catalogue, [entry for entry in entries if entry.system_id == system.id], language)
        if lanes:
            decks.append(
                DeckView(
                    system_id=system.id,
                    system_name=in_language(system.name, language),
                    lanes=lanes,
                )
            )
    return tuple(decks)


def _lanes(catalogue: Catalogue, entries: list[EntryView], language: str) -> tuple[LaneView, ...]:
    """Lanes worst first; a severity whose entries call for different actions has a lane for each set."""
    rank = {
        (rulebook.id, severity.id): place
        for rulebook in catalogue.rulebooks
        for place, severity in enumerate(rulebook.severities)
    }
    gathered: dict[tuple[str, tuple[str, ...]], list[tuple[EntryView, RulingView]]] = {}
    for entry in entries:
        for ruling in entry.rulings:
            key = (ruling.severity_id, tuple(action.id for action in ruling.actions))
            gathered.setdefault(key, []).append((entry, ruling))

    def worst_first(pairs: list[tuple[EntryView, RulingView]]) -> int:
        ruling = pairs[0][1]
        return -rank[ruling.rulebook_id, ruling.severity_id]

    return tuple(
        LaneView(
            severity_id=pairs[0][1].severity_id,
            severity_name=pairs[0][1].severity_name,
            may_drive=pairs[0][1].may_drive,
            outcome=pairs[0][1].outcome,
            actions=pairs[0][1].actions,
            entries=tuple(_card_entry(catalogue, entry, ruling, language) for entry, ruling in pairs),
        )
        for pairs in sorted(gathered.values(), key=worst_first)
    )


def _card_entry(catalogue: Catalogue, entry: EntryView, ruling: RulingView, language: str) -> CardEntryView:
    marks = []
    if not ruling.confirmed:
        marks.append(fixed_word(catalogue, "not-confirmed", language))
    elif not ruling.locator_confirmed:
        marks.append(fixed_word(catalogue, "letter-not-confirmed", language))
    return CardEntryView(
        entry_id=entry.id,
        component_name=entry.component_name,
        condition=entry.condition,
        applies_when=ruling.applies_when,
        locator=ruling.locator,
        marks=tuple(marks),
    )
