"""What changed in the rulings of an entry: severity, circumstance, actions."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from .change import Change

DRIVING = ("yes", "once-reported", "if-safe", "no")
"""What a severity means for going on, mildest first; it decides before the place in the rulebook does."""


def is_worse(one: dict[str, Any], other: dict[str, Any]) -> bool:
    """Whether a severity is worse than another, by what it means for going on, then by its place."""

    def rank(severity: dict[str, Any]) -> tuple[int, int]:
        answer = severity.get("may_drive")
        return (DRIVING.index(answer) if answer in DRIVING else -1, severity.get("place", 0))

    return rank(one) > rank(other)


def compare_rulings(writer: Any, entry: str, was: list[dict[str, Any]], now: list[dict[str, Any]]) -> Iterator[Change]:
    """Changes of an entry under each rulebook.

    Rulings are the same ruling where they name the same item; a single one that is left on each side is the same
    ruling under another item.
    """
    for rulebook in dict.fromkeys(ruling["rulebook"] for ruling in (*was, *now)):
        gone = [ruling for ruling in was if ruling["rulebook"] == rulebook]
        fresh = [ruling for ruling in now if ruling["rulebook"] == rulebook]
        pairs = [(a, b) for a in gone for b in fresh if a["item"] == b["item"]]
        gone = [a for a in gone if a["item"] not in {pair[0]["item"] for pair in pairs}]
        fresh = [b for b in fresh if b["item"] not in {pair[0]["item"] for pair in pairs}]
        if len(gone) == len(fresh) == 1:
            pairs.append((gone.pop(), fresh.pop()))
        for before, after in pairs:
            if before != after:
                for change in _pair(writer, entry, before, after):
                    yield replace(change, rulebook=rulebook)
        for ruling in gone:
            severity = writer.concerns.name("severity", ruling["severity"])
            yield replace(writer.change("applies-to", "entry", entry, "ruling", severity, None), rulebook=rulebook)
        for ruling in fresh:
            severity = writer.concerns.name("severity", ruling["severity"])
            yield replace(writer.change("applies-to", "entry", entry, "ruling", None, severity), rulebook=rulebook)


def _pair(writer: Any, entry: str, was: dict[str, Any], now: dict[str, Any]) -> Iterator[Change]:
    old, new = writer.was["severity"].get(was["severity"], {}), writer.now["severity"].get(now["severity"], {})
    if was["severity"] != now["severity"]:
        kind = "severity-up" if is_worse(new, old) else "severity-down"
        yield writer.change(kind, "entry", entry, "severity", old.get("name"), new.get("name"))
    if (was["applies_when"] or {}) != (now["applies_when"] or {}):
        yield from writer.text("entry", entry, "applies_when", was["applies_when"] or {}, now["applies_when"] or {},
                               "circumstance")  # fmt: skip
    follow = was["actions"] == old.get("actions") and now["actions"] == new.get("actions")
    if was["actions"] != now["actions"] and not follow:
        names = [[writer.concerns.name("action", one) for one in ruling["actions"]] for ruling in (was, now)]
        yield writer.change("actions", "entry", entry, "actions", *names)
    if (was["item"], was["also"]) != (now["item"], now["also"]):
        places = ["; ".join(writer.concerns.locator(one) for one in (ruling["item"], *ruling["also"])) for ruling in (was, now)]
        yield writer.change("source", "entry", entry, "item", *places)
    if was["fit"] != now["fit"]:
        yield writer.change("standing", "entry", entry, "fit", was["fit"], now["fit"])
    for field in ("law_text", "remark"):
        if (was[field] or {}) != (now[field] or {}):
            yield from writer.text("entry", entry, field, was[field] or {}, now[field] or {}, None)
