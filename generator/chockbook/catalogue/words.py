"""words.yaml: every fixed word of the outputs, and the cautions."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from .record import Id, Language, Line, Record, Text
from .search_words import SearchWordsRecord


class LanguageRecord(Record):
    """A language in which the outputs are made."""

    code: Language
    name: Line


class CautionRecord(Record):
    """A hazard to the reader: signal word, hazard, consequence, how to avoid it."""

    id: Id
    level: Literal["warning", "caution"]
    hazard: Text
    consequence: Text
    avoid: Text


class WordsTable(Record):
    """words.yaml: every fixed word of the outputs, in each language."""

    languages: Annotated[list[LanguageRecord], Field(min_length=1)]
    cautions: Annotated[list[CautionRecord], Field(min_length=1)]
    words: dict[Id, Text]
    search: list[SearchWordsRecord] = []
    """What the lookup knows of each language."""
    locators: list[Text] = []
    """Fixed words of the places in sources, such as "Part" and "not read". Locators are written in the first
    language of the project; in the others these words take the place of theirs."""
