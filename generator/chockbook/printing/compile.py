"""Setting a template with its data: one call of the compiler that travels in the `typst` package."""

from __future__ import annotations

from datetime import date
from typing import Any

import typst

from ..catalogue.edition import seconds_of
from .desk import FONTS, find_out, set_pdf

__all__ = ["FONTS", "SettingFailed", "look_up", "set_sheets"]


class SettingFailed(Exception):
    """A document could not be set: the compiler's own words, with the document's name before them."""


def set_sheets(template: str, data: dict[str, Any], issued: date) -> bytes:
    """A document whose pages were counted before, as tagged PDF/UA-1; the same data gives the same bytes.

    What the compiler remembers is left to age: thousands of small documents share most of their parts, and
    what the last few of them took is little.

    Raises:
        SettingFailed: the compiler objects, as to a character that the face lacks.
    """
    stamp = seconds_of(issued)
    try:
        return set_pdf(template, data, stamp)
    except typst.TypstError as error:
        raise SettingFailed(f"{template}: {error}") from error


def look_up(template: str, data: dict[str, Any], label: str) -> Any:
    """What a template that prints nothing has found out: the value of its metadata with a label.

    Raises:
        SettingFailed: the compiler objects, as to a character that the face lacks.
    """
    try:
        return find_out(template, data, label)
    except typst.TypstError as error:
        raise SettingFailed(f"{template}: {error}") from error
