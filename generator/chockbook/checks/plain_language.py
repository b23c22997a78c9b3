"""English that is understood at first reading, outdoors, under pressure.

An instruction has at most 20 words a sentence and begins with a verb; a description has at most 25.
Words of force ("must", "shall", "should") belong to the law and are not used for our advice.
Sources: ASD-STE100 (20 and 25 words, one instruction a sentence) and the US Federal Plain Language
Guidelines (words of force), both as summarised in published guidance read on 2026-11-25.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from ..faults import Fault, quoted
from ..tables import Steps, Table
from .walk import Tables, listed, records, steps_of_route

RULE = "plain-language"
INSTRUCTION_WORDS = 20
DESCRIPTION_WORDS = 25
_FORCE = re.compile(r"\b(shall|must|should|and/or)\b", re.IGNORECASE)
_SENTENCE = re.compile(r"(?<=[.!?])\s+")
_NOT_A_VERB = re.compile(r"^(the|a|an|you|your|it|there|if|this|that|no|driver|carrier|operator)\b", re.IGNORECASE)


def find(tables: Tables) -> Iterator[Fault]:
    """A fault for each English text that is too long, too forceful, or an instruction without its verb."""
    catalogue, rulebooks, route = (tables[n] for n in ("catalogue.yaml", "rulebooks.yaml", "route.yaml"))
    for at, defect in records(tables, "catalogue.yaml", "defects"):
        yield from _judge(catalogue, defect, at, "condition", DESCRIPTION_WORDS)
        yield from _judge(catalogue, defect, at, "check", INSTRUCTION_WORDS, starts_with_verb=True)
    for at, rulebook in records(tables, "rulebooks.yaml", "rulebooks"):
        for action_at, action in listed(rulebooks, rulebook, at, "actions"):
            yield from _judge(rulebooks, action, action_at, "text", INSTRUCTION_WORDS, starts_with_verb=True)
    for at, step in steps_of_route(tables):
        yield from _judge(route, step, at, "do", INSTRUCTION_WORDS, starts_with_verb=True)
        yield from _judge(route, step, at, "good", DESCRIPTION_WORDS)
        yield from _judge(route, step, at, "say", DESCRIPTION_WORDS)


def _judge(table: Table, record: dict[str, Any], at: Steps, key: str, longest: int,
           starts_with_verb: bool = False) -> Iterator[Fault]:  # fmt: skip
    text = record.get(key)
    words = text.get("en") if isinstance(text, dict) else None
    if not isinstance(words, str):
        return
    place = table.place((*at, key, "en"))
    for sentence in _SENTENCE.split(words.strip()):
        count = len(sentence.split())
        if count > longest:
            yield Fault(place, RULE, f"a sentence of {count} words: {quoted(sentence)}",
                        f"more than {longest} words are not understood at first reading outdoors",
                        "make two sentences of it")  # fmt: skip
    if found := _FORCE.search(words):
        yield Fault(place, RULE, f"the word {quoted(found.group())} in {quoted(words)}",
                    "readers would take our advice for the law, or trip over the form",
                    'say what good looks like ("it holds"), or give the instruction')  # fmt: skip
    if starts_with_verb and _NOT_A_VERB.match(words.strip()):
        yield Fault(place, RULE, f"the instruction {quoted(words)} does not begin with its verb",
                    "the reader looks for what to do first", "begin with the verb: look, press, turn, tell …")  # fmt: skip
