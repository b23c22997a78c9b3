"""The practice page's questions against the catalogue: one right answer each, and the right one.

Each question is judged as `questions` has it; every text has to be made of known ones, and what is shown as confirmed
may not rest on memory.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from ..catalogue import Catalogue
from ..catalogue.wording import in_language
from . import practice_words
from .facts import Reader
from .objection import Objection
from .questions import Told, question_faults, rests_on_sources
from .reading import Vocabulary, squash

PAGE = "practice.html"
BANK = "assets/practice/bank.js"


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
    reader = Reader(catalogue, language)
    for question in questions:
        if str(question.get("id")) in seen:
            yield Objection(output, str(question["id"]), "stands twice")
        seen.add(str(question.get("id")))
        if not question.get("id"):
            yield Objection(output, "question", "has no id")
            continue
        try:
            found = list(_faults(reader, question, rulebook_id))
        except (KeyError, IndexError, TypeError, AttributeError) as error:
            found = [f"cannot be read: {error!r}"]
        for what in found:
            yield Objection(output, str(question["id"]), what)
    for text in map(str, bank["texts"]):
        for part in anything.beyond(squash(text)):
            if not re.sub(r"[\W_]", "", part).isdigit():
                yield Objection(output, "text", f"says what the tables do not: {text}")
                break


def _told(one: dict[str, Any], texts: list[str]) -> dict[str, Any]:
    told = {key: texts[one[key]] for key in ("text", "reason", "source", "about")}
    return {**one, **told, "choices": [texts[at] for at in one["choices"]]}


def _faults(reader: Reader, question: dict[str, Any], rulebook_id: str) -> Iterator[str]:
    """What is wrong with a question, in words."""
    told = Told(question["id"], question["kind"], tuple(question["entries"]), question["severity"], question["text"],
                tuple(question["choices"]), question["right"])  # fmt: skip
    faults = list(question_faults(reader, told, rulebook_id))
    yield from faults
    entry = reader.catalogue.entry.get(question["entries"][0]) if question["entries"] else None
    if entry is None:
        return
    if question["about"] != in_language(entry.component.name, reader.language):
        yield f"leads to {question['about']!r}, not to the component of {entry.id}"
    yield from practice_words.faults(reader, question, rulebook_id)
    if question["confirmed"] and not faults and not rests_on_sources(reader, told, rulebook_id):
        yield "is shown as confirmed, and rests on something from memory"
