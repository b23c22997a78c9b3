"""One change between two editions, and the whole difference."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

KINDS = (
    "severity-up", "new", "severity-down", "gone", "actions", "circumstance", "figures", "applies-to", "duties", "route",
    "wording", "translation", "source", "standing", "renamed", "words",
)  # fmt: skip
"""Kinds of change, what matters most to a driver first. figures: a figure or what is measured. applies-to: the
vehicles, equipment, component or ruling. standing: how sure a fact is, such as from memory to published."""

READERS: dict[str, tuple[str, ...]] = {
    "driver": ("severity-up", "new", "severity-down", "gone", "actions", "circumstance", "figures", "applies-to"),
    "instructor": KINDS,
    "carrier": tuple(kind for kind in KINDS if kind not in ("source", "renamed", "words")),
}
"""Kinds of change that each kind of reader acts on. Whoever teaches has notes on all of them; a carrier pulls prints, and
most kinds stand on one (CARRIED in stale.py)."""


@dataclass(frozen=True, slots=True)
class Change:
    """One thing that is not as it was."""

    kind: str
    about: str
    """entry, figure, severity, action, item, duty, report, station, step, caution, component, system, source,
    rulebook, province, word or language."""
    id: str
    rulebook: str = ""
    """The rulebook under which it changed; empty where it is the same for all."""
    field: str = ""
    name: Any = None
    """What a reader knows it by: a text by language."""
    before: Any = None
    """A text by language, a plain text, a list of texts, or nothing."""
    after: Any = None
    languages: tuple[str, ...] = ()
    """Languages whose wording changed; empty where it is not about wording."""
    entries: tuple[str, ...] = ()
    """Ids of the entries that rest on it."""
    on: tuple[tuple[tuple[str, ...], tuple[str, ...]], ...] = ()
    """Vehicles and equipment of the units that it touches; empty where it touches every unit."""
    cards: tuple[tuple[str, str], ...] = ()
    """Rulebook and component of the cards that say something of those entries, in either edition."""
    shown_on: tuple[tuple[tuple[str, ...], tuple[str, ...]], ...] | None = None
    """Vehicles and equipment of the units whose checklist shows a figure; None where the route is not known."""

    def as_data(self) -> dict[str, Any]:
        """The change for other programs."""
        return {"kind": self.kind, "about": self.about, "id": self.id, "rulebook": self.rulebook or None,
                "field": self.field or None, "name": self.name, "from": self.before, "to": self.after,
                "languages": list(self.languages), "entries": list(self.entries)}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Difference:
    """Everything that changed from one edition to another."""

    old: dict[str, str]
    """code, date and check_by."""
    new: dict[str, str]
    changes: tuple[Change, ...]
    """By kind, in the order of KINDS."""
    unknown: tuple[str, ...] = ()
    """What an edition's file does not hold, so that it was not compared, such as the route."""
    components: dict[str, Any] = field(default_factory=dict)
    """Names of the components of either edition by id, each a text by language; those that are gone come last."""

    def under(self, rulebook: str, language: str | None = None) -> tuple[Change, ...]:
        """The changes that a reader of one rulebook, and of one language, can see."""
        return tuple(c for c in self.changes if c.rulebook in ("", rulebook)
                     and (language is None or not c.languages or language in c.languages))  # fmt: skip
