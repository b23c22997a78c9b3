"""What a print took from its carrier's own file that stands otherwise there now, in the order in which it matters."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from ..catalogue.carrier import CarrierRecord
from ..catalogue.taken import Taken, taken

What = Literal["unit-gone", "document-gone", "contact", "contact-order", "equipment", "vehicles", "unit", "carrier", "address", "demo"]
GONE: tuple[What, ...] = ("unit-gone", "document-gone")
"""After which there is no new print to take."""
OF_A_UNIT: tuple[What, ...] = ("unit-gone", "equipment", "vehicles", "unit")
"""What is a unit's own; all else is the same for the whole carrier."""


@dataclass(frozen=True, slots=True)
class OwnChange:
    """One thing that a carrier's file no longer says as the print does."""

    what: What
    about: str = ""
    """Of a contact: its role, or the name of one whose role has no word. Of a document: what the register calls it."""
    before: tuple[str, ...] = ()
    """Values as the file has them; none where there was nothing. Of equipment only what is no longer fitted."""
    after: tuple[str, ...] = ()


def taken_of(row: Mapping[str, str]) -> Taken | None:
    """What a print of the register took from its carrier's file; None where the register does not say."""
    try:
        found = json.loads(row.get("own_file", ""))
    except (ValueError, RecursionError):
        return None
    if not isinstance(found, dict):
        return None
    return found if all(isinstance(found.get(key, []), list) for key in ("vehicles", "equipment", "contacts")) else None


def taken_now(row: Mapping[str, str], carrier: CarrierRecord, site: str | None) -> Taken | What:
    """What such a print would take now, or why there would be none.

    Args:
        row: of the register.
        carrier: that the row names.
        site: the publisher's address.
    """
    unit_id, kind, language = (row.get(key, "") for key in ("unit", "document", "language"))
    unit = next((one for one in carrier.units if one.id == unit_id), None)
    if unit_id and unit is None:
        return "unit-gone"
    if not carrier.asks_for(kind, row.get("rulebook", ""), language):
        return "document-gone"
    return taken(carrier, unit, kind, language.split("+"), site)


def own_changes(row: Mapping[str, str], was: Taken, now: Taken | What) -> tuple[OwnChange, ...]:
    """What is another thing now than on a print.

    Args:
        row: of the register.
        was: what the print took.
        now: as taken_now gives it.
    """
    if now == "unit-gone":
        return (OwnChange("unit-gone"),)
    if isinstance(now, str):
        return (OwnChange("document-gone", f"{row['document']}, {row['rulebook']}, {row['language']}"),)
    return tuple(_differing(was, now))


def _differing(was: Taken, now: Taken) -> Iterator[OwnChange]:
    yield from _contacts(was.get("contacts", []), now["contacts"])
    for what in ("equipment", "vehicles"):
        before, after = ([*map(str, one)] for one in (was.get(what, []), now.get(what, [])))
        if before != after:
            # Of equipment a reader wants what came and what went; which vehicle stands where is one thing.
            own = what == "equipment" and set(before) != set(after)
            yield OwnChange(what, "", *(tuple(one for one in mine if not own or one not in other)
                                        for mine, other in ((before, after), (after, before))))  # fmt: skip
    for what in ("unit", "carrier", "address", "demo"):
        if was.get(what) != now.get(what):
            yield OwnChange(what, "", *(() if one is None else (str(one),) for one in (was.get(what), now.get(what))))


def _contacts(was: list[Any], now: list[list[str]]) -> list[OwnChange]:
    """Contacts that came, went, or are reached otherwise: of these only what is another thing."""
    before = [[str(text) for text in one] for one in was if isinstance(one, list) and len(one) == len(now[0])]
    gone = [one for one in before if one not in now]
    fresh = [one for one in now if one not in before]
    found = []
    for old in gone:
        new = next((one for one in fresh if one[0] == old[0]), ["", "", "", ""])
        if new in fresh:
            fresh.remove(new)
        found.append(OwnChange("contact", _who(old), _unlike(old, new), _unlike(new, old)))
    found += [OwnChange("contact", _who(one), (), _unlike(one, ["", "", "", ""])) for one in fresh]
    if before != now and not found:
        found.append(OwnChange("contact-order", "", *(tuple(one[1] for one in each) for each in (before, now))))
    return found


def _who(one: Sequence[str]) -> str:
    return one[2] if one[0] == "other" and one[2] else one[0]


def _unlike(one: Sequence[str], other: Sequence[str]) -> tuple[str, ...]:
    """Number, name and hours, as far as they are not those of another contact."""
    return tuple(text for text, its in zip(one[1:], other[1:], strict=True) if text and text != its)
