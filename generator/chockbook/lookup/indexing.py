"""Makes the lookup index of a catalogue: one rulebook, one language."""

from __future__ import annotations

import re
from collections.abc import Mapping
from itertools import pairwise
from math import log2

from ..catalogue import Catalogue, Entry, SearchWordsRecord
from ..views.grouping import rulebook_named
from ..views.lookup import lookup_entries
from ..views.wording import fixed_word, in_language
from .index import (
    ALIAS,
    COMPONENT,
    COMPONENT_ALIAS,
    CONDITION,
    ITEM,
    SECTION,
    SYSTEM,
    IndexedEntry,
    LookupIndex,
    Phrase,
    Unlisted,
)
from .letters import WordReader

RARE_SCALE = 10
"""A word's weight is this times log2(1 + entries / entries with the word): rare words say more."""
MOST_WEIGHT = 64
"""What a word weighs at most: the rarest words are often chance turns of phrase."""
NOT_A_NAME = 75
"""Hundredths kept by the weight of a word that names no system or component: things tell more than faults."""
SHORTEST_PIECE = 3
"""Letters of a piece of a compound such as seatbelt; one piece may be a single letter, as in ubolt."""


class NoSearchWords(LookupError):
    """words.yaml has no search words for a language."""


def search_words(catalogue: Catalogue, language: str) -> SearchWordsRecord:
    """What the lookup knows of a language.

    Raises:
        NoSearchWords: words.yaml has no search block for it.
    """
    for record in catalogue.search:
        if record.language == language:
            return record
    raise NoSearchWords(f"words.yaml has no search words for the language {language!r}")


def build_index(catalogue: Catalogue, rulebook_id: str, language: str) -> LookupIndex:
    """The index of the entries that a rulebook speaks of.

    Raises:
        NoSearchWords: words.yaml has no search words for the language.
        UnknownRulebook: the catalogue has no such rulebook.
        MissingWording: a text has not been written in the language.
    """
    rulebook_named(catalogue, rulebook_id)
    return _Builder(catalogue, rulebook_id, language).build()


class _Builder:
    def __init__(self, catalogue: Catalogue, rulebook_id: str, language: str) -> None:
        self.catalogue, self.rulebook_id, self.language = catalogue, rulebook_id, language
        self.search = search_words(catalogue, language)
        self.reader = WordReader(self.search)
        self.entries = lookup_entries(catalogue, rulebook_id)
        used = {entry.component.id for entry in self.entries}
        self.components = [component for component in catalogue.components if component.id in used]
        self.elsewhere = [component for component in catalogue.components if component.id not in used]

    def text(self, texts: Mapping[str, str]) -> str:
        return in_language(texts, self.language)

    def build(self) -> LookupIndex:
        texts = self.texts()
        surfaces = {word for text in texts for word in self.reader.told_words(text)}
        for group in self.search.same:
            surfaces.update(word for member in group for word in self.reader.told_words(member))
        known = {self.reader.root(word) for word in surfaces}
        surfaces.update(w for w in self.search.spellings if self.reader.root(w) in known)
        self.compounds = self.joined_pairs(surfaces)
        pieces = {piece for pair in self.compounds.values() for piece in pair}
        ordered = sorted((surfaces | pieces) - set(self.compounds))
        self.surfaces = tuple(ordered)
        self.numbers: dict[str, int] = {}
        for word in self.surfaces:
            self.numbers.setdefault(self.reader.root(word), len(self.numbers))
        components, sections, entries = self.phrases()
        return LookupIndex(
            search=self.search,
            surfaces=self.surfaces,
            compounds=tuple(self.compounds[joined] for joined in sorted(self.compounds)),
            roots=tuple(self.numbers),
            weights=self.rarity(components, sections, entries),
            components=components,
            sections=sections,
            entries=entries,
            unlisted=self.unlisted(),
        )

    def called(self) -> list[list[str]]:
        """What each thing without an entry is called, its name first."""
        found = [
            [self.text(component.name), *(component.aliases or {}).get(self.language, [])]
            for component in self.elsewhere
        ]
        return [*found, *self.search.unlisted]

    def unlisted(self) -> tuple[Unlisted, ...]:
        return tuple(
            Unlisted(names[0], tuple(Phrase(COMPONENT, self.words_of(name)) for name in names))
            for names in self.called()
        )

    def told_of(self, condition: str) -> str:
        """A condition without its exceptions: "a horn, other than the air horn, is silent" is not about air horns."""
        for words in self.search.unlike:
            condition = re.sub(rf",? *\b{re.escape(words)}\b[^,;]*", "", condition, flags=re.IGNORECASE)
        return condition

    def names(self) -> list[str]:
        """Names of things, whose neighbouring words may be written as one."""
        found = [self.text(component.name) for component in self.components]
        for component in self.components:
            found.extend((component.aliases or {}).get(self.language, []))
        for group in (*self.search.same, *self.called()):
            found.extend(group)
        return found

    def joined_pairs(self, told: set[str]) -> dict[str, tuple[str, str]]:
        """Pairs that may be typed as one word: those of component names, those that some text writes as one
        word, and those that begin with a single letter. No piece is such a pair itself."""
        named = len(self.components)
        pairs: dict[str, tuple[str, str]] = {}
        for place, name in enumerate(self.names()):
            words = self.reader.told_words(name)
            for first, second in pairwise(words):
                joined = first + second
                letter = len(first) == 1 and len(second) >= SHORTEST_PIECE
                whole = min(len(first), len(second)) >= SHORTEST_PIECE and (place < named or joined in told)
                if letter or whole:
                    pairs.setdefault(joined, (first, second))
        return {joined: pair for joined, pair in pairs.items() if pairs.keys().isdisjoint(pair)}

    def texts(self) -> list[str]:
        found = self.names()
        for system in self.catalogue.systems:
            found.append(self.text(system.name))
        for entry in self.entries:
            found.append(self.text(entry.condition))
            found.extend(entry.aliases.get(self.language, ()))
            for text in self.section_texts(entry):
                found.extend(text)
        return found

    def section_texts(self, entry: Entry) -> list[tuple[str, str]]:
        """Of each ruling: the words of its place, and the words of its part and item."""
        part = fixed_word(self.catalogue, "lookup-part", self.language)
        return [
            (
                f"{part} {ruling.part.part} {self.text(ruling.severity.name)} {ruling.item.letter}",
                f"{self.text(ruling.part.title)} {self.text(ruling.item.text)} "
                f"{self.text(ruling.schedule.name)}",
            )
            for ruling in entry.rulings_under(self.rulebook_id)
        ]

    def pieces(self, text: str) -> list[str]:
        """The words of a text, compounds taken apart."""
        return [piece for word in self.reader.told_words(text) for piece in self.compounds.get(word, (word,))]

    def words_of(self, text: str) -> tuple[int, ...]:
        return tuple(dict.fromkeys(self.numbers[self.reader.root(piece)] for piece in self.pieces(text)))

    def phrases(self):
        components = {c.id: place for place, c in enumerate(self.components)}
        by_component = []
        for component in self.components:
            own = [Phrase(COMPONENT, self.words_of(self.text(component.name)))]
            own += [
                Phrase(COMPONENT_ALIAS, self.words_of(alias))
                for alias in (component.aliases or {}).get(self.language, [])
            ]
            by_component.append(tuple(own))
        sections: dict[tuple[str, str, str], int] = {}
        entries = []
        for entry in self.entries:
            places = [
                sections.setdefault((*text, self.text(entry.system.name)), len(sections))
                for text in self.section_texts(entry)
            ]
            own = [Phrase(CONDITION, self.words_of(self.told_of(self.text(entry.condition))))]
            own += [Phrase(ALIAS, self.words_of(alias)) for alias in entry.aliases.get(self.language, ())]
            rank = entry.rulings_under(self.rulebook_id)[0].rank
            entries.append(
                IndexedEntry(entry.id, rank, components[entry.component.id], tuple(places), tuple(own))
            )
        by_section = tuple(
            (
                Phrase(SECTION, self.words_of(place)),
                Phrase(ITEM, self.words_of(item)),
                Phrase(SYSTEM, self.words_of(name)),
            )
            for place, item, name in sections
        )
        return tuple(by_component), by_section, tuple(entries)

    def rarity(self, components, sections, entries) -> tuple[int, ...]:
        counts = [0] * len(self.numbers)
        names: set[int] = set()
        for entry in entries:
            words: set[int] = set()
            for phrase in components[entry.component]:
                words.update(phrase.words)
            for place in entry.sections:
                words.update(sections[place][0].words)
            names |= words
            for phrase in entry.phrases:
                words.update(phrase.words)
            for word in words:
                counts[word] += 1
        total = max(len(entries), 1)
        weights = [min(MOST_WEIGHT, round(RARE_SCALE * log2(1 + total / max(count, 1)))) for count in counts]
        return tuple(w if word in names else w * NOT_A_NAME // 100 for word, w in enumerate(weights))
