"""The practice page's questions against the catalogue: one right answer each, and the right one.

Severity, action, place, which one and what stops are judged by simple rules of their own, which know nothing of
how questions are made. Of the other kinds (figures, measured values, cases) the form is judged, that every defect
exists under the rulebook, and that every text is made of known ones; tests judge their answers.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from ..catalogue import Catalogue, Entry, Ruling
from ..catalogue.wording import in_language
from . import practice_words
from .facts import Reader
from .objection import Objection
from .reading import Vocabulary, squash

PAGE = "practice.html"
BANK = "assets/practice/bank.js"
JUDGED = {"severity", "action", "place", "which", "stops"}
"""Kinds whose answers are judged."""


def prove_practice(catalogue: Catalogue, folder: Path, rulebook_id: str, language: str, name: str,
                   anything: Vocabulary) -> Iterator[Objection]:  # fmt: skip
    """Objections to the practice questions of a book.

    Args:
        anything: every text that a page of the book may say.
    """
    output = f"{name}/{BANK}"
    if not (folder / PAGE).is_file():
        yield Objection(f"{name}/{PAGE}", "page", "is missing")
        return
    try:
        text = (folder / BANK).read_text(encoding="utf-8")
        bank = json.loads(text[text.index("{") : text.rindex("}") + 1])
        questions = [_told(one, bank["texts"]) for one in bank["questions"]]
    except (OSError, ValueError, KeyError, IndexError, TypeError) as error:
        yield Objection(output, "file", f"cannot be read: {error!r}")
        return
    seen: set[str] = set()
    for question in questions:
        if str(question.get("id")) in seen:
            yield Objection(output, str(question["id"]), "stands twice")
        seen.add(str(question.get("id")))
        if not question.get("id"):
            yield Objection(output, "question", "has no id")
            continue
        try:
            found = list(_faults(Reader(catalogue, language), question, rulebook_id))
        except (KeyError, IndexError, TypeError, AttributeError) as error:
            found = [f"cannot be read: {error!r}"]
        for what in found:
            yield Objection(output, str(question["id"]), what)
    for text in map(str, bank["texts"]):
        for part in anything.beyond(squash(text)):
            if not re.sub(r"[\W_]", "", part).isdigit():
                yield Objection(output, "text", f"says what the tables do not: {text}")
                break


def _told(question: dict[str, Any], texts: list[str]) -> dict[str, Any]:
    told = {key: texts[question[key]] for key in ("text", "reason", "source", "about")}
    return {**question, **told, "choices": [texts[at] for at in question["choices"]]}


def _faults(reader: Reader, question: dict[str, Any], rulebook_id: str) -> Iterator[str]:
    """What is wrong with a question, in words."""
    choices, number = question["choices"], question["right"]
    if not (0 <= number < len(choices)) or len({squash(choice) for choice in choices}) < len(choices):
        yield "has no single right choice"
        return
    unknown = [key for key in question["entries"] if key not in reader.catalogue.entry
               or not reader.catalogue.entry[key].rulings_under(rulebook_id)]  # fmt: skip
    if unknown or not question["entries"]:
        yield f"is about {unknown[0] if unknown else 'nothing'}, of which the rulebook does not speak"
        return
    entry = reader.catalogue.entry[question["entries"][0]]
    if question["about"] != in_language(entry.component.name, reader.language):
        yield f"leads to {question['about']!r}, not to the component of {entry.id}"
    kind = question["kind"]
    yield from practice_words.faults(reader, question, rulebook_id)
    if kind in JUDGED:
        right, wrong = choices[number], [choice for at, choice in enumerate(choices) if at != number]
        yield from _JUDGES[kind](reader, question, entry, right, wrong, rulebook_id)


def _rulings(question: dict[str, Any], entry: Entry, rulebook_id: str) -> list[Ruling]:
    return [ruling for ruling in entry.rulings_under(rulebook_id) if ruling.severity.id == question["severity"]]


def _severity(reader: Reader, question: dict[str, Any], entry: Entry, right: str, wrong: list[str],
              rulebook_id: str) -> Iterator[str]:  # fmt: skip
    rulings = _rulings(question, entry, rulebook_id)
    if right not in {in_language(ruling.severity.name, reader.language) for ruling in rulings}:
        yield f"calls {entry.id} {right!r}, which the catalogue does not"
    yield from _confirmed(question, rulings)


def _action(reader: Reader, question: dict[str, Any], entry: Entry, right: str, wrong: list[str],
            rulebook_id: str) -> Iterator[str]:  # fmt: skip
    rulings = _rulings(question, entry, rulebook_id)
    asked = {in_language(action.text, reader.language) for ruling in rulings for action in ruling.actions}
    if right not in asked:
        yield f"asks for {right!r}, which the catalogue does not ask for with {entry.id}"
    for choice in asked.intersection(wrong):
        yield f"takes {choice!r} for wrong, and the catalogue asks for it"
    yield from _confirmed(question, rulings)


def _place(reader: Reader, question: dict[str, Any], entry: Entry, right: str, wrong: list[str],
           rulebook_id: str) -> Iterator[str]:  # fmt: skip
    rulings = entry.rulings_under(rulebook_id)
    titles = {in_language(ruling.part.title, reader.language) for ruling in rulings}
    if right not in titles:
        yield f"puts {entry.id} into {right!r}, and the catalogue does not"
    for choice in titles.intersection(wrong):
        yield f"takes {choice!r} for wrong, and the catalogue puts {entry.id} there"
    yield from _confirmed(question, rulings)


def _which(reader: Reader, question: dict[str, Any], entry: Entry, right: str, wrong: list[str],
           rulebook_id: str) -> Iterator[str]:  # fmt: skip
    yield from _named(reader, question, right, wrong)
    if not _rulings(question, entry, rulebook_id):
        yield f"takes {entry.id} for {question['severity']}, and the catalogue does not"
    for key in question["entries"][1:]:
        other = reader.catalogue.entry[key].rulings_under(rulebook_id)
        if all(ruling.severity.id == question["severity"] for ruling in other):
            yield f"takes {key} for wrong, and the catalogue calls it {question['severity']} too"
    yield from _confirmed(question, _rulings(question, entry, rulebook_id))


def _stops(reader: Reader, question: dict[str, Any], entry: Entry, right: str, wrong: list[str],
           rulebook_id: str) -> Iterator[str]:  # fmt: skip
    yield from _named(reader, question, right, wrong)
    rulings = _rulings(question, entry, rulebook_id)
    stop = {ruling.severity.may_drive == "no" for ruling in rulings}
    for key in question["entries"][1:]:
        others = reader.catalogue.entry[key].rulings_under(rulebook_id)
        if not any({ruling.severity.may_drive == "no"}.isdisjoint(stop) for ruling in others):
            yield f"tells {entry.id} from {key}, and the catalogue does not"
    yield from _confirmed(question, rulings)


def _named(reader: Reader, question: dict[str, Any], right: str, wrong: list[str]) -> Iterator[str]:
    """The choices are the defects that the question is about, the right one first."""
    headings = [reader.heading(reader.catalogue.entry[key]) for key in question["entries"]]
    for choice, own in ((right, headings[:1]), *((choice, headings[1:]) for choice in wrong)):
        if not any(squash(choice).startswith(squash(heading)) for heading in own):
            yield f"offers {choice!r}, which is not the defect that it is said to be"


def _confirmed(question: dict[str, Any], rulings: Any) -> Iterator[str]:
    if question["confirmed"] and not any(ruling.confirmed for ruling in rulings):
        yield "is shown as confirmed, and rests on something from memory"


_JUDGES = {"severity": _severity, "action": _action, "place": _place, "which": _which, "stops": _stops}
