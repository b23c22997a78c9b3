"""Reading a squashed text from left to right as a sequence of known phrases."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from .reading import squash

_LEAD = 4


class Phrases:
    """Phrases to look for. Where several fit, the longest is taken."""

    def __init__(self, phrases: Iterable[tuple[str, str, Any]]) -> None:
        """Args: phrases: (text, kind, what it stands for); a text may stand for several things."""
        self._by_lead: dict[str, dict[str, list[tuple[str, Any]]]] = {}
        for text, kind, what in phrases:
            plain = squash(text)
            if plain:
                self._by_lead.setdefault(plain[:_LEAD], {}).setdefault(plain, []).append((kind, what))
        # By length too: however many phrases begin alike, each length is looked up once.
        self._lengths = {lead: sorted(set(map(len, texts)), reverse=True) for lead, texts in self._by_lead.items()}
        self._short: dict[str, list[tuple[str, list[tuple[str, Any]]]]] = {}
        for lead, texts in self._by_lead.items():
            if len(lead) < _LEAD:
                self._short.setdefault(lead[0], []).extend(texts.items())

    def read(self, text: str) -> Iterator[tuple[int, list[tuple[str, Any]] | str]]:
        """Each phrase with its position and all that it may stand for, and unknown text in between."""
        at, unknown_from = 0, 0
        while at < len(text):
            found = self._at(text, at)
            if found is None:
                at += 1
                continue
            if unknown_from < at:
                yield unknown_from, text[unknown_from:at]
            yield at, found[1]
            at += len(found[0])
            unknown_from = at
        if unknown_from < len(text):
            yield unknown_from, text[unknown_from:]

    def _at(self, text: str, at: int) -> tuple[str, list[tuple[str, Any]]] | None:
        lead = text[at : at + _LEAD]
        for length in self._lengths.get(lead, ()):
            plain = text[at : at + length]
            if plain in self._by_lead[lead]:
                return plain, self._by_lead[lead][plain]
        for plain, means in self._short.get(text[at], ()):
            if text.startswith(plain, at):
                return plain, means
        return None
