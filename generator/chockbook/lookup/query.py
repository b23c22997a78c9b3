"""What a driver typed, read as words with everything each of them may stand for.

site_templates/web/lookup/js/query.js does the same, step for step; tests hold the two together.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from .index import LookupIndex
from .letters import WordReader, numbered
from .typing_errors import NearWords

MOST_WORDS = 16
"""Words of a query that count; the rest is left unread."""
SAME_QUALITY = 80
"""How much a word that means the same counts, in hundredths."""
MISTAKEN_QUALITY = 62
BEGUN_QUALITY = 84
"""A word that begins with a half-typed word, where no word is spelt so."""
BEGUN_OTHER_QUALITY = 44
"""The same, where the typed letters are a word themselves."""
UNKNOWN_WEIGHT = 58
"""What a word counts that nothing in the catalogue resembles."""
RUN_TOGETHER_QUALITY = 92
"""Each of two words typed as one."""
SPLIT_QUALITY = 60
"""Two words run together are looked for only where no single word is nearer than this."""
DOUBT, MOST_DOUBT = 8, 32
"""Taken off for each further root that is as near to a mistyped word, and at most, in hundredths."""
_NUMBER = re.compile(r"[0-9]+")
_FIGURE_WITH_MEASURE = re.compile(r"([0-9]+)([a-z]+)")
SHORTEST_BEGINNING = 2
SHORTEST_PIECE = 3


@dataclass
class Unit:
    """One typed word: what it weighs, and the roots and groups it may stand for, each in hundredths."""

    weight: int = UNKNOWN_WEIGHT
    roots: dict[int, int] = field(default_factory=dict)
    groups: dict[int, int] = field(default_factory=dict)

    def may_be(self, root: int, quality: int) -> None:
        """Takes a root in, at the best quality it is offered with."""
        self.roots[root] = max(self.roots.get(root, 0), quality)


class QueryReader:
    """Reads queries against one index."""

    def __init__(self, index: LookupIndex) -> None:
        self._index = index
        self._reader = WordReader(index.search)
        self._root_number = {root: number for number, root in enumerate(index.roots)}
        self._surface_root = [self._root_number[self._reader.root(word)] for word in index.surfaces]
        self._surfaces = {word: place for place, word in enumerate(index.surfaces)}
        self._compounds = {first + second: (first, second) for first, second in index.compounds}
        self._words = [*index.surfaces, *self._compounds]
        self._near = NearWords(self._words)
        self._mistaken = {
            word: [
                self._root_number[root] for root in map(self._reader.root, meant) if root in self._root_number
            ]
            for word, meant in index.search.mistaken.items()
        }
        self._measures = frozenset(map(self._reader.root, index.search.measures))
        self._measured = frozenset(self._root_number[one] for one in self._measures if one in self._root_number)
        self.members: dict[int, list[tuple[tuple[int, ...], int]]] = {}
        for group, phrases in enumerate(index.search.same):
            for phrase in phrases:
                sequence = tuple(self._number(piece) for word in self._reader.told_words(phrase)
                                 for piece in self._compounds.get(word, (word,)))  # fmt: skip
                if sequence:
                    self.members.setdefault(sequence[0], []).append((sequence, group))
        places = [section[0].words for section in index.sections]
        self._in_places = frozenset(word for words in places for word in words)
        self._before_places = self._and_alike({words[0] for words in places})

    def _and_alike(self, roots: set[int]) -> frozenset[int]:
        """Roots with the single words that mean the same."""
        groups = {group for root in roots for group, _, _ in self.groups_in((root,))}
        alike = {first for first, found in self.members.items()
                 for sequence, group in found if len(sequence) == 1 and group in groups}  # fmt: skip
        return frozenset(roots | alike)

    def _number(self, word: str) -> int:
        return self._root_number[self._reader.root(word)]

    def groups_in(self, words: tuple[int, ...]) -> list[tuple[int, int, int]]:
        """Groups of same-meaning phrases in a row of roots: group, first place, place after the last."""
        found = []
        for place, word in enumerate(words):
            for sequence, group in self.members.get(word, ()):
                if words[place : place + len(sequence)] == sequence:
                    found.append((group, place, place + len(sequence)))
        return found

    def read(self, typed: str) -> list[Unit]:
        """The units of a query; the last word counts as half-typed unless a space follows it."""
        words = self._pieces(self._without_figures(self._reader.told_words(typed)))[:MOST_WORDS]
        half_typed = bool(words) and typed[-1:] not in (" ", "\t", "\n")
        if half_typed and len(words) > 1 and len(words[-1]) == 1 and not numbered(words):
            words.pop()
        units: list[Unit] = []
        row: list[int] = []
        for place, word in enumerate(words):
            for unit, root in self._units_of(word, half_typed and place == len(words) - 1):
                units.append(unit)
                row.append(root)
        for group, start, end in self.groups_in(tuple(row)):
            for place in range(start, end):
                if row[place] not in self._measured or end - start > 1:
                    units[place].groups[group] = SAME_QUALITY
        return [unit for unit, root in zip(units, row, strict=True) if root not in self._measured or unit.groups]

    def _without_figures(self, words: list[str]) -> list[str]:
        """Words without what was measured, which tells no defect from another: all numbers but those that count
        something ("2 lamps out"), and those of a place in a schedule ("part 7 a")."""
        words = [piece for word in words for piece in self._figure_and_measure(word)]
        if not numbered(words) or self._tell_a_place(words):
            return words
        kept = []
        for place, word in enumerate(words):
            before, after = words[place - 1 : place], words[place + 1 : place + 2]
            beside = any(_NUMBER.fullmatch(one) for one in (*before, *after)) or any(map(self._is_measure, after))
            counts = word in self._index.search.spellings and not beside
            if counts or not (_NUMBER.fullmatch(word) or self._says_nothing(word)):
                kept.append(word)
        return [] if all(map(_NUMBER.fullmatch, kept)) else kept

    def _tell_a_place(self, words: list[str]) -> bool:
        """Whether a word such as "part" is among them, or they are the words of a place ("7 major a") and no other."""
        meant = {word: self._meant(word) for word in words if not _NUMBER.fullmatch(word)}
        if any(not roots.isdisjoint(self._before_places) for roots in meant.values()):
            return True
        named = any(len(word) > 1 for word in meant)
        return named and all(not roots.isdisjoint(self._in_places) for roots in meant.values())

    def _meant(self, word: str) -> set[int]:
        """The root of a word, or the roots of those that it may be a typing error for."""
        root = self._root_number.get(self._reader.root(word))
        if root is not None:
            return {root}
        return {self._surface_root[place] for place, _ in self._near.nearest(word) if place < len(self._surface_root)}

    def _says_nothing(self, word: str) -> bool:
        unknown = self._reader.root(word) not in self._root_number
        return self._reader.is_dropped(word) or (self._is_measure(word) and unknown)

    def _is_measure(self, word: str) -> bool:
        return self._reader.root(word) in self._measures

    def _is_measured(self, place: int) -> bool:
        """Whether a word of the catalogue is a unit of measure, which no other word is taken for."""
        return place < len(self._surface_root) and self._surface_root[place] in self._measured

    def _figure_and_measure(self, word: str) -> tuple[str, ...]:
        together = _FIGURE_WITH_MEASURE.fullmatch(word)
        return together.groups() if together and self._is_measure(together[2]) else (word,)

    def _pieces(self, words: list[str]) -> list[str]:
        """Words with pairs joined that are one word in the catalogue, and compounds taken apart."""
        joined: list[str] = []
        for word in words:
            if joined and joined[-1] + word in self._surfaces:
                joined[-1] += word
            else:
                joined.append(word)
        return [piece for word in joined for piece in self._compounds.get(word, (word,))]

    def _units_of(self, word: str, half_typed: bool) -> list[tuple[Unit, int]]:
        number = self._root_number.get(self._reader.root(word))
        if number is not None:
            unit = Unit(self._index.weights[number])
            if number in self._measured:
                return [(unit, number)]
            unit.may_be(number, 100)
            self._add_mistaken(unit, word)
            if half_typed:
                self._add_begun(unit, word, BEGUN_OTHER_QUALITY)
            return [(unit, number)]
        unit = Unit()
        self._add_mistaken(unit, word)
        if half_typed:
            self._add_begun(unit, word, BEGUN_QUALITY)
        if unit.roots:
            return [(self._weighed(unit), -1)]
        near = [(place, quality) for place, quality in self._near.nearest(word) if not self._is_measured(place)]
        pieces = self._split(word) if not near or near[0][1] < SPLIT_QUALITY else None
        if pieces:
            return [self._known(piece, RUN_TOGETHER_QUALITY) for piece in pieces]
        for place, quality in near:
            if place >= len(self._surface_root) and len(near) == 1:
                return [self._known(piece, quality) for piece in self._compounds[self._words[place]]]
        for place, quality in near:
            if place < len(self._surface_root):
                unit.may_be(self._surface_root[place], quality)
        doubt = min(DOUBT * (len(unit.roots) - 1), MOST_DOUBT)
        unit.roots = {root: quality - doubt for root, quality in unit.roots.items()}
        sole = next(iter(unit.roots)) if len(unit.roots) == 1 else -1
        return [(self._weighed(unit), sole)]

    def _known(self, word: str, quality: int) -> tuple[Unit, int]:
        number = self._number(word)
        unit = Unit(self._index.weights[number])
        unit.may_be(number, quality)
        return unit, number

    def _weighed(self, unit: Unit) -> Unit:
        if unit.roots:
            best = max(unit.roots.values())
            unit.weight = max(
                self._index.weights[root] for root, quality in unit.roots.items() if quality == best
            )
        return unit

    def _add_mistaken(self, unit: Unit, word: str) -> None:
        for root in self._mistaken.get(word, ()):
            unit.may_be(root, MISTAKEN_QUALITY)

    def _add_begun(self, unit: Unit, word: str, quality: int) -> None:
        if len(word) < SHORTEST_BEGINNING:
            return
        for place, surface in enumerate(self._index.surfaces):
            if surface.startswith(word) and not self._is_measured(place):
                unit.may_be(self._surface_root[place], quality)

    def _split(self, word: str) -> tuple[str, str] | None:
        for cut in range(SHORTEST_PIECE, len(word) - SHORTEST_PIECE + 1):
            first, second = word[:cut], word[cut:]
            if first in self._surfaces and second in self._surfaces:
                return first, second
        return None
