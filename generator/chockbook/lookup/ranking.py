"""The ranking rule: which entries a query means, best first. Whole numbers only, so that it is exact.

site_templates/web/lookup/js/ranking.js does the same, step for step; tests hold the two together.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from ..catalogue import Catalogue
from .index import WEIGHTS, LookupIndex, Phrase
from .indexing import build_index
from .query import QueryReader, Unit

LEAST_COVERED = 54
"""Hundredths of the query's weight that an entry has to account for; below it there is no match."""
MOST_COMPARED = 400
"""Entries, best by their words, whose phrases are compared too, and any that are as good as the last of them.
The others keep the score of their words, which leaves them behind these."""
WORDS_SHARE, PHRASE_SHARE = 6, 4
"""Tenths of the score that come from the words found anywhere, and from the best single phrase."""
LEAST_SURE = 70
"""Hundredths of the query's weight that the first entry accounts for, or the page says that the match is loose."""
LEAST_LIKE = 5500
"""How like the query a thing without an entry has to be before it is named, of 10,000."""


Known = tuple[int, frozenset[int], frozenset[int], int]
"""A phrase as the ranking compares it: kind, roots, groups, weight."""


@dataclass(frozen=True, slots=True)
class LookedUp:
    """What a query finds, and what a driver has to know about it before trusting the first entry."""

    found: tuple[tuple[str, int], ...]
    """Entries with scores, best first."""
    unlisted: str | None
    """What the query names better than any entry, where the rulebook has no entry for it."""
    loose: bool
    """Whether the first entry leaves much of what was typed unaccounted for."""


class Finder:
    """Finds entries in one index."""

    def __init__(self, index: LookupIndex) -> None:
        self.index = index
        self.reader = QueryReader(index)
        self._components = [[self._known(p) for p in phrases] for phrases in index.components]
        self._sections = [[self._known(p) for p in phrases] for phrases in index.sections]
        self._phrases = [[self._known(p) for p in entry.phrases] for entry in index.entries]
        self._unlisted = [(one.name, [self._known(p) for p in one.phrases]) for one in index.unlisted]
        self._root_posts: dict[int, dict[int, int]] = {}
        self._group_posts: dict[int, dict[int, int]] = {}
        for place, entry in enumerate(index.entries):
            own = [*self._components[entry.component], *self._phrases[place]]
            own += [phrase for section in entry.sections for phrase in self._sections[section]]
            for kind, roots, groups, _ in own:
                for posts, words in ((self._root_posts, roots), (self._group_posts, groups)):
                    for word in words:
                        at = posts.setdefault(word, {})
                        at[place] = max(at.get(place, 0), WEIGHTS[kind])

    def _known(self, phrase: Phrase) -> Known:
        groups = frozenset(group for group, _, _ in self.reader.groups_in(phrase.words))
        weight = sum(self.index.weights[word] for word in phrase.words)
        return phrase.kind, frozenset(phrase.words), groups, weight

    def find(self, typed: str, limit: int | None = None) -> list[tuple[str, int]]:
        """Entries that the query means, with scores of 0 to 10,000, best first.

        Of two with the same score the one with the worse severity comes first, then the one that the
        catalogue names first.
        """
        return list(self.look_up(typed).found[:limit])

    def look_up(self, typed: str) -> LookedUp:
        """The entries that a query means, and what there is to say of them as a whole."""
        units = self.reader.read(typed)
        whole = sum(unit.weight for unit in units)
        shares: dict[int, int] = {}
        ranked = [
            (-score, -self.index.entries[place].rank, place)
            for place, score in self._scored(units, whole, shares).items()
        ]
        ranked.sort()
        found = tuple((self.index.entries[place].id, -score) for score, _, place in ranked)
        most, name = 0, None
        for called, phrases in self._unlisted:
            alike = self._likeness(phrases, units, whole)
            if alike > most:
                most, name = alike, called
        first = max(-ranked[0][0], self._phrase(ranked[0][2], units, whole)) if ranked else 0
        if most < max(LEAST_LIKE, first + 1):
            name = None
        loose = bool(ranked) and shares[ranked[0][2]] < LEAST_SURE
        return LookedUp(found, name, loose)

    def _scored(self, units: list[Unit], whole: int, shares: dict[int, int]) -> dict[int, int]:
        words: dict[int, int] = {}
        covered: dict[int, int] = {}
        for unit in units:
            best: dict[int, int] = {}
            sure: dict[int, int] = {}
            for alternatives, posts in ((unit.roots, self._root_posts), (unit.groups, self._group_posts)):
                for word, quality in alternatives.items():
                    for place, weight in posts.get(word, {}).items():
                        best[place] = max(best.get(place, 0), quality * weight)
                        sure[place] = max(sure.get(place, 0), quality)
            for place, value in best.items():
                words[place] = words.get(place, 0) + unit.weight * value
                covered[place] = covered.get(place, 0) + unit.weight * sure[place]
        bags = {}
        for place, value in words.items():
            share = covered[place] // whole
            shares[place] = share
            if share >= LEAST_COVERED:
                bags[place] = value * share // (whole * 100)
        least = sorted(bags.values(), reverse=True)[MOST_COMPARED - 1] if len(bags) > MOST_COMPARED else 0
        scores = {}
        for place, bag in bags.items():
            likeness = self._phrase(place, units, whole) if bag >= least else 0
            scores[place] = (WORDS_SHARE * bag + PHRASE_SHARE * likeness) // 10
        return scores

    def _phrase(self, place: int, units: list[Unit], whole: int) -> int:
        """How like the query the entry's most similar phrase is, 0 to 10,000."""
        entry = self.index.entries[place]
        places = [self._sections[section][0] for section in entry.sections]
        return self._likeness((*self._components[entry.component], *self._phrases[place], *places), units, whole)

    def _likeness(self, phrases: Iterable[Known], units: list[Unit], whole: int) -> int:
        """How like the query the most similar of the phrases is, 0 to 10,000 (Dice 1945, by weight)."""
        best = 0
        for _, roots, groups, weight in phrases:
            shared = 0
            for unit in units:
                quality = 0
                for root, of_root in unit.roots.items():
                    if of_root > quality and root in roots:
                        quality = of_root
                for group, of_group in unit.groups.items():
                    if of_group > quality and group in groups:
                        quality = of_group
                shared += unit.weight * quality
            if shared:
                best = max(best, min(10000, 200 * shared // (weight + whole)))
        return best


def look_up(catalogue: Catalogue, words: str, rulebook_id: str, language: str) -> LookedUp:
    """What plain words mean under a rulebook.

    Raises:
        NoSearchWords: words.yaml has no search words for the language.
        UnknownRulebook: the catalogue has no such rulebook.
    """
    return Finder(build_index(catalogue, rulebook_id, language)).look_up(words)


def find(
    catalogue: Catalogue, words: str, rulebook_id: str, language: str, limit: int | None = None
) -> list[tuple[str, int]]:
    """The same, as entries with their scores alone, best first."""
    return list(look_up(catalogue, words, rulebook_id, language).found[:limit])
