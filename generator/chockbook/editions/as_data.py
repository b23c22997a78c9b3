"""A catalogue as plain data: what catalogue.json holds, and what editions are compared by."""

from __future__ import annotations

from typing import Any

from ..catalogue import Catalogue, Entry, LimitRecord, RulebookRecord, Ruling, SourceRecord, Standing

FORMAT = 1


def catalogue_as_data(catalogue: Catalogue) -> dict[str, Any]:
    """The catalogue as plain data, in the order of the tables."""
    edition = catalogue.edition
    return {
        "format": FORMAT,
        "edition": {"code": edition.code, "date": edition.date.isoformat(), "check_by": edition.check_by.isoformat()},
        "languages": [language.code for language in catalogue.languages],
        "rulebooks": [_rulebook(rulebook) for rulebook in catalogue.rulebooks],
        "sources": [_source(source) for source in catalogue.sources],
        "limits": [_limit(limit) for limit in catalogue.limits],
        "entries": [_entry(entry) for entry in catalogue.entries],
        "systems": [system.model_dump(mode="json") for system in catalogue.systems],
        "components": [component.model_dump(mode="json") for component in catalogue.components],
        "stations": [station.model_dump(mode="json") for station in catalogue.stations],
        "cautions": [caution.model_dump(mode="json") for caution in catalogue.cautions],
        "jurisdictions": [one.model_dump(mode="json") for one in catalogue.jurisdictions],
        "words": {key: dict(text) for key, text in catalogue.words.items()},
    }


def _standing(record: Standing) -> dict[str, Any]:
    return {"id": record.source, "locator": record.locator, "basis": record.basis, "read_in": list(record.read_in)}


def _rulebook(rulebook: RulebookRecord) -> dict[str, Any]:
    return {
        "id": rulebook.id,
        "name": rulebook.name,
        "law": rulebook.law,
        "binds": rulebook.binds,
        "severities": [
            {"id": s.id, "name": s.name, "outcome": s.outcome, "may_drive": s.may_drive, "actions": list(s.actions),
             "source": _standing(s), "meaning": s.meaning, "deadline": s.deadline}
            for s in rulebook.severities
        ],
        "actions": [
            {"id": a.id, "kind": a.kind, "by": a.by, "text": a.text, "source": _standing(a)} for a in rulebook.actions
        ],
        "schedules": [
            {"id": schedule.id, "name": schedule.name, "vehicles": list(schedule.vehicles),
             "parts": [{"part": part.part, "title": part.title,
                        "items": [{"id": i.id, "letter": i.letter, "severity": i.severity, "text": i.text,
                                   "applies_when": i.applies_when, "source": _standing(i)} for i in part.items]}
                       for part in schedule.parts]}
            for schedule in rulebook.schedules
        ],
        "report": [{"id": f.id, "name": f.name, "source": _standing(f)} for f in rulebook.report],
        "duties": [{"id": d.id, "topic": d.topic, "text": d.text, "source": _standing(d)} for d in rulebook.duties],
        "short_name": rulebook.short_name,
        "left_out": [one.model_dump(mode="json") for one in rulebook.left_out],
    }  # fmt: skip


def _source(source: SourceRecord) -> dict[str, Any]:
    return source.model_dump(mode="json")


def _limit(limit: LimitRecord) -> dict[str, Any]:
    return limit.model_dump(mode="json")


def _entry(entry: Entry) -> dict[str, Any]:
    return {
        "id": entry.id,
        "system": {"id": entry.system.id, "name": entry.system.name},
        "component": {"id": entry.component.id, "name": entry.component.name},
        "condition": entry.condition,
        "check": entry.check,
        "aliases": {language: list(words) for language, words in entry.aliases.items()},
        "vehicles": list(entry.vehicles),
        "fitted": list(entry.component.fitted),
        "limits": [limit.id for limit in entry.limits],
        "rulings": [_ruling(ruling) for ruling in entry.rulings],
    }


def _ruling(ruling: Ruling) -> dict[str, Any]:
    return {
        "rulebook": ruling.rulebook.id,
        "schedule": ruling.schedule.id,
        "part": ruling.part.part,
        "item": ruling.item.letter,
        "item_id": ruling.item.id,
        "also": [item.id for item in ruling.also],
        "severity": ruling.severity.id,
        "applies_when": ruling.applies_when,
        "actions": [action.id for action in ruling.actions],
        "fit": ruling.fit,
        "law_text": ruling.law_text,
        "source": {"id": ruling.source.id, "locator": ruling.locator, "basis": ruling.basis},
        "remark": ruling.remark,
    }
