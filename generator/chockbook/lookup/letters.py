"""From typed text to words that can be compared: lower case, no accents, no endings.

site_templates/web/lookup/js/letters.js does the same, step for step; tests hold the two together.
"""

from __future__ import annotations

import re
import unicodedata

from ..catalogue import SearchWordsRecord

APOSTROPHES = re.compile("['’‘ʼ`´]")
MARKS = re.compile("[\u0300-\u036f]")
"""Accents, once a letter has been taken apart from them."""
WORD = re.compile("[a-z0-9]+")
VOWEL = re.compile("[aeiouy]")
LETTERS_APART = {"œ": "oe", "æ": "ae", "ß": "ss", "ø": "o"}
"""Letters that Unicode does not take apart by itself."""


def numbered(words: list[str]) -> bool:
    """Whether a number is among the words."""
    return any(word[0] in "0123456789" for word in words)


class WordReader:
    """Reads the words of one language."""

    def __init__(self, search: SearchWordsRecord) -> None:
        self.language = search.language
        self._gap = "" if search.apostrophe == "joins" else " "
        self._drop = frozenset(search.drop)
        self._passes = [[(e.ending, e.becomes, e.keep, e.single) for e in one] for one in search.endings]
        self._undoubled = frozenset(search.undoubled)
        self._spellings = search.spellings

    def raw_words(self, text: str) -> list[str]:
        """Every word of a text in lower case, without accents and apostrophes."""
        text = MARKS.sub("", unicodedata.normalize("NFKD", text).lower())
        for letter, apart in LETTERS_APART.items():
            text = text.replace(letter, apart)
        return WORD.findall(APOSTROPHES.sub(self._gap, text))

    def told_words(self, text: str) -> list[str]:
        """The words that say something. One-letter words count beside a number, as in "part 7 a"."""
        words = self.raw_words(text)
        beside_number = numbered(words)
        return [word for word in words if word not in self._drop or (beside_number and len(word) == 1)]

    def is_dropped(self, word: str) -> bool:
        """Whether a word says nothing by itself."""
        return word in self._drop

    def root(self, word: str) -> str:
        """The form under which a word is looked up: usual spelling, no ending."""
        word = self._spellings.get(word, word)
        for one in self._passes:
            for ending, becomes, keep, single in one:
                rest = word[: -len(ending)]
                if word.endswith(ending) and len(rest) >= keep and VOWEL.search(rest):
                    if single and rest[-1] in self._undoubled and rest[-2:-1] == rest[-1]:
                        rest = rest[:-1]
                    word = rest + becomes
                    break
        return word
