"""Every text stands in every language that words.yaml names.

A gap is a warning and not an error: the build goes on, and the page concerned says that the text is
missing. It is never filled silently from the other language.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from ..catalogue import TABLES
from ..faults import Fault, quoted
from ..tables import Steps, Table
from ..tables.shape import text_fields
from .walk import Tables, records

RULE = "missing-translation"


def find(tables: Tables) -> Iterator[Fault]:
    """A fault for each text that lacks a language, and for each language that words.yaml does not name."""
    wanted = [code for _, r in records(tables, "words.yaml", "languages") if isinstance(code := r.get("code"), str)]
    if not wanted:
        return
    for name, table in tables.items():
        for at, text in text_fields(TABLES[name], table.data):
            yield from _judge(table, at, text, wanted)


def _judge(table: Table, at: Steps, text: dict[str, Any], wanted: list[str]) -> Iterator[Fault]:
    for code in wanted:
        if code not in text:
            other = next(iter(text.values()), "")
            shown = ", ".join(map(str, other)) if isinstance(other, list) else other
            yield Fault(table.place(at), RULE, f"no {quoted(code)} wording of {quoted(shown)}",
                        "the outputs in that language would have a gap here",
                        f"add {code}: beside the others", "warning")  # fmt: skip
    for code in text:
        if code not in wanted:
            yield Fault(table.key_place((*at, code)), "unknown-language",
                        f"{quoted(code)} is not a language of this project",
                        "the wording would never be shown",
                        "name the language under `languages` in words.yaml, or remove the wording")  # fmt: skip
