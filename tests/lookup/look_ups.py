"""Look-ups with known right answers, and how well a search does on them."""

from __future__ import annotations

import hashlib
import sys
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path

from chockbook.catalogue import Catalogue

HERE = Path(__file__).parent
sys.path.insert(0, str(HERE.parents[0] / "benchmarks"))
SEVERITIES = {"m": "minor", "M": "major"}
HELD_OUT_TENTHS = 3


@dataclass(frozen=True)
class LookUp:
    """What someone types, and what a right answer shows."""

    words: str
    parts: tuple[str, ...]
    """Parts of Schedule 1 that are right; empty where nothing is the right answer."""
    severities: tuple[str, ...]

    @property
    def in_scope(self) -> bool:
        return bool(self.parts)

    @property
    def held_out(self) -> bool:
        return int(hashlib.sha256(self.words.encode()).hexdigest(), 16) % 10 < HELD_OUT_TENTHS

    def answered_by(self, catalogue: Catalogue, entry_id: str | None) -> bool:
        if entry_id is None:
            return False
        rulings = catalogue.entry[entry_id].rulings_under("on-s1")
        return any(r.part.part in self.parts and r.severity.id in self.severities for r in rulings)


@dataclass(frozen=True)
class Success:
    """Shares of look-ups answered by the first and by the first three; mean of 1 / first right place."""

    n: int
    at_1: float
    at_3: float
    mrr: float
    missed: tuple[str, ...]
    """Look-ups not answered within three."""


def read_look_ups(name: str) -> list[LookUp]:
    found = []
    for line in (HERE / name).read_text("utf-8").splitlines():
        if line and not line.startswith("#"):
            words, language, part, severities = line.split("\t")
            assert language == "en", line
            parts = () if part == "-" else tuple(part.split(","))
            found.append(LookUp(words, parts, tuple(SEVERITIES[s] for s in severities if s in SEVERITIES)))
    assert found, name
    return found


def measure(
    catalogue: Catalogue, look_ups: Iterable[LookUp], search: Callable[[str], list[str | None]]
) -> Success:
    """How well a search, which gives entry ids best first, answers look-ups (the first ten places count).

    None in the list stands for a result that shows no entry.
    """
    places = []
    for one in look_ups:
        ids = search(one.words)[:10]
        place = next((at for at, entry in enumerate(ids, 1) if one.answered_by(catalogue, entry)), 0)
        places.append((place, one.words))
    n = len(places)
    assert n
    return Success(
        n,
        sum(place == 1 for place, _ in places) / n,
        sum(1 <= place <= 3 for place, _ in places) / n,
        sum(1 / place for place, _ in places if place) / n,
        tuple(words for place, words in places if not 1 <= place <= 3),
    )
