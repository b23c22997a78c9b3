"""Words for the views: texts of the tables in one language, and the fixed words."""

from __future__ import annotations

from ..catalogue import Catalogue
from ..catalogue.wording import in_language

__all__ = ["MissingWording", "fixed_word", "in_language"]


class MissingWording(LookupError):
    """A fixed word that words.yaml does not have."""


def fixed_word(catalogue: Catalogue, key: str, language: str) -> str:
    """A fixed word of the outputs (words.yaml) in a language.

    Raises:
        MissingWording: words.yaml has no such word.
    """
    try:
        return in_language(catalogue.words[key], language)
    except KeyError:
        raise MissingWording(f"words.yaml has no word {key!r}") from None
