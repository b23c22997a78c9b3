"""What rests on a record: which entries, on which units, and by which name a reader knows it."""

from __future__ import annotations

from functools import cached_property
from typing import Any

from .plain import Facts

On = tuple[tuple[tuple[str, ...], tuple[str, ...]], ...]


class Concerns:
    """The records of two editions, seen together."""

    def __init__(self, was: dict[str, Facts], now: dict[str, Facts]) -> None:
        self.was, self.now = was, now

    def name(self, kind: str, key: str) -> Any:
        """The text by which a reader knows a record, in the new edition where it is still there."""
        fields = self.now.get(kind, {}).get(key) or self.was.get(kind, {}).get(key) or {}
        if kind == "entry":
            component = self.name("component", fields.get("component", "")) or {}
            return {code: f"{component[code]}: {text}" if code in component else text
                    for code, text in fields.get("condition", {}).items()}  # fmt: skip
        for field in ("name", "text", "quantity", "item", "hazard", "title"):
            if isinstance(fields.get(field), dict):
                return fields[field]
        return None

    def locator(self, item: str) -> str:
        """The place of an item in its source."""
        return str((self.now["item"].get(item) or self.was["item"].get(item) or {}).get("locator", item))

    @cached_property
    def leading_items(self) -> frozenset[str]:
        """Items that lead a ruling of an entry that is in both editions."""
        return frozenset(ruling["item"] for facts in (self.was, self.now) for key, entry in facts["entry"].items()
                         for ruling in entry["rulings"] if key in self.was["entry"] and key in self.now["entry"])  # fmt: skip

    @cached_property
    def resting(self) -> dict[tuple[str, str], tuple[str, ...]]:
        """Ids of the entries that rest on a record, by its kind and key."""
        found: dict[tuple[str, str], dict[str, None]] = {}
        for facts in (self.was, self.now):
            for key, entry in facts["entry"].items():
                component = entry["component"]
                names = [("component", component), *(("figure", limit) for limit in entry["limits"])]
                names.append(("system", facts["component"].get(component, {}).get("system", "")))
                for ruling in entry["rulings"]:
                    names += [("severity", ruling["severity"]), *(("action", one) for one in ruling["actions"])]
                    names += [("item", one) for one in (ruling["item"], *ruling["also"])]
                for name in names:
                    found.setdefault(name, {})[key] = None
        return {name: tuple(keys) for name, keys in found.items()}

    @cached_property
    def cards_of(self) -> dict[str, dict[tuple[str, str], None]]:
        """By entry the rulebooks that speak of it in either edition, each with the component on whose cards it is."""
        found: dict[str, dict[tuple[str, str], None]] = {}
        for facts in (self.was, self.now):
            for key, entry in facts["entry"].items():
                cards = found.setdefault(key, {})
                cards.update({(ruling["rulebook"], entry["component"]): None for ruling in entry["rulings"]})
        return found

    def cards(self, entries: tuple[str, ...]) -> tuple[tuple[str, str], ...]:
        """Rulebook and component of the cards on which some entries are."""
        return tuple(dict.fromkeys(card for entry in entries for card in self.cards_of.get(entry, ())))

    def of(self, kind: str, key: str) -> tuple[tuple[str, ...], On]:
        """The entries that rest on a record, and the vehicles and equipment of the units that it touches."""
        if kind == "entry":
            return (key,), self._units([key])
        if kind in ("step", "station"):
            return (), self._around(kind, key)
        entries = self.resting.get((kind, key), ())
        return entries, () if kind == "system" else self._units(entries)

    def shown_on(self, figure: str) -> On | None:
        """The vehicles and equipment of the units that a step with this figure is for; None where no edition has a route."""
        if not self.was["step"] and not self.now["step"]:
            return None
        steps = {key for facts in (self.was, self.now) for key, step in facts["step"].items() if step.get("figure") == figure}
        return tuple(dict.fromkeys(one for key in sorted(steps) for one in self._around("step", key)))

    def _units(self, entries: Any) -> On:
        found: dict[tuple[tuple[str, ...], tuple[str, ...]], None] = {}
        for facts in (self.was, self.now):
            for key in entries:
                entry = facts["entry"].get(key)
                if entry:
                    fitted = facts["component"].get(entry["component"], {}).get("fitted") or ()
                    found[tuple(entry["vehicles"]), tuple(fitted)] = None
        return tuple(found)

    def _around(self, kind: str, key: str) -> On:
        found: dict[tuple[tuple[str, ...], tuple[str, ...]], None] = {}
        for facts in (self.was, self.now):
            record = facts[kind].get(key)
            if record:
                station = facts["station"].get(record["station"], {}) if kind == "step" else {}
                vehicles = record.get("vehicles") or station.get("vehicles") or ()
                fitted = (*(record.get("fitted") or ()), *(station.get("fitted") or ()))
                found[tuple(vehicles), fitted] = None
        return tuple(found)
