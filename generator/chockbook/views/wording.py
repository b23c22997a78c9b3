"""Choosing the words of one language."""

from __future__ import annotations

from collections.abc import Mapping

from ..catalogue import Catalogue


class MissingWording(LookupError):
    """A text is wanted in a language in which it has not been written."""


def in_language(text: Mapping[str, str], language: str) -> str:
    """The wording of a text in a language.

    Raises:
        MissingWording: the text has no wording in that language.
    """
    try:
        return text[language]
    except KeyError:
        raise MissingWording(f"no wording in {language!r} of: {next(iter(text.values()))}") from None


def fixed_word(catalogue: Catalogue, key: str, language: str) -> str:
    """A fixed word of the outputs (words.yaml) in a language.

    Raises:
        MissingWording: words.yaml has no such word, or not in that language.
    """
    try:
        return catalogue.words[key][language]
    except KeyError:
        raise MissingWording(f"words.yaml has no {key!r} in {language!r}") from None
