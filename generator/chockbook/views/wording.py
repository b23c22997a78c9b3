"""Words for the views: texts of the tables in one language, and the fixed words."""

from __future__ import annotations

from ..catalogue import Catalogue
from ..catalogue.wording import in_language

__all__ = ["MissingWording", "fixed_word", "in_language", "joined"]


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


def joined(catalogue: Catalogue, name: str, text: object, language: str) -> str:
    """A name and what is said of it, with the colon of the language between: "Horn: silent", "Klaxon : muet".

    Raises:
        MissingWording: words.yaml does not say how the two are joined.
    """
    before, after = colon(catalogue, language)
    return f"{name}{before}{text}{after}"


def colon(catalogue: Catalogue, language: str) -> tuple[str, str]:
    """What stands between a name and what is said of it, and what stands after both: mostly nothing.

    Raises:
        MissingWording: words.yaml does not say how the two are joined.
    """
    pattern = fixed_word(catalogue, "joined", language)
    between, _, after = pattern.partition("{name}")[2].partition("{text}")
    return between, after
