"""Choosing the words of one language, and saying so where they have not been written."""

from __future__ import annotations

from collections.abc import Mapping


def wording_read(text: Mapping[str, str]) -> str:
    """The wording of a text that figures are read from: English, or else the first that it has."""
    return text.get("en") or next(iter(text.values()))


def in_language(text: Mapping[str, str], language: str) -> str:
    """The wording of a text in a language.

    A text that has not been written in it comes in the first language that it has, with that language's
    code before it in brackets, such as "[en] Horn": a gap is seen, and never filled in silence.
    """
    if language in text:
        return text[language]
    other, words = next(iter(text.items()))
    return f"[{other}] {words}"
