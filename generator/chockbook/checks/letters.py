"""Every letter can be printed: the typeface of the outputs has it.

A letter that the face lacks would stop the typesetting of a whole document, and name no line of a table.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from importlib.resources import files
from typing import Any

from fontTools.ttLib import TTFont

from ..faults import Fault, quoted
from ..tables import Steps, Table
from .walk import Tables

RULE = "no-such-letter"
_NOT_PRINTED = {("words.yaml", "search")}
"""What only the lookup reads."""


def find(tables: Tables) -> Iterator[Fault]:
    """A fault for each text with a letter that the typeface lacks."""
    for name, table in tables.items():
        yield from find_in(table, {key for file, key in _NOT_PRINTED if file == name})


def find_in(table: Table, besides: set[str] | frozenset[str] = frozenset()) -> Iterator[Fault]:
    """A fault for each text of one table with a letter that the typeface lacks.

    Args:
        besides: keys at the top of the table under which nothing is printed.
    """
    for at, text in _texts(table.data, (), besides):
        lacking = next((letter for letter in text if ord(letter) not in _face()), None)
        if lacking is not None:
            yield Fault(table.place(at), RULE, f"{quoted(lacking)} (U+{ord(lacking):04X}) in {quoted(text)} is not in the typeface",
                        "no card, checklist or manual could be printed with it",
                        "write it with other letters")  # fmt: skip


@cache
def _face() -> frozenset[int]:
    """Code points that every style of Atkinson Hyperlegible has, and the ends of lines and tabs."""
    folder = files("fontpkg_atkinson_hyperlegible").joinpath("files")
    styles = []
    for style in ("Regular", "Bold"):
        with folder.joinpath(f"AtkinsonHyperlegible-{style}.ttf").open("rb") as file, TTFont(file, lazy=True) as font:
            styles.append(set(font.getBestCmap()))
    return frozenset(set.intersection(*styles) | {0x09, 0x0A, 0x0D})


def _texts(value: Any, steps: Steps, besides: set[str] | frozenset[str]) -> Iterator[tuple[Steps, str]]:
    if isinstance(value, str):
        if not value.isascii():
            yield steps, value
    elif isinstance(value, dict):
        for key, inner in value.items():
            if steps or key not in besides:
                yield from _texts(inner, (*steps, key), besides)
    elif isinstance(value, list):
        for at, inner in enumerate(value):
            yield from _texts(inner, (*steps, at), besides)
