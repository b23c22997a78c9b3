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

from ..catalogue.wording import in_language
from . import bank_words, practice_words
from .facts import Reader
from .objection import Objection
from .questions import Told, question_faults, rests_on_sources
from .reading import squash

PAGE = "practice.html"
TEXTS = ("text", "reason", "source", "about")
"""Fields of a question that name a text, in the order in which they are written; its choices come after the first."""
BANK = "assets/practice/bank.js"


def prove_practice(reader: Reader, folder: Path, rulebook_id: str, name: str) -> Iterator[Objection]:
    """Objections to the practice questions of a book."""
    output = f"{name}/{BANK}"
    if not (folder / PAGE).is_file():
        yield Objection(f"{name}/{PAGE}", "page", "is missing")
        return
    try:
        text = (folder / BANK).read_text(encoding="utf-8")
        bank = json.loads(text[text.index("{") : text.rindex("}") + 1])
        questions = [_told(one, bank["texts"]) for one in bank["questions"]]
        disorder = list(_order(bank, output))
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
        found: list[str] = []
        try:
            found.extend(_faults(reader, question, rulebook_id))
        except (KeyError, IndexError, TypeError, AttributeError) as error:
            found.append(f"cannot be read: {error!r}")
        for what in found:
            yield Objection(output, str(question["id"]), what)
    yield from disorder
    for text in map(str, bank["texts"]):
        for part in reader.every_text.beyond(squash(text)):
            if not re.sub(r"[\W_]", "", part).isdigit():
                yield Objection(output, "text", f"says what the tables do not: {text}")
                break


def _told(one: dict[str, Any], texts: list[str]) -> dict[str, Any]:
    told = {key: texts[one[key]] for key in TEXTS}
    return {**one, **told, "choices": [texts[at] for at in one["choices"]]}


def _order(bank: dict[str, Any], output: str) -> Iterator[Objection]:
    """Texts stand once each and in the order in which the questions need them, and nothing stands beside them.

    A question that is left out, doubled or moved leaves texts that come too early or that none needs.
    """
    if set(bank) != {"questions", "texts"}:
        yield Objection(output, "file", "holds more than questions and their texts")
    used = [at for one in bank["questions"] for at in (one["text"], *one["choices"], *(one[key] for key in TEXTS[1:]))]
    if list(dict.fromkeys(used)) != list(range(len(bank["texts"]))) or len(set(bank["texts"])) != len(bank["texts"]):
        yield Objection(output, "texts", "are not, each once, in the order in which the questions need them")
    sure = [one["confirmed"] for one in bank["questions"]]
    if sure != sorted(sure, reverse=True):
        yield Objection(output, "questions", "do not begin with those that are confirmed")


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
    yield from bank_words.faults(reader, question, rulebook_id)
    if question["confirmed"] and not faults and not rests_on_sources(reader, told, rulebook_id):
        yield "is shown as confirmed, and rests on something from memory"
