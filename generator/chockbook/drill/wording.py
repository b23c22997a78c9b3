"""Words of the questions: the fixed words, texts of the tables, and whether one text gives another away."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterable, Mapping
from functools import lru_cache

from ..catalogue import Catalogue, Entry, Ruling
from ..catalogue.locator import locator_in
from ..catalogue.wording import in_language

_WORD = re.compile(r"[^\W_]+(?:[.,/][^\W_]+)*")
REMEMBERED = 65_536
"""Texts whose sound is remembered: each stands among the choices of many questions."""
TELLING = 4
"""Letters from which a word tells something; its first so many are compared, so that brake and brakes are one."""


class Words:
    """The fixed words of a catalogue in one language, and its texts."""

    def __init__(self, catalogue: Catalogue, language: str) -> None:
        self.catalogue = catalogue
        self.language = language

    def fixed(self, key: str, **values: object) -> str:
        """A fixed word with its places filled in.

        Raises:
            KeyError: words.yaml has no such word.
        """
        text = in_language(self.catalogue.words[key], self.language)
        for name, value in values.items():
            text = text.replace("{" + name + "}", str(value))
        return text

    def of(self, text: Mapping[str, str]) -> str:
        """A text of the tables in the language."""
        return in_language(text, self.language)

    def finding(self, entry: Entry, circumstance: Mapping[str, str] | None = None) -> str:
        """A defect as it is found: component, condition, and the circumstance where one decides."""
        told = self.fixed("drill-finding", component=self.of(entry.component.name), condition=self.of(entry.condition))
        return f"{told}, {self.of(circumstance)}" if circumstance else told

    def reason(self, ruling: Ruling, with_outcome: bool = False) -> str:
        """What the schedule says: the severity, what it lets the driver do where that is asked, and the item."""
        name, item = self.of(ruling.severity.name), self.of(ruling.item.text)
        if with_outcome:
            outcome = self.of(ruling.severity.outcome)
            return self.fixed("drill-reason-outcome", severity=name, outcome=outcome, item=item)
        return self.fixed("drill-reason-item", severity=name, item=item)

    def source(self, ruling: Ruling) -> str:
        """Title and locators of a ruling."""
        return "; ".join([self.place(ruling.source.title, ruling.locator), *(self.locator(i.locator) for i in ruling.also)])

    def locator(self, locator: str) -> str:
        """The place in a source, in the language."""
        return locator_in(self.catalogue, locator, self.language)

    def place(self, title: Mapping[str, str], locator: str) -> str:
        """Title of a source, and the place in it."""
        return f"{self.of(title)}, {self.locator(locator)}"


@lru_cache(maxsize=REMEMBERED)
def plain(text: str) -> str:
    """A text as it sounds: lower case, without accents, marks and doubled spaces."""
    bare = "".join(c for c in unicodedata.normalize("NFKD", text.lower()) if not unicodedata.combining(c))
    return " ".join(_WORD.findall(bare))


@lru_cache(maxsize=REMEMBERED)
def stems(text: str) -> frozenset[str]:
    """The beginnings of the words of a text that tell something, and its numbers."""
    return frozenset(
        word if any(c.isdigit() for c in word) else word[: TELLING + 1]
        for word in plain(text).split()
        if len(word) >= TELLING or any(c.isdigit() for c in word)
    )


def gives_away(text: str, right: str, wrong: Iterable[str]) -> bool:
    """Whether a question's wording repeats its answer: whole, or by a word that no wrong choice has."""
    if f" {plain(right)} " in f" {plain(text)} ":
        return True
    shared = stems(right) & stems(text)
    return not shared <= frozenset().union(*map(stems, wrong)) if shared else False


def read_alike(one: str, other: str) -> bool:
    """Whether two choices cannot be told apart by what they say."""
    return plain(one) == plain(other) or (stems(one) == stems(other) and bool(stems(one)))


def told(text: Mapping[str, str]) -> Callable[[Words], str]:
    """A text of the tables, once it is known in which language."""
    return lambda words: words.of(text)
