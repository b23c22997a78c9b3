"""An edition read back from catalogue.json, and its records laid out flat by kind and id."""

from __future__ import annotations

import json
import re
from dataclasses import dataclass
from typing import Any

from ..catalogue.edition import canonical

LARGEST = 64_000_000
"""Bytes of the largest catalogue.json that is read."""
Facts = dict[str, dict[str, Any]]
"""Fields of records by id."""
REFERS = {
    ("component", "system"): "system", ("entry", "component"): "component", ("entry", "limits"): "figure",
    ("severity", "actions"): "action", ("step", "finds"): "entry", ("step", "caution"): "caution",
    ("step", "figure"): "figure", ("step", "station"): "station", ("item", "severity"): "severity",
    ("ruling", "severity"): "severity", ("ruling", "actions"): "action", ("ruling", "item"): "item",
    ("ruling", "also"): "item",
}  # fmt: skip
"""Which fields name records of another kind. Every `source` and `read_in` names sources."""
_CODE, _DATE = re.compile("[0-9A-Za-z]{1,16}"), re.compile(r"\d{4}-\d\d-\d\d")
"""A code becomes the name of a file, and part of a comment in CHANGELOG.md: no other characters are let in."""


class EditionUnreadable(ValueError):
    """A text is not a catalogue.json that we can read."""


@dataclass(frozen=True, slots=True)
class Kept:
    """A former edition that a project keeps."""

    number: int
    """Editions count from 1 in the order in which they were kept."""
    data: dict[str, Any]

    @property
    def code(self) -> str:
        """Its edition code."""
        return self.data["edition"]["code"]


def read_edition(text: bytes, name: str) -> dict[str, Any]:
    """A catalogue.json as plain data.

    Raises:
        EditionUnreadable: it is not JSON, not of our form, or too large; the message names the file.
    """
    if len(text) > LARGEST:
        raise EditionUnreadable(f"{name} is larger than {LARGEST // 1_000_000} MB")
    try:
        data = json.loads(text.decode("utf-8-sig"))
        flatten(data)
        edition = data["edition"]
        named = _CODE.fullmatch(edition["code"]) and _DATE.fullmatch(edition["date"])
        whole = named and isinstance(data["languages"], list)
    except (ValueError, LookupError, TypeError, AttributeError, RecursionError) as error:
        raise EditionUnreadable(f"{name} is not a catalogue.json ({type(error).__name__})") from None
    if not whole or data.get("format") != 1:
        raise EditionUnreadable(f"{name} is not a catalogue.json of a format that is known here")
    return data


def flatten(data: dict[str, Any]) -> dict[str, Facts]:
    """Records by kind and id; ids that are only unique in a rulebook are written rulebook/id."""
    found: dict[str, Facts] = {kind: {} for kind in (
        "source", "caution", "figure", "system", "component", "action", "severity", "item", "rulebook", "duty", "report",
        "entry", "station", "step", "province", "word")}  # fmt: skip
    _same(found["source"], [_source(record, data["languages"][0]) for record in data["sources"]])
    _same(found["caution"], data.get("cautions") or ())
    _same(found["system"], data.get("systems") or [entry["system"] for entry in data["entries"]])
    _same(found["component"], data.get("components") or ())
    for limit in data["limits"]:
        rows = [_row(row) for row in limit["rows"]]
        found["figure"][limit["id"]] = {**_without(limit, "id", "rows"), "rows": rows}
    for rulebook in data["rulebooks"]:
        _rulebook(found, rulebook)
    for entry in data["entries"]:
        fields = {key: entry[key] for key in ("condition", "check", "aliases", "vehicles", "limits")}
        fields["component"] = entry["component"]["id"]
        if not data.get("components"):
            about = {"name": entry["component"]["name"], "fitted": entry["fitted"], "system": entry["system"]["id"]}
            found["component"].setdefault(entry["component"]["id"], about)
        fields["rulings"] = [_ruling(ruling) for ruling in entry["rulings"]]
        found["entry"][entry["id"]] = fields
    for station in data.get("stations") or ():
        found["station"][station["id"]] = _without(station, "id", "steps")
        for step in station["steps"]:
            found["step"][step["id"]] = {**_without(step, "id"), "station": station["id"]}
    for province in data.get("jurisdictions") or ():
        found["province"][province["id"]] = _without(province, "id", "facts")
        topics: dict[str, int] = {}
        for fact in province["facts"]:
            topics[fact["topic"]] = topics.get(fact["topic"], 0) + 1
            number = f"-{topics[fact['topic']]}" if topics[fact["topic"]] > 1 else ""
            found["province"][f"{province['id']}.{fact['topic']}{number}"] = _without(fact, "topic")
    found["word"] = {key: {"text": text} for key, text in (data.get("words") or {}).items()}
    return {kind: {key: canonical(fields) for key, fields in facts.items()} for kind, facts in found.items()}


def fields_of_steps(data: dict[str, Any]) -> set[str]:
    """What the steps of an edition's file have keys for; a field that nobody filled in has one too, with nothing."""
    return {key for station in data.get("stations") or () for step in station["steps"] for key in step}


def _source(record: dict[str, Any], language: str) -> dict[str, Any]:
    """A source; its edition was a plain text once, in the first language."""
    edition = record.get("edition")
    return {**record, "edition": {language: edition}} if isinstance(edition, str) else record


def _same(facts: Facts, records: Any) -> None:
    for record in records:
        facts.setdefault(record["id"], _without(record, "id"))


def _without(record: dict[str, Any], *names: str) -> dict[str, Any]:
    return {key: value for key, value in record.items() if key not in names and value not in (None, [], {})}


def _stated(record: dict[str, Any], *fields: str) -> dict[str, Any]:
    """Some fields of a record with its standing beside them."""
    source = record["source"]
    standing = {"source": source["id"], "locator": source["locator"], "basis": source["basis"],
                "read_in": source.get("read_in") or []}  # fmt: skip
    return {**{key: record[key] for key in fields if record.get(key)}, **standing}


def _row(row: dict[str, Any]) -> dict[str, Any]:
    return {**_without(row), "value": _number(row["value"]), "upper": _number(row.get("upper"))}


def _number(text: Any) -> str | None:
    """A number without noughts at its end: 3.0 is 3."""
    if text is None:
        return None
    plain = str(text)
    return (plain.rstrip("0").rstrip(".") or "0") if "." in plain else plain


def _rulebook(found: dict[str, Facts], rulebook: dict[str, Any]) -> None:
    name = rulebook["id"]
    found["rulebook"][name] = {key: rulebook[key] for key in ("name", "short_name", "law", "binds") if rulebook.get(key)}
    for place, record in enumerate(rulebook["severities"]):
        fields = _stated(record, "name", "outcome", "may_drive", "meaning", "deadline")
        actions = [f"{name}/{action}" for action in record["actions"]]
        found["severity"][f"{name}/{record['id']}"] = {**fields, "actions": actions, "place": place}
    for record in rulebook["actions"]:
        found["action"][f"{name}/{record['id']}"] = _stated(record, "kind", "by", "text")
    for kind, key, fields in (("duty", "duties", ("topic", "text")), ("report", "report", ("name",))):
        for record in rulebook.get(key) or ():
            found[kind][f"{name}/{record['id']}"] = _stated(record, *fields)
    for schedule in rulebook["schedules"]:
        for part in schedule["parts"]:
            for item in part["items"]:
                fields = _stated(item, "letter", "text", "applies_when")
                found["item"][f"{name}/{item['id']}"] = {**fields, "severity": f"{name}/{item['severity']}"}


def _ruling(ruling: dict[str, Any]) -> dict[str, Any]:
    name = ruling["rulebook"]
    return {
        "rulebook": name,
        "item": f"{name}/{ruling['item_id']}",
        "also": [f"{name}/{item}" for item in ruling["also"]],
        "severity": f"{name}/{ruling['severity']}",
        "applies_when": ruling["applies_when"],
        "actions": [f"{name}/{action}" for action in ruling["actions"]],
        "fit": ruling["fit"],
        "law_text": ruling["law_text"],
        "remark": ruling.get("remark"),
    }
