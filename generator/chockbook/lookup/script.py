"""The lookup's script and data: modules joined in order into one file each."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

from ..catalogue import Catalogue
from ..resources import templates
from ..views.lookup import lookup_data
from .indexing import build_index

CORE = ("letters", "typing_errors", "query", "ranking", "catalogue", "step_order", "decision")
"""Modules that need no page: what the tests run against the Python rules."""
PAGE = ("make", "address", "choices", "results", "entry", "findings", "page", "roadside", "start")


def folder() -> Path:
    """Where the lookup's templates, styles and scripts are."""
    return templates("web") / "lookup"


def page_script() -> str:
    """The whole script of the page, in a scope of its own."""
    return f'(() => {{\n"use strict";\n{_joined((*CORE, *PAGE))}}})();\n'


def slimmed(text: str) -> str:
    """A script or style without its indents, empty lines and lines of comment; all else stays as written.

    The sources hold no text of several lines, so indents mean nothing in them.
    """
    text = re.sub(r"^\s*/\*.*?\*/\n", "", text, flags=re.DOTALL | re.MULTILINE)
    lines = (line.strip() for line in text.splitlines())
    return "".join(f"{line}\n" for line in lines if line and not line.startswith("//"))


def _joined(names: tuple[str, ...]) -> str:
    return "".join((folder() / "js" / f"{name}.js").read_text("utf-8") for name in names)


def page_data(catalogue: Catalogue, rulebook_id: str, language: str) -> dict[str, Any]:
    """What the script needs: the entries as the page shows them, and the index to find them by.

    Raises:
        NoSearchWords, UnknownRulebook, MissingWording: the catalogue does not have what the page shows.
    """
    data = lookup_data(catalogue, rulebook_id, language)
    data["index"] = build_index(catalogue, rulebook_id, language).plain()
    return data


def as_script_text(data: object) -> str:
    """Data as JSON that stays data wherever a page holds it: no character in it can end a script element."""
    text = json.dumps(data, ensure_ascii=False, separators=(",", ":"))
    for character in "<>&\u2028\u2029":
        text = text.replace(character, f"\\u{ord(character):04x}")
    return text
