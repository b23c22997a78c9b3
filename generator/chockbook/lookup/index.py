"""The lookup index: every phrase that leads to an entry, as numbers of words.

The page gets the same index as data (`plain`), so that Python and the page rank from the same numbers.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from ..catalogue import SearchWordsRecord

COMPONENT, COMPONENT_ALIAS, CONDITION, ALIAS, SYSTEM, SECTION, ITEM = range(7)
"""Kinds of phrase."""
WEIGHTS = (100, 96, 92, 94, 52, 100, 44)
"""How much a word counts in a phrase of each kind, in hundredths: what drivers call a thing counts most."""
SIGNS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz-_"
"""Digits of the numbers in packed phrases."""


@dataclass(frozen=True, slots=True)
class Phrase:
    """One wording that leads to an entry: its kind, and its words by number."""

    kind: int
    words: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class IndexedEntry:
    """An entry as the ranking sees it."""

    id: str
    rank: int
    """Rank of its governing severity; higher is worse."""
    component: int
    sections: tuple[int, ...]
    phrases: tuple[Phrase, ...]


@dataclass(frozen=True, slots=True)
class Unlisted:
    """Something that the rulebook has no entry for: what it is called, and every phrase that names it."""

    name: str
    phrases: tuple[Phrase, ...]


@dataclass(frozen=True)
class LookupIndex:
    """Everything the ranking needs. Entries stand in the order of the catalogue."""

    search: SearchWordsRecord
    surfaces: tuple[str, ...]
    """Words as written, in alphabetical order; typing errors are looked for among them."""
    compounds: tuple[tuple[str, str], ...]
    """Pairs that are also written as one word, such as seat belt."""
    roots: tuple[str, ...]
    """The forms under which words are looked up; a word's number is its place here."""
    weights: tuple[int, ...]
    """What each root says: rare ones more."""
    components: tuple[tuple[Phrase, ...], ...]
    sections: tuple[tuple[Phrase, ...], ...]
    entries: tuple[IndexedEntry, ...]
    unlisted: tuple[Unlisted, ...] = ()
    """Things of other rulebooks, then things of none."""

    def plain(self) -> dict[str, Any]:
        """The index as data for the page. Roots are left out: the page gets them from the surfaces."""
        search = self.search
        return {
            "language": {
                "code": search.language,
                "apostrophe": search.apostrophe,
                "drop": " ".join(search.drop),
                "measures": " ".join(search.measures),
                "undoubled": search.undoubled,
                "endings": [
                    [[e.ending, e.becomes, e.keep, int(e.single)] for e in one] for one in search.endings
                ],
                "spellings": " ".join(f"{a} {b}" for a, b in search.spellings.items()),
                "mistaken": [[word, " ".join(meant)] for word, meant in search.mistaken.items()],
                "same": ["|".join(group) for group in search.same],
            },
            "surfaces": " ".join(self.surfaces),
            "compounds": " ".join(f"{a} {b}" for a, b in self.compounds),
            "weights": list(self.weights),
            "width": self._width,
            "components": [self._packed(phrases) for phrases in self.components],
            "sections": [self._packed(phrases) for phrases in self.sections],
            "entries": [
                [e.rank, e.component, list(e.sections), self._packed(e.phrases)] for e in self.entries
            ],
            "unlisted": [[one.name, self._packed(one.phrases)] for one in self.unlisted],
        }

    @property
    def _width(self) -> int:
        """Signs that a word's number takes in packed phrases."""
        return 2 if len(self.roots) <= len(SIGNS) ** 2 else 3

    def _packed(self, phrases: Iterable[Phrase]) -> str:
        """Phrases as text, a space between them: the kind, then each word's number in SIGNS."""
        return " ".join(
            f"{phrase.kind}" + "".join(self._signs(word) for word in phrase.words) for phrase in phrases
        )

    def _signs(self, number: int) -> str:
        text = ""
        for _ in range(self._width):
            number, sign = divmod(number, len(SIGNS))
            text = SIGNS[sign] + text
        return text
