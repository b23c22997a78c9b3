"""What the lookup page needs to show entries and to decide findings, as plain data.

Entries stand in the order of the lookup index. Texts that repeat are given once and named by their place.
"""

from __future__ import annotations

from typing import Any

from ..catalogue import UNITS, Catalogue, Entry
from .entry import EntryView, RulingView, view_entry
from .grouping import rulebook_named
from .wording import fixed_word, in_language

VEHICLES = ("truck", "tractor", "trailer", "converter-dolly")
"""Kinds of vehicle; an entry's kinds are given as a sum of 1, 2, 4 and 8."""
NOTHING = -1
"""Stands for the place of a text that there is not."""
WORDS = (
    "what-to-do",
    "how-to-check",
    "source",
    "not-confirmed",
    "letter-not-confirmed",
    "title",
    "edition",
    "issued",
    "check-by",
    "aid-short",
    "web-remark",
    "web-law-text",
    "web-limit",
    "web-severity",
    "fit-general",
    "joined",
)
"""Words shared with the other pages; every word that begins with "lookup-" is given too."""


class _Numbered:
    """Texts, each once, by place."""

    def __init__(self) -> None:
        self.texts: dict[str, int] = {}

    def place(self, text: str | None) -> int:
        return NOTHING if text is None else self.texts.setdefault(text, len(self.texts))


def lookup_entries(catalogue: Catalogue, rulebook_id: str) -> tuple[Entry, ...]:
    """The entries that a rulebook speaks of, in the order of the catalogue."""
    return tuple(entry for entry in catalogue.entries if entry.rulings_under(rulebook_id))


def lookup_words(catalogue: Catalogue, language: str) -> dict[str, str]:
    """The fixed words of the lookup page.

    Raises:
        MissingWording: a word has not been written in the language.
    """
    names = [*WORDS, *(key for key in catalogue.words if key.startswith("lookup-"))]
    return {name: fixed_word(catalogue, name, language) for name in names}


def lookup_data(catalogue: Catalogue, rulebook_id: str, language: str) -> dict[str, Any]:
    """Everything the page shows, in one language and under one rulebook.

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
        MissingWording: a text has not been written in the language.
    """
    return _Data(catalogue, rulebook_id, language).gather()


class _Data:
    def __init__(self, catalogue: Catalogue, rulebook_id: str, language: str) -> None:
        self.catalogue, self.rulebook_id, self.language = catalogue, rulebook_id, language
        self.rulebook = rulebook_named(catalogue, rulebook_id)
        self.texts = _Numbered()
        self.items: dict[str, int] = {}
        self.item_rows: list[list[Any]] = []
        self.limits: dict[str, int] = {}
        self.limit_rows: list[list[Any]] = []
        self.actions = {action.id: place for place, action in enumerate(self.rulebook.actions)}
        self.severities = {severity.id: place for place, severity in enumerate(self.rulebook.severities)}
        self.systems = {system.id: place for place, system in enumerate(catalogue.systems)}
        used = {entry.component.id for entry in lookup_entries(catalogue, rulebook_id)}
        self.own_components = [component for component in catalogue.components if component.id in used]
        self.components = {component.id: place for place, component in enumerate(self.own_components)}

    def word(self, key: str) -> str:
        return fixed_word(self.catalogue, key, self.language)

    def text(self, texts) -> str:
        return in_language(texts, self.language)

    def gather(self) -> dict[str, Any]:
        entries = [
            self.entry(view_entry(self.catalogue, entry, self.rulebook_id, self.language))
            for entry in lookup_entries(self.catalogue, self.rulebook_id)
        ]
        edition, rulebook = self.catalogue.edition, self.rulebook
        return {
            "language": self.language,
            "edition": {"code": edition.code, "date": str(edition.date), "checkBy": str(edition.check_by)},
            "rulebook": self.text(rulebook.short_name),
            "words": lookup_words(self.catalogue, self.language),
            "severities": [
                [s.id, self.text(s.name), self.text(s.outcome), s.may_drive] for s in rulebook.severities
            ],
            "actions": [
                [a.id, a.kind, self.word(f"by-{a.by}"), self.text(a.text), int(a.confirmed)]
                for a in rulebook.actions
            ],
            "units": [
                [unit, self.word(f"unit-{unit}"), 1 << VEHICLES.index(kind)] for unit, kind in UNITS.items()
            ],
            "report": [[field.on_form, self.text(field.name)] for field in rulebook.report],
            "systems": [[system.id, self.text(system.name)] for system in self.catalogue.systems],
            "components": [[c.id, self.systems[c.system], self.text(c.name)] for c in self.own_components],
            "entries": entries,
            "items": self.item_rows,
            "limits": self.limit_rows,
            "texts": list(self.texts.texts),
        }

    def entry(self, view: EntryView) -> list[Any]:
        kinds = sum(1 << VEHICLES.index(vehicle) for vehicle in view.vehicles)
        limits = [self.limit(limit) for limit in view.limits]
        rulings = [self.ruling(ruling) for ruling in view.rulings]
        return [
            self.components[view.component_id],
            view.slug,
            view.condition,
            view.check,
            kinds,
            limits,
            rulings,
        ]

    def ruling(self, ruling: RulingView) -> list[Any]:
        return [
            self.item(ruling),
            self.texts.place(ruling.applies_when),
            [self.actions[action.id] for action in ruling.actions],
            int(ruling.fit == "general"),
            self.texts.place(ruling.remark),
            self.texts.place(ruling.law_text),
        ]

    def item(self, ruling: RulingView) -> int:
        if ruling.item_id not in self.items:
            self.items[ruling.item_id] = len(self.item_rows)
            self.item_rows.append(
                [
                    ruling.item_id,
                    self.severities[ruling.severity_id],
                    ruling.locator,
                    self.texts.place(ruling.source_title),
                    self.texts.place(ruling.basis_name),
                    int(ruling.confirmed),
                    int(ruling.locator_confirmed),
                ]
            )
        return self.items[ruling.item_id]

    def limit(self, limit) -> int:
        if limit.id not in self.limits:
            self.limits[limit.id] = len(self.limit_rows)
            self.limit_rows.append(
                [
                    limit.quantity,
                    limit.compare_name,
                    limit.method,
                    [
                        [
                            figure.label,
                            figure.printed,
                            self.texts.place(figure.basis_name),
                            int(figure.confirmed),
                        ]
                        for figure in limit.figures
                        if figure.rulebook_id == self.rulebook_id
                    ],
                ]
            )
        return self.limits[limit.id]
