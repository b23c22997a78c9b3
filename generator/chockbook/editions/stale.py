"""Which printed decks, checklists and sheets went stale, from the register that is written when they are printed.

A print is stale where something that it carries changed: under its rulebook, in its language, on its unit. It is
"same" where only the edition's code differs. A print with a telephone number that its carrier has changed is stale too,
of whatever edition it is. A print of an edition that is not known here cannot be judged.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Literal

from .change import Change, Difference

Unit = tuple[tuple[str, ...], tuple[str, ...]]
"""Vehicles and equipment of a carrier's unit."""

CARRIED: dict[str, dict[str, tuple[str, ...]]] = {
    "deck": {
        "entry": ("whole", "condition", "severity", "applies_when", "actions", "ruling", "item", "vehicles", "component"),
        "component": ("name", "fitted", "system"),
        "system": ("name",),
        "severity": ("whole", "name", "outcome", "may_drive", "actions", "place"),
        "action": ("whole", "text", "kind", "by", "basis"),
        "item": ("locator", "basis", "applies_when", "severity"),
        "figure": ("whole", "row", "value", "printed", "label", "basis", "compare", "unit", "quantity", "card", "place"),
        "caution": ("whole", "level", "hazard", "consequence", "avoid"),
        "rulebook": ("name", "short_name"),
    },
    "checklist": {
        "step": ("whole", "station", "act", "item", "want", "do", "good", "figure", "vehicles", "fitted", "seconds", "caution", "finds"),
        "station": ("whole", "name", "stage", "begin_when", "vehicles", "fitted"),
        "figure": ("whole", "row", "value", "printed", "label", "basis", "compare", "unit", "quantity"),
        "caution": ("whole", "level", "hazard", "consequence", "avoid"),
        "report": ("whole", "name", "basis"),
        "rulebook": ("name", "short_name"),
    },
    "report": {
        "report": ("whole", "name", "basis"),
        "severity": ("whole", "name", "outcome", "may_drive", "place"),
        "rulebook": ("name", "short_name", "law"),
    },
}  # fmt: skip
"""What each kind of print carries: fields of records, by what the record is. A deck gives the figures that the
table puts on cards, and what it says of a defect rests on the others too; a checklist shows those of its steps."""


@dataclass(frozen=True, slots=True)
class Judged:
    """One print of the register, and what became of it."""

    row: dict[str, str]
    state: Literal["current", "same", "stale", "unknown"]
    changes: tuple[Change, ...]
    """What it carries that changed."""
    other_contacts: bool = False
    """Whether it says of whom to call what the carrier's file no longer does."""

    @property
    def is_replaced(self) -> bool:
        """Whether a newer one was printed in its place, and nobody has said that this one was pulled."""
        return self.row.get("state") == "replaced"


def judge_prints(rows: Iterable[Mapping[str, str]], differences: Mapping[str, Difference], current: str,
                 units: Mapping[tuple[str, str], Unit],
                 contacts: Callable[[str, tuple[str, ...]], str | None] = lambda carrier, languages: None) -> list[Judged]:  # fmt: skip
    """What became of each print.

    Args:
        rows: the rows of the register; a print in two languages names both, such as "en+fr".
        differences: what changed since each former edition, by its code.
        current: code of the edition in force.
        units: what units are made up of, by carrier and unit; of one that is not there, everything counts.
        contacts: gives the code of a carrier's contacts in some languages, or None where nothing is known of it.
    """
    judged = []
    for row in rows:
        plain = {key: value or "" for key, value in row.items() if isinstance(key, str)}
        code = plain.get("edition", "")
        languages = plain.get("language", "").split("+")
        called = contacts(plain.get("carrier", ""), tuple(languages)) if plain.get("contacts") else None
        other = called is not None and called != plain["contacts"]
        if code == current:
            judged.append(Judged(plain, "stale" if other else "current", (), other))
        elif code not in differences:
            judged.append(Judged(plain, "stale" if other else "unknown", (), other))
        else:
            unit = units.get((plain.get("carrier", ""), plain.get("unit", "")))
            rulebook = plain.get("rulebook", "")
            seen = (change for change in differences[code].under(rulebook)
                    if not change.languages or set(change.languages) & set(languages))  # fmt: skip
            document = plain.get("document", "")
            changes = tuple(change for change in seen if carries(document, change) and touches(unit, change, document))
            judged.append(Judged(plain, "stale" if changes or other else "same", changes, other))
    return judged


def carries(document: str, change: Change) -> bool:
    """Whether a kind of print, such as "deck-card-letter", carries what changed."""
    kind = document.split("-", 1)[0]
    if kind not in CARRIED:
        return True
    if change.about == "word":
        return True
    if change.about == "language" or change.kind == "renamed":
        return False
    if change.about == "figure" and not (change.entries if kind == "deck" else change.shown_on is None or change.shown_on):
        return False
    return change.field in CARRIED[kind].get(change.about, ())


def touches(unit: Unit | None, change: Change, document: str = "deck") -> bool:
    """Whether a change is about something that a unit has: one of its defects, or on a checklist one of its steps."""
    shown = change.about == "figure" and document.startswith("checklist")
    where = change.shown_on if shown else change.on
    if unit is None or not where:
        return True
    vehicles, equipment = unit
    return any((not on or set(on) & set(vehicles)) and set(fitted) <= set(equipment) for on, fitted in where)
