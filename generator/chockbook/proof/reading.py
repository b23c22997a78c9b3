"""Comparing what a block of text says with what it has to say."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

_TAKEN = "\0"
_SILENT = re.compile(r"[\W_]+")
"""Spaces, punctuation and marks: they say nothing by themselves."""
_HYPHENS = re.compile("-{2,}")
_BETWEEN_WORDS = re.compile(r"[\W\d_]+")
PLACE = re.compile(r"\{[a-z_]+\}")
_BEGINNINGS = (16, 8, 3)
"""Letters by which a text of a vocabulary is looked up: the longest beginning that it has."""
_INVISIBLE = re.compile("[\u00ad\u200b\u200c\u200d\u2060\ufeff\ufffe]+")
_OFTEN = 400
"""Letters of the longest text that is remembered squashed: names and sentences of the tables, asked for page by page."""


def squash(text: str) -> str:
    """A text without white space and invisible characters: line breaks differ between outputs.

    Hyphens that follow each other count as one: at a line's end some languages write it again on the next line.
    """
    return _remembered(text) if len(text) <= _OFTEN else _squash(text)


def _squash(text: str) -> str:
    if not text.isascii():
        text = _INVISIBLE.sub("", unicodedata.normalize("NFC", text))
    squashed = "".join(text.split())
    return _HYPHENS.sub("-", squashed) if "--" in squashed else squashed


_remembered = lru_cache(maxsize=1 << 15)(_squash)


class Vocabulary:
    """Texts that may stand somewhere. A place for a number or name, written {so}, may hold anything short."""

    def __init__(self, texts: Iterable[str]) -> None:
        pieces = {squash(piece) for text in texts for piece in PLACE.split(text)}
        self._known = frozenset(piece for piece in pieces if not _silent(piece))
        # A very short text, such as the name of a unit, is inside nearly every word: it counts only alone.
        self._judged: dict[str, tuple[str, ...]] = {}
        long_enough = (piece for piece in self._known if len(piece) >= _BEGINNINGS[-1])
        self._long_first = sorted(long_enough, key=lambda piece: (-len(piece), piece))
        # By their beginnings, so that a text is held against the few that can stand in it and not against all.
        self._places: dict[str, list[int]] = {}
        for place, piece in enumerate(self._long_first):
            length = next(length for length in _BEGINNINGS if length <= len(piece))
            self._places.setdefault(piece[:length], []).append(place)

    def beyond(self, squashed: str) -> tuple[str, ...]:
        """What a squashed text says when every text of the vocabulary is taken out of it."""
        if squashed not in self._judged:  # the same texts stand on many pages
            self._judged[squashed] = self._judge(squashed)
        return self._judged[squashed]

    def _judge(self, squashed: str) -> tuple[str, ...]:
        if squashed in self._known or _silent(squashed):
            return ()
        for text in self._perhaps_in(squashed):
            if text in squashed:
                squashed = squashed.replace(text, _TAKEN)
                if _silent(squashed):
                    return ()
        return tuple(part for part in squashed.split(_TAKEN) if not self._only_short(part))

    def _perhaps_in(self, squashed: str) -> list[str]:
        """Those texts of the vocabulary whose beginning stands in a squashed text, long ones first."""
        begun = {squashed[at : at + length] for length in _BEGINNINGS for at in range(len(squashed) - length + 1)}
        places = sorted(place for beginning in self._places.keys() & begun for place in self._places[beginning])
        return [self._long_first[place] for place in places]

    def _only_short(self, part: str) -> bool:
        """Whether a part holds numbers, punctuation and whole short texts only, or numbers alone."""
        words = [word for word in _BETWEEN_WORDS.split(part) if word]
        return (bool(words) and all(word in self._known for word in words)) or _silent(part)


@dataclass(frozen=True, slots=True)
class Comparison:
    """What a block lacks, and what it says beyond what it may."""

    missing: tuple[str, ...]
    beyond: tuple[str, ...]


def compare(block: str, required: Iterable[str], allowed: Vocabulary) -> Comparison:
    """Compare a block with the texts it has to hold, each as often as it is named, and those it may hold.

    Long texts are taken out before short ones, so that a short one is not found inside a long one. What
    is left when all are taken out is beyond.
    """
    rest = squash(block)
    missing = []
    for wanted, text in sorted(((squash(text), text) for text in required), key=lambda pair: -len(pair[0])):
        at = rest.find(wanted)
        if at < 0:
            missing.append(text)
        else:
            rest = f"{rest[:at]}{_TAKEN}{rest[at + len(wanted) :]}"
    return Comparison(tuple(missing), allowed.beyond(rest))


def _silent(text: str) -> bool:
    return not _SILENT.sub("", text)
