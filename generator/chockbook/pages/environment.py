"""The template language of the pages: undefined names are errors, and every text is escaped."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from functools import cache
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from ..catalogue import Catalogue
from ..views.entry import RulingView
from ..views.schedule import part_anchor
from ..views.wording import fixed_word
from .escape import escape, title_line


class MissingText(ValueError):
    """A template places a text that is not there."""


def inert(value: object) -> Markup:
    """What a template places on a page.

    Raises:
        MissingText: there is nothing to place.
    """
    if value is None:
        raise MissingText("a template places a text that the view leaves empty")
    return value if isinstance(value, Markup) else escape(str(value))


def front_matter(text: str) -> Markup:
    """A title as a quoted value of the front matter; JSON strings are YAML strings."""
    return Markup(json.dumps(title_line(text), ensure_ascii=False))


def as_data(value: object) -> Markup:
    """Data for a script to read, as JSON that cannot end the element that it stands in."""
    text = json.dumps(value, ensure_ascii=False, separators=(",", ":"))
    return Markup(text.replace("<", "\\u003c").replace("&", "\\u0026"))


def in_its_language(text: str) -> Markup:
    """A text, marked as one of another language where it has not been written in that of the page ("[en] Horn")."""
    other = re.match(r"\[([a-z]{2,3}(?:-[A-Za-z]+)*)\] ", text)
    return Markup('<span lang="{}">{}</span>').format(other[1], inert(text)) if other else inert(text)


def anchor(slug: str) -> Markup:
    """An attribute list that gives a heading its anchor.

    Raises:
        ValueError: the slug holds more than lower-case letters, digits and hyphens.
    """
    if not re.fullmatch(r"[a-z0-9]+(?:-[a-z0-9]+)*", slug):
        raise ValueError(f"not an anchor: {slug!r}")
    return Markup(f"{{#{slug}}}")


def anchor_of_part(ruling: RulingView) -> str:
    """The anchor at which the part of a ruling stands on the page of the schedules."""
    return part_anchor(ruling.schedule_id, ruling.part)


def fill(text: str, **values: object) -> str:
    """A fixed wording with its numbers and names put in: {name} is replaced, all else stays."""
    for name, value in values.items():
        text = text.replace("{" + name + "}", str(value))
    return text


@cache  # compiling the templates takes longer than filling them in
def template_environment(folder: Path) -> Environment:
    """The environment in which the templates of a folder are rendered."""
    environment = Environment(
        loader=FileSystemLoader(folder),
        undefined=StrictUndefined,
        autoescape=True,
        finalize=inert,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    environment.filters["escape"] = inert
    environment.filters["e"] = inert
    environment.filters["front_matter"] = front_matter
    environment.filters["in_its_language"] = in_its_language
    environment.filters["anchor"] = anchor
    environment.filters["as_data"] = as_data
    environment.filters["part_anchor"] = anchor_of_part
    environment.filters["fill"] = fill
    return environment


def wording_in(catalogue: Catalogue, language: str) -> Callable[[str], str]:
    """The function by which templates place fixed words.

    The function raises MissingWording for a word that words.yaml does not have in the language.
    """
    return lambda key: fixed_word(catalogue, key, language)
