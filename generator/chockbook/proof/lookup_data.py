"""The lookup's data against the catalogue: every value that the page can show, followed as the page follows it.

The data names texts, items and actions by their place. Here each place is followed back to what it stands for, and
the whole is compared both ways, so that a wrong place is found as well as a wrong text.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from ..catalogue import UNITS, Catalogue, Entry, LimitRecord, Ruling
from ..catalogue.locator import locator_in
from ..catalogue.wording import in_language
from .data_files import differences
from .facts import Reader, reader_of
from .lookup_index import prove_index
from .objection import Objection

DATA = "assets/lookup/lookup-data.js"
KIND_VALUE = {"truck": 1, "tractor": 2, "trailer": 4, "converter-dolly": 8}
"""Kinds of vehicle, added up in the data."""
SHARED_WORDS = ("what-to-do", "how-to-check", "source", "not-confirmed", "letter-not-confirmed", "title", "edition",
                "issued", "check-by", "aid-short", "web-remark", "web-law-text", "web-limit", "web-severity",
                "fit-general", "joined")  # fmt: skip
"""Fixed words that the page shows beside those of its own, which begin with "lookup-"."""


def prove_lookup_file(catalogue: Catalogue, folder: Path, rulebook_id: str, language: str, name: str) -> Iterator[Objection]:
    """Objections to the data file of a book's lookup.

    Args:
        catalogue: what has to be there.
        folder: the book's site.
        rulebook_id: the book's rulebook.
        language: the book's language.
        name: of the site, in objections.
    """
    output = f"{name}/{DATA}"
    try:
        text = (folder / DATA).read_text(encoding="utf-8")
    except (OSError, ValueError) as error:
        yield Objection(output, "file", f"cannot be read: {error}")
        return
    begin, end = "self.chockbookLookup = ", ";\n"
    if not (text.startswith(begin) and text.endswith(end)):
        yield Objection(output, "file", "is not the one assignment that the page reads")
        return
    yield from prove_lookup_text(catalogue, text[len(begin) : -len(end)], rulebook_id, language, output)


def prove_lookup_text(catalogue: Catalogue, text: str, rulebook_id: str, language: str, output: str) -> Iterator[Objection]:
    """Objections to the lookup's data as JSON."""
    try:
        data = json.loads(text)
        found = _followed(data)
    except (ValueError, KeyError, IndexError, TypeError, AttributeError) as error:
        yield Objection(output, "file", f"cannot be read: {error!r}")
        return
    reader = reader_of(catalogue, language)
    yield from differences(output, "lookup", _frame(reader, rulebook_id), found["frame"])
    wanted = [_entry(reader, entry, rulebook_id) for entry in catalogue.entries if entry.rulings_under(rulebook_id)]
    order, given = [one["id"] for one in wanted], [one["id"] for one in found["entries"]]
    if order != given:
        for key in [key for key in order if key not in given]:
            yield Objection(output, key, "is missing")
        for key in [key for key in given if key not in order or given.count(key) > 1]:
            yield Objection(output, key, "does not belong here, or stands twice")
        yield Objection(output, "entries", "do not stand in the order of the catalogue")
        return
    for one, other in zip(wanted, found["entries"], strict=True):
        yield from differences(output, one["id"], one, other)
    yield from prove_index(reader, data["index"], rulebook_id, output)


def _followed(data: dict[str, Any]) -> dict[str, Any]:
    """The data with every place followed to what stands there."""

    def at(rows: list[Any], place: int) -> Any:
        if not isinstance(place, int) or not 0 <= place < len(rows):
            raise IndexError(f"no place {place!r}")
        return rows[place]

    def text(place: int) -> str | None:
        return None if place == -1 else at(data["texts"], place)

    items = [[i, at(data["severities"], severity), locator, text(title), text(basis), sure, letter_sure]
             for i, severity, locator, title, basis, sure, letter_sure in data["items"]]  # fmt: skip
    limits = [[quantity, compares, method, [[label, printed, text(basis), sure] for label, printed, basis, sure in rows]]
              for quantity, compares, method, rows in data["limits"]]  # fmt: skip
    components = [[i, at(data["systems"], system), name] for i, system, name in data["components"]]
    entries = []
    for component, slug, condition, check, kinds, own_limits, rulings in data["entries"]:
        part = at(components, component)
        entries.append({
            "id": f"{part[0]}.{slug}", "component": part, "condition": condition, "check": check, "kinds": kinds,
            "limits": [at(limits, place) for place in own_limits],
            "rulings": [[at(items, item), text(when), [at(data["actions"], action) for action in actions], general,
                         text(remark), text(law)] for item, when, actions, general, remark, law in rulings],
        })  # fmt: skip
    frame = {key: value for key, value in data.items() if key not in ("entries", "items", "limits", "texts", "index")}
    return {"frame": frame, "entries": entries}


def _frame(reader: Reader, rulebook_id: str) -> dict[str, Any]:
    """What the page shows beside the entries."""
    catalogue, language = reader.catalogue, reader.language
    rulebook, edition = catalogue.rulebook[rulebook_id], catalogue.edition
    own = [key for key in catalogue.words if key.startswith("lookup-")]
    spoken = {entry.component.id for entry in catalogue.entries if entry.rulings_under(rulebook_id)}
    places = {system.id: place for place, system in enumerate(catalogue.systems)}
    return {
        "language": language,
        "edition": {"code": edition.code, "date": edition.date.isoformat(), "checkBy": edition.check_by.isoformat()},
        "rulebook": in_language(rulebook.short_name, language),
        "words": {key: reader.word(key) for key in (*SHARED_WORDS, *own)},
        "severities": [_severity(reader, rulebook_id, one.id) for one in rulebook.severities],
        "actions": [_action(reader, one) for one in rulebook.actions],
        "units": [[unit, reader.word(f"unit-{unit}"), KIND_VALUE[kind]] for unit, kind in UNITS.items()],
        "report": [[one.on_form, in_language(one.name, language)] for one in rulebook.report],
        "systems": [[one.id, in_language(one.name, language)] for one in catalogue.systems],
        "components": [[one.id, places[one.system], in_language(one.name, language)]
                       for one in catalogue.components if one.id in spoken],
    }  # fmt: skip


def _severity(reader: Reader, rulebook_id: str, severity_id: str) -> list[Any]:
    one = next(s for s in reader.catalogue.rulebook[rulebook_id].severities if s.id == severity_id)
    return [one.id, in_language(one.name, reader.language), in_language(one.outcome, reader.language), one.may_drive]


def _action(reader: Reader, action: Any) -> list[Any]:
    sure = 0 if action.basis == "from-memory" else 1
    return [action.id, action.kind, reader.word(f"by-{action.by}"), in_language(action.text, reader.language), sure]


def _entry(reader: Reader, entry: Entry, rulebook_id: str) -> dict[str, Any]:
    language = reader.language
    return {
        "id": entry.id,
        "component": [entry.component.id, [entry.system.id, in_language(entry.system.name, language)],
                      in_language(entry.component.name, language)],
        "condition": in_language(entry.condition, language),
        "check": in_language(entry.check, language),
        "kinds": sum(KIND_VALUE[kind] for kind in set(entry.vehicles)),
        "limits": [_limit(reader, limit, rulebook_id) for limit in entry.limits],
        "rulings": [_ruling(reader, ruling, rulebook_id) for ruling in entry.rulings if ruling.rulebook.id == rulebook_id],
    }  # fmt: skip


def _ruling(reader: Reader, ruling: Ruling, rulebook_id: str) -> list[Any]:
    catalogue, language, item = reader.catalogue, reader.language, ruling.item
    letter = item.locator_basis or item.basis
    said = [in_language(text, language) for text in (item.remark, ruling.remark) if text]
    place = [item.id, _severity(reader, rulebook_id, item.severity), locator_in(catalogue, item.locator, language),
             in_language(catalogue.source[item.source].title, language), reader.word(f"basis-{item.basis}"),
             0 if item.basis == "from-memory" else 1, 0 if letter == "from-memory" else 1]  # fmt: skip
    return [place, in_language(ruling.applies_when, language) if ruling.applies_when else None,
            [_action(reader, action) for action in ruling.actions], 1 if ruling.fit == "general" else 0,
            " ".join(said) or None, in_language(ruling.law_text, language) if ruling.law_text else None]  # fmt: skip


def _limit(reader: Reader, limit: LimitRecord, rulebook_id: str) -> list[Any]:
    language = reader.language
    rows = [[in_language(row.label, language), in_language(row.printed, language), reader.word(f"basis-{row.basis}"),
             0 if row.basis == "from-memory" else 1] for row in limit.rows if row.rulebook == rulebook_id]  # fmt: skip
    return [in_language(limit.quantity, language), reader.word(f"compare-{limit.compare}"),
            in_language(limit.method, language), rows]  # fmt: skip
