"""catalogue.json and catalogue.csv against the catalogue: every field of every entry, both ways."""

from __future__ import annotations

import csv
import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from ..catalogue import Catalogue, Entry, Ruling
from .objection import Objection


def prove_json(catalogue: Catalogue, path: Path, name: str) -> Iterator[Objection]:
    """Objections to catalogue.json."""
    try:
        found = json.loads(path.read_text(encoding="utf-8"))
        entries = found["entries"]
        edition = found["edition"]
        given = {"rulebooks": found["rulebooks"], "sources": found["sources"], "limits": found["limits"]}
    except (OSError, ValueError, KeyError, TypeError) as error:
        yield Objection(name, "file", f"cannot be read: {error}")
        return
    wanted = {"code": catalogue.edition.code, "date": catalogue.edition.date.isoformat(),
              "check_by": catalogue.edition.check_by.isoformat()}  # fmt: skip
    yield from differences(name, "edition", wanted, edition)
    yield from _same_order(name, [entry.id for entry in catalogue.entries], [e.get("id") for e in entries])
    by_id = {e.get("id"): e for e in entries}
    for entry in catalogue.entries:
        if entry.id in by_id:
            yield from differences(name, entry.id, _entry_fields(entry), by_id[entry.id])
    yield from differences(name, "sources", [s.model_dump(mode="json") for s in catalogue.sources], given["sources"])
    yield from differences(name, "limits", [x.model_dump(mode="json") for x in catalogue.limits], given["limits"])
    yield from _rulebooks(catalogue, given["rulebooks"], name)
    for key in ("systems", "components", "stations", "cautions", "jurisdictions"):
        wanted = [record.model_dump(mode="json") for record in getattr(catalogue, key)]
        yield from differences(name, key, wanted, found.get(key))
    yield from differences(name, "words", {key: dict(text) for key, text in catalogue.words.items()}, found.get("words"))


def _entry_fields(entry: Entry) -> dict[str, Any]:
    return {
        "id": entry.id,
        "system": {"id": entry.system.id, "name": dict(entry.system.name)},
        "component": {"id": entry.component.id, "name": dict(entry.component.name)},
        "condition": dict(entry.condition),
        "check": dict(entry.check),
        "aliases": {language: list(words) for language, words in entry.aliases.items()},
        "vehicles": list(entry.vehicles),
        "fitted": list(entry.component.fitted),
        "limits": [limit.id for limit in entry.limits],
        "rulings": [_ruling_fields(ruling) for ruling in entry.rulings],
    }


def _ruling_fields(ruling: Ruling) -> dict[str, Any]:
    return {
        "rulebook": ruling.rulebook.id,
        "schedule": ruling.schedule.id,
        "part": ruling.part.part,
        "item": ruling.item.letter,
        "item_id": ruling.item.id,
        "also": [item.id for item in ruling.also],
        "severity": ruling.item.severity,
        "applies_when": dict(ruling.applies_when) if ruling.applies_when else None,
        "actions": [action.id for action in ruling.actions],
        "fit": ruling.fit,
        "law_text": dict(ruling.law_text) if ruling.law_text else None,
        "source": {"id": ruling.item.source, "locator": ruling.item.locator, "basis": ruling.item.basis},
        "remark": dict(ruling.remark) if ruling.remark else None,
    }


def _rulebooks(catalogue: Catalogue, found: Any, name: str) -> Iterator[Objection]:
    yield from _same_order(name, [r.id for r in catalogue.rulebooks], [r.get("id") for r in found])
    for rulebook, given in zip(catalogue.rulebooks, found, strict=False):
        about = f"rulebook {rulebook.id}"
        for key in ("name", "short_name", "law", "binds"):
            yield from differences(name, about, getattr(rulebook, key), given.get(key))
        for key, fields in (
            ("severities", ("id", "name", "outcome", "may_drive", "actions", "meaning", "deadline")),
            ("actions", ("id", "kind", "by", "text")),
            ("report", ("id", "name")),
            ("duties", ("id", "topic", "text")),
        ):
            wanted = [_with_source(record, fields) for record in getattr(rulebook, key)]
            yield from differences(name, f"{about} {key}", wanted, given.get(key))
        wanted = [
            {"id": s.id, "name": s.name, "vehicles": s.vehicles,
             "parts": [{"part": p.part, "title": p.title,
                        "items": [_with_source(i, ("id", "letter", "severity", "text", "applies_when"))
                                  for i in p.items]} for p in s.parts]}
            for s in rulebook.schedules
        ]  # fmt: skip
        yield from differences(name, f"{about} schedules", wanted, given.get("schedules"))
        wanted = [one.model_dump(mode="json") for one in rulebook.left_out]
        yield from differences(name, f"{about} left_out", wanted, given.get("left_out"))


def _with_source(record: Any, fields: tuple[str, ...]) -> dict[str, Any]:
    wanted = {field: getattr(record, field) for field in fields}
    wanted["source"] = {"id": record.source, "locator": record.locator, "basis": record.basis,
                        "read_in": record.read_in}  # fmt: skip
    return wanted


def prove_csv(catalogue: Catalogue, path: Path, name: str) -> Iterator[Objection]:
    """Objections to catalogue.csv."""
    try:
        with path.open(encoding="utf-8-sig", newline="") as file:
            rows = list(csv.DictReader(file, strict=True))
    except (OSError, ValueError, csv.Error) as error:
        yield Objection(name, "file", f"cannot be read: {error}")
        return
    wanted = [(entry, ruling) for entry in catalogue.entries for ruling in entry.rulings]
    yield from _same_order(
        name,
        [f"{entry.id} {ruling.rulebook.id} {ruling.item.id}" for entry, ruling in wanted],
        [f"{row.get('id')} {row.get('rulebook')} {row.get('item_id')}" for row in rows],
    )
    for (entry, ruling), row in zip(wanted, rows, strict=False):
        if entry.id == row.get("id"):
            yield from differences(name, entry.id, _row_fields(catalogue, entry, ruling), row)


def _row_fields(catalogue: Catalogue, entry: Entry, ruling: Ruling) -> dict[str, str]:
    wanted = {
        "edition": catalogue.edition.code, "id": entry.id, "system": entry.system.id,
        "component": entry.component.id, "vehicles": " ".join(entry.vehicles), "rulebook": ruling.rulebook.id,
        "schedule": ruling.schedule.id, "part": ruling.part.part, "item": ruling.item.letter,
        "item_id": ruling.item.id, "severity": ruling.item.severity, "actions": " ".join(a.id for a in ruling.actions),
        "source": ruling.item.source, "locator": ruling.item.locator, "basis": ruling.item.basis,
        "fit": ruling.fit,
    }  # fmt: skip
    for language in (language.code for language in catalogue.languages):
        texts = {
            "system_name": entry.system.name.get(language, ""),
            "component_name": entry.component.name.get(language, ""),
            "condition": entry.condition.get(language, ""),
            "check": entry.check.get(language, ""),
            "aliases": "; ".join(entry.aliases.get(language, ())),
            "applies_when": (ruling.applies_when or {}).get(language, ""),
            "severity_name": ruling.severity.name.get(language, ""),
            "outcome": ruling.severity.outcome.get(language, ""),
            "action_texts": " ".join(a.text.get(language, "") for a in ruling.actions),
        }
        wanted |= {f"{key}_{language}": text for key, text in texts.items()}
    return wanted


def _same_order(name: str, wanted: list[str], found: list[Any]) -> Iterator[Objection]:
    known, seen = set(wanted), set(found)
    missing = [key for key in wanted if key not in seen]
    extra = [key for key in found if key not in known]
    for key in missing:
        yield Objection(name, key, "is missing")
    for key in extra:
        yield Objection(name, str(key), "is not in the catalogue")
    if not missing and not extra and wanted != found:
        at = next((n for n, (a, b) in enumerate(zip(wanted, found, strict=False)) if a != b), len(wanted))
        yield Objection(name, str(found[at] if at < len(found) else wanted[-1]), "stands twice or out of order")


def differences(name: str, about: str, wanted: Any, found: Any, steps: str = "") -> Iterator[Objection]:
    """What differs between what is wanted and what is found, at its place."""
    if isinstance(wanted, dict) and isinstance(found, dict):
        for key in wanted.keys() | found.keys():
            if key not in wanted:
                if found[key] not in (None, ""):
                    yield Objection(name, about, f"{steps}{key} is not in the catalogue: {found[key]!r}")
            else:
                yield from differences(name, about, wanted[key], found.get(key), f"{steps}{key} ")
    elif isinstance(wanted, list | tuple) and isinstance(found, list | tuple):
        if len(wanted) != len(found):
            yield Objection(name, about, f"{steps}has {len(found)} values, the catalogue {len(wanted)}")
        for at, (one, other) in enumerate(zip(wanted, found, strict=False), 1):
            yield from differences(name, about, one, other, f"{steps}{at} ")
    elif wanted != _without_formula_guard(wanted, found):
        yield Objection(name, about, f"{steps}is {found!r}, the catalogue has {wanted!r}")


def _without_formula_guard(wanted: Any, found: Any) -> Any:
    """A text without the apostrophe that keeps a spreadsheet from reading it as a formula."""
    if isinstance(wanted, str) and isinstance(found, str) and found[:1] == "'" and wanted[:1] in "=+-@\t\r":
        return found[1:]
    return found
