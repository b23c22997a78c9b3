"""Which printed decks, checklists and sheets went stale, from the register that is written when they are printed.

A print is stale where something that it carries changed: under its rulebook, in its language, on its unit; or where
what it took from its carrier's own file is another thing there now, of whatever edition it is. It is "same" where only
the edition's code differs, or where another print took its place that says the same: what was replaced is never
current. A print cannot be judged whose edition is not known here, whose carrier has no file here, or of which the
register does not say what it took.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Literal

from ..catalogue.carrier import CarrierRecord
from ..catalogue.taken import Taken, print_code
from .change import Change, Difference
from .own_file import GONE, OwnChange, own_changes, taken_now, taken_of

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


Unjudged = Literal["no-edition", "no-carrier", "no-own-file"]
"""Why a print cannot be judged: its edition is not kept, its carrier has no file here without faults, or the register
does not say what it took from that file."""
Pile = Literal["stale", "pull", "unknown", "same", "current"]
"""What is to be done with a print: pulled and printed again; pulled only; pulled and printed again since nobody can
judge it; nothing, twice."""
OF_PARTS = ("entry", "component", "figure", "item")
"""Records that are on the cards of some components only; others, such as a severity, are on many cards or on all."""


@dataclass(frozen=True, slots=True)
class Judged:
    """One print of the register, and what became of it."""

    row: dict[str, str]
    state: Literal["current", "same", "stale", "unknown"]
    changes: tuple[Change, ...]
    """What it carries that changed in the tables."""
    own: tuple[OwnChange, ...] = ()
    """What it took from its carrier's file and is another thing there now."""
    unjudged: tuple[Unjudged, ...] = ()
    """Why nobody can say here that it is good."""
    new_code: str | None = None
    """Code of what such a print takes from the carrier's file now; None where there would be no such print."""

    @property
    def is_replaced(self) -> bool:
        """Whether a newer one was printed in its place, or none any more, and nobody has said that this one was pulled."""
        return self.row.get("state") == "replaced"

    @property
    def pile(self) -> Pile:
        """What is to be done with it."""
        if self.state in ("same", "current"):
            return self.state
        return "pull" if self.is_replaced or any(one.what in GONE for one in self.own) else self.state


def judge_prints(rows: Iterable[Mapping[str, str]], differences: Mapping[str, Difference], current: str,
                 carriers: Mapping[str, CarrierRecord], site: str | None = None) -> list[Judged]:  # fmt: skip
    """What became of each print.

    Args:
        rows: the rows of the register; a print in two languages names both, such as "en+fr".
        differences: what changed since each former edition, by its code.
        current: code of the edition in force.
        carriers: the carriers as their files are now, by id.
        site: the publisher's address, to which codes lead where a carrier names none.
    """
    return [_judged({key: value or "" for key, value in row.items() if isinstance(key, str)}, differences, current, carriers, site)
            for row in rows]  # fmt: skip


def _judged(row: dict[str, str], differences: Mapping[str, Difference], current: str,
            carriers: Mapping[str, CarrierRecord], site: str | None) -> Judged:  # fmt: skip
    code, was, carrier = row.get("edition", ""), taken_of(row), carriers.get(row.get("carrier", ""))
    changes: tuple[Change, ...] = ()
    own: tuple[OwnChange, ...] = ()
    unjudged: list[Unjudged] = []
    new_code = None
    if code in differences and code != current:
        changes = tuple(_carried(row, was, differences[code]))
    elif code != current:
        unjudged.append("no-edition")
    if carrier is None:
        unjudged.append("no-carrier")
    else:
        now = taken_now(row, carrier, site)
        new_code = None if isinstance(now, str) else print_code(now)
        if was is None and not isinstance(now, str):
            unjudged.append("no-own-file")
        else:
            own = own_changes(row, was or {}, now)
    state: Literal["current", "same", "stale", "unknown"] = "current"
    if changes or own:
        state = "stale"
    elif unjudged:
        state = "unknown"
    elif code != current or row.get("state") == "replaced":
        state = "same"
    return Judged(row, state, changes, own, tuple(unjudged), new_code)


def _carried(row: dict[str, str], was: Taken | None, difference: Difference) -> Iterable[Change]:
    """What changed on a print. Of one whose make-up the register does not name, everything counts."""
    unit = (tuple(map(str, was["vehicles"])), tuple(map(str, was["equipment"]))) if was and {"vehicles", "equipment"} <= set(was) else None
    document, languages = row.get("document", ""), row.get("language", "").split("+")
    for change in difference.under(row.get("rulebook", "")):
        told = not change.languages or set(change.languages) & set(languages)
        if told and carries(document, change, row.get("rulebook", "")) and touches(unit, change, document):
            yield change


def carries(document: str, change: Change, rulebook: str) -> bool:
    """Whether a kind of print of a rulebook, such as "deck-card-letter", carries what changed."""
    kind = document.split("-", 1)[0]
    if kind not in CARRIED:
        return True
    if change.about == "word":
        return True
    if change.about == "language" or change.kind == "renamed":
        return False
    if kind == "deck" and (change.about in OF_PARTS or change.entries) and not parts_of(change, rulebook):
        return False
    if kind != "deck" and change.about == "figure" and change.shown_on is not None and not change.shown_on:
        return False
    return change.field in CARRIED[kind].get(change.about, ())


def parts_of(change: Change, rulebook: str) -> tuple[str, ...]:
    """Ids of the components on whose cards a change can be, in the decks of a rulebook."""
    return tuple(component for book, component in change.cards if book == rulebook)


def touches(unit: Unit | None, change: Change, document: str = "deck") -> bool:
    """Whether a change is about something that a unit has: one of its defects, or on a checklist one of its steps."""
    shown = change.about == "figure" and document.startswith("checklist")
    where = change.shown_on if shown else change.on
    if unit is None or not where:
        return True
    vehicles, equipment = unit
    return any((not on or set(on) & set(vehicles)) and set(fitted) <= set(equipment) for on, fitted in where)
