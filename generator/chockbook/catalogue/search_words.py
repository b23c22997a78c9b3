"""What the lookup knows of a language: its endings, its spellings, and the words that mean the same."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, StringConstraints

from .record import Language, Line, Record

Letters = Annotated[str, StringConstraints(pattern=r"^[a-z0-9]+$", max_length=40)]
"""A word as the lookup sees it: lower case, no accents, no apostrophes."""


class EndingRecord(Record):
    """An ending that a word loses, such as "ing"."""

    ending: Letters
    becomes: Annotated[str, StringConstraints(pattern=r"^[a-z0-9]*$", max_length=20)] = ""
    keep: Annotated[int, Field(ge=1, le=20)]
    """Letters that are left before the ending; a shorter word keeps it."""
    single: bool = False
    """Whether a doubled letter before the ending becomes one, as in "rubbing"."""


class SearchWordsRecord(Record):
    """Search words of one language."""

    language: Language
    apostrophe: Literal["joins", "parts"]
    """Whether won't is looked up as wont (joins), or d'air as d and air (parts)."""
    drop: list[Letters] = []
    """Words that say nothing by themselves, such as "the"."""
    small: list[Letters] = []
    """Further words that say nothing where two texts are compared, such as "but"; they are looked up all the same."""
    measures: list[Letters] = []
    """Units of measure, such as "psi": only within a phrase of `same` ("psi per minute") do they tell defects apart."""
    endings: list[list[EndingRecord]] = []
    """Passes over a word's ending, in order; of each pass the first ending that fits is taken."""
    undoubled: str = ""
    """Letters that "single" makes single."""
    spellings: dict[Letters, Letters] = {}
    """Other spellings and irregular forms, each with the form it is looked up as."""
    mistaken: dict[Letters, list[Letters]] = {}
    """Words that are often typed for others that sound alike, such as break for brake."""
    same: list[list[Line]] = []
    """Groups of words and phrases that mean the same to a driver."""
    unlike: list[Line] = []
    """Words that begin an exception, such as "other than": what they name, up to the next comma, is not looked up."""
    unlisted: list[list[Line]] = []
    """Things that drivers ask about and no entry is about, such as a landing gear; the first is shown."""
