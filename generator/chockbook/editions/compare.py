"""What changed from one edition to another, record by record, by id."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from ..catalogue.edition import STATING
from .change import KINDS, Change, Difference
from .concerns import Concerns
from .plain import REFERS, Facts, fields_of_steps, flatten
from .renamed import follow_renames
from .rulings import compare_rulings, is_worse

KIND_OF: dict[str, dict[str, str]] = {
    "entry": {"vehicles": "applies-to", "component": "applies-to", "limits": "figures"},
    "component": {"fitted": "applies-to", "system": "applies-to"},
    "severity": {"may_drive": "severity", "actions": "actions", "place": "severity"},
    "action": {"kind": "actions", "by": "actions"},
    "item": {"letter": "source", "severity": "item-severity", "applies_when": "item-circumstance"},
    "figure": {"unit": "figures", "compare": "figures"},
}
"""Kind of change of a field, by what the record is; texts and standing are dealt with alike everywhere."""
WHOLE = {"duty": "duties", "report": "duties", "province": "duties", "station": "route", "step": "route", "source": "source",
         "word": "words"}  # fmt: skip
"""Records of which every change is of one kind, the translation of a text apart."""
STANDING = ("basis", "source", "locator", "read_in")
OPTIONAL = {"stations": ("station", "step"), "cautions": ("caution",), "jurisdictions": ("province",), "words": ("word",),
            "components": ()}  # fmt: skip
"""Parts of a catalogue.json that early ones lack, with the kinds of record that are then not compared."""


def compare(old: dict[str, Any], new: dict[str, Any]) -> Difference:
    """The difference between two editions given as catalogue_as_data or read_edition gives them.

    A text is reworded where its first language changed; where only another language did, its translation did. A
    language that the old edition did not have is told once, and not text by text. What steps of the old edition's
    file have no key for, written or empty, its program did not know: it is named as not compared.
    """
    was, now = flatten(old), flatten(new)
    unknown = tuple(key for key in OPTIONAL if not old.get(key) or not new.get(key))
    for key in unknown:
        for kind in OPTIONAL[key]:
            was[kind], now[kind] = {}, {}
    younger = tuple(sorted(fields_of_steps(new) - fields_of_steps(old))) if "stations" not in unknown else ()
    for step in now["step"].values():
        for key in younger:
            step.pop(key, None)
    renames = follow_renames(was, now)
    concerns = Concerns(was, now)
    languages = [code for code in old["languages"] if code in new["languages"]]
    writer = _Writer(was, now, languages, concerns, "components" in unknown)
    changes = [*_languages(old, new), *writer.renamed(renames)]
    for kind in now:
        changes += writer.records(kind)
    worse = {kind: place for place, kind in enumerate(KINDS)}
    changes.sort(key=lambda change: worse[change.kind])
    not_compared = (*unknown, *(f"steps: {key}" for key in younger))
    names = {key: concerns.name("component", key) for key in (*now["component"], *was["component"])}
    return Difference(dict(old["edition"]), dict(new["edition"]), tuple(changes), not_compared, names)


def _languages(old: dict[str, Any], new: dict[str, Any]) -> Iterator[Change]:
    for code in sorted(set(old["languages"]) ^ set(new["languages"])):
        before, after = (code if code in data["languages"] else None for data in (old, new))
        yield Change("translation", "language", code, field="code", before=before, after=after, languages=(code,))


class _Writer:
    """Writes down the changes of records."""

    def __init__(self, was: dict[str, Facts], now: dict[str, Facts], languages: list[str], concerns: Concerns,
                 no_components: bool) -> None:  # fmt: skip
        self.was, self.now, self.languages, self.concerns = was, now, languages, concerns
        self.passed_over = ("aliases",) if no_components else ()

    def renamed(self, renames: list[tuple[str, str, str]]) -> Iterator[Change]:
        for kind, before, after in renames:
            yield self.change("renamed", kind, after, "id", before.split("/")[-1], after.split("/")[-1])

    def records(self, kind: str) -> Iterator[Change]:
        was, now = self.was[kind], self.now[kind]
        if kind == "word":  # other labels belong to the program, and say nothing of a defect
            was, now = ({key: one for key, one in facts.items() if key.startswith(STATING)} for facts in (was, now))
        for key in now:
            if key not in was:
                yield self.change(WHOLE.get(kind, "new"), kind, key, "whole", None, self.concerns.name(kind, key))
            elif was[key] != now[key]:
                yield from self.fields(kind, key, was[key], now[key])
        for key in was:
            if key not in now:
                yield self.change(WHOLE.get(kind, "gone"), kind, key, "whole", self.concerns.name(kind, key), None)

    def change(self, kind: str, about: str, key: str, field: str, before: Any, after: Any, **more: Any) -> Change:
        rulebook, _, name = key.rpartition("/")
        entries, on = self.concerns.of(about, key)
        if about == "rulebook":
            rulebook = key
        shown_on = self.concerns.shown_on(key) if about == "figure" else None
        return Change(kind, about, name, rulebook, field, self.concerns.name(about, key), before, after,
                      entries=entries, on=on, cards=self.concerns.cards(entries), shown_on=shown_on, **more)  # fmt: skip

    def fields(self, kind: str, key: str, was: dict[str, Any], now: dict[str, Any]) -> Iterator[Change]:
        standing = "basis" in was and "basis" in now
        if standing:
            yield from self.standing(kind, key, was, now)
        if kind == "entry":
            yield from compare_rulings(self, key, was["rulings"], now["rulings"])
        if kind == "figure":
            yield from self.rows(key, was["rows"], now["rows"])
        for field in dict.fromkeys((*now, *was)):
            before, after = was.get(field), now.get(field)
            if before == after or field in ("rulings", "rows", *self.passed_over) or (standing and field in STANDING):
                continue
            what = WHOLE.get(kind) or KIND_OF.get(kind, {}).get(field)
            if what == "severity":
                yield from self.severity(key, field, was, now)
            elif what in ("item-severity", "item-circumstance"):
                yield from self.item(key, field, was, now)
            elif is_text(before) or is_text(after):
                yield from self.text(kind, key, field, before or {}, after or {}, what)
            elif (kind, field) in REFERS:
                yield self.change(what or "wording", kind, key, field, *self.named(REFERS[kind, field], before, after))
            else:
                yield self.change(what or "wording", kind, key, field, _plain(before), _plain(after))

    def named(self, about: str, was: Any, now: Any) -> list[Any]:
        """The names of the records that were named and that are: a reader knows no ids."""
        if isinstance(was, list) or isinstance(now, list):
            return list(self.listed(about, was or [], now or []))
        return [(self.concerns.name(about, key) or key) if key else None for key in (was, now)]

    def listed(self, about: str, was: list[str], now: list[str]) -> Iterator[list[Any]]:
        """The names of what was listed and of what is. Of entries, which may be many, those that came and those that went;
        of actions all, since they are done one after the other."""
        same = set(was) & set(now) if about == "entry" and set(was) != set(now) else set()
        for one in (was, now):
            yield [self.concerns.name(about, key) for key in one if key not in same]

    def standing(self, kind: str, key: str, was: dict[str, Any], now: dict[str, Any]) -> Iterator[Change]:
        """How sure a fact is, and where it stands in which source; of copies read only where no more changed."""
        if was["basis"] != now["basis"]:
            yield self.change("standing", kind, key, "basis", was["basis"], now["basis"])
        places = [f"{one['source']}, {one['locator']}" for one in (was, now)]
        if places[0] != places[1]:
            yield self.change("source", kind, key, "locator", *places)
        elif was.get("read_in", []) != now.get("read_in", []) and was["basis"] == now["basis"]:
            yield self.change("source", kind, key, "read_in", was.get("read_in"), now.get("read_in"))

    def text(self, kind: str, key: str, field: str, was: dict[str, Any], now: dict[str, Any],
             what: str | None) -> Iterator[Change]:  # fmt: skip
        changed = tuple(code for code in self.languages if was.get(code) != now.get(code))
        if changed:
            first = self.languages[0] in changed
            yield self.change((what or "wording") if first else "translation", kind, key, field,
                              {code: was.get(code) for code in changed}, {code: now.get(code) for code in changed},
                              languages=changed)  # fmt: skip

    def severity(self, key: str, field: str, was: dict[str, Any], now: dict[str, Any]) -> Iterator[Change]:
        """A severity itself is another one: what it means for going on, told for every entry that has it."""
        if field == "may_drive":
            up = is_worse(now, was)
            yield self.change("severity-up" if up else "severity-down", "severity", key, field, was[field], now[field])

    def item(self, key: str, field: str, was: dict[str, Any], now: dict[str, Any]) -> Iterator[Change]:
        """Told at the item only where no entry stands under it in the first place, else at the entries."""
        if key in self.concerns.leading_items:
            return
        if field == "severity":
            up = is_worse(self.now["severity"].get(now[field], {}), self.was["severity"].get(was[field], {}))
            yield self.change("severity-up" if up else "severity-down", "item", key, field,
                              self.concerns.name("severity", was[field]), self.concerns.name("severity", now[field]))  # fmt: skip
        else:
            yield from self.text("item", key, field, was.get(field) or {}, now.get(field) or {}, "circumstance")

    def rows(self, key: str, was: list[dict[str, Any]], now: list[dict[str, Any]]) -> Iterator[Change]:
        pairs, gone, fresh = pair_rows(was, now, self.languages)
        for before, after in pairs:
            yield from self.row(key, before, after)
        for one in gone:
            yield replace(self.change("figures", "figure", key, "row", _figure(one), None), rulebook=one.get("rulebook") or "")
        for one in fresh:
            yield replace(self.change("figures", "figure", key, "row", None, _figure(one)), rulebook=one.get("rulebook") or "")

    def row(self, key: str, was: dict[str, Any], now: dict[str, Any]) -> Iterator[Change]:
        found = list(self.standing("figure", key, was, now))
        units = [self.was["figure"][key].get("unit"), self.now["figure"][key].get("unit")]
        if (was["value"], was.get("upper")) != (now["value"], now.get("upper")):
            # As each language prints it; in numbers where whoever changed the value left its printed form alone.
            says = [was["printed"], now["printed"]] if was["printed"] != now["printed"] else [_value(was, units[0]), _value(now, units[1])]
            found.append(self.change("figures", "figure", key, "value", *says))
        elif was["printed"] != now["printed"]:
            found += self.printed(key, was["printed"], now["printed"])
        for field in ("label", "remark"):
            if was.get(field) != now.get(field):
                found += self.text("figure", key, field, was.get(field) or {}, now.get(field) or {}, None)
        cards = [one.get("card") or {} for one in (was, now)]
        listed = [one.get("entries", []) for one in cards]
        if listed[0] != listed[1]:
            found.append(self.change("figures", "figure", key, "card", *self.listed("entry", *listed)))
        elif cards[0] != cards[1]:
            found += self.text("figure", key, "place", *(one.get("place") or {} for one in cards), None)
        for change in found:
            # Where a figure stands on cards, a reader wants to know which: its name says it.
            row = _figure(now) if change.field == "card" else now["label"]
            yield replace(change, rulebook=now.get("rulebook") or "", name=_joined(change.name, row))

    def printed(self, key: str, was: dict[str, str], now: dict[str, str]) -> Iterator[Change]:
        """What people read of a figure is the figure to them: in whichever language it changed, it is no wording."""
        changed = tuple(code for code in self.languages if was.get(code) != now.get(code))
        if changed:
            yield self.change("figures", "figure", key, "printed", {code: was.get(code) for code in changed},
                              {code: now.get(code) for code in changed}, languages=changed)  # fmt: skip


def pair_rows(was: list[dict[str, Any]], now: list[dict[str, Any]], languages: list[str]):
    """Rows of a figure that are the same row: same rulebook and conditions, then same label; a row without a
    double is paired with the only one left."""
    gone, fresh, pairs = list(was), list(now), []

    def where(row: dict[str, Any]) -> Any:
        return (row.get("rulebook"), tuple(sorted((row.get("when") or {}).items())))

    def label(row: dict[str, Any]) -> Any:
        return (where(row), row["label"].get(languages[0]) if languages else None)

    for same in (repr, label, where):
        for row in list(gone):
            others = [one for one in fresh if same(one) == same(row)]
            if len(others) == 1 and sum(same(one) == same(row) for one in gone) == 1:
                pairs.append((row, others[0]))
                gone.remove(row)
                fresh.remove(others[0])
    return [pair for pair in pairs if pair[0] != pair[1]], gone, fresh


def _value(row: dict[str, Any], unit: str | None) -> str:
    return f"{row['value']}{' to ' + row['upper'] if row.get('upper') else ''} {unit}"


def _figure(row: dict[str, Any]) -> dict[str, str]:
    return {code: f"{label}: {row['printed'].get(code, '')}" for code, label in row["label"].items()}


def _joined(name: Any, label: dict[str, str]) -> Any:
    return {code: f"{text}: {label[code]}" if code in label else text for code, text in (name or {}).items()}


def is_text(value: Any) -> bool:
    """Whether a value is a text, or words, by language."""
    return isinstance(value, dict) and bool(value) and all(len(key.split("-")[0]) in (2, 3) for key in value)


def _plain(value: Any) -> Any:
    if isinstance(value, list):
        return [one.split("/")[-1] if isinstance(one, str) else str(one) for one in value]
    return value
