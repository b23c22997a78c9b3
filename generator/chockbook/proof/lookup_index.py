"""The lookup's search index against the catalogue: which words lead to which entry.

The words of each text are worked out here again, by the rules that words.yaml writes down for the language; the
index is taken apart into its words, phrase by phrase.
"""

from __future__ import annotations

import math
import re
import unicodedata
from collections import Counter
from collections.abc import Iterator
from itertools import pairwise
from typing import Any

from ..catalogue import SearchWordsRecord
from ..catalogue.wording import in_language
from .data_files import differences
from .facts import Reader
from .objection import Objection

SIGNS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz-_"
"""Digits of a word's number in a packed phrase, two or three to a number."""
_APOSTROPHE = re.compile("['’‘ʼ`´]")
_SIGN_OF_A_WORD = re.compile("[A-Za-z0-9]+")
COMPONENT, COMPONENT_ALIAS, CONDITION, ALIAS, SYSTEM, SECTION, ITEM = "0123456"
"""The sign that begins a phrase: what kind of text it is."""


def prove_index(reader: Reader, index: dict[str, Any], rulebook_id: str, output: str) -> Iterator[Objection]:
    """Objections to the search index of a book's lookup."""
    search = next(one for one in reader.catalogue.search if one.language == reader.language)
    yield from differences(output, "search words", _language(search), index.get("language"))
    try:
        spelling = _Spelling(search, index["compounds"], index["surfaces"])
        width = index["width"]
        roots: dict[str, int] = {}
        for surface in spelling.surfaces:
            roots.setdefault(spelling.root(surface), len(roots))
        named = list(roots)

        def unpacked(packed: str) -> list[tuple[str, tuple[str, ...]]]:
            return [(one[0], tuple(named[_number(one[at : at + width])] for at in range(1, len(one), width)))
                    for one in packed.split(" ")]  # fmt: skip

        components = [unpacked(one) for one in index["components"]]
        sections = [unpacked(one) for one in index["sections"]]
        entries = [[rank, components[part], [sections[at] for at in places], unpacked(own)]
                   for rank, part, places, own in index["entries"]]  # fmt: skip
        unlisted = [[name, unpacked(phrases)] for name, phrases in index["unlisted"]]
        weights = index["weights"]
    except (KeyError, IndexError, ValueError, TypeError, AttributeError) as error:
        yield Objection(output, "search index", f"cannot be read: {error!r}")
        return
    wanted = list(_entries(reader, spelling, rulebook_id))
    yield from differences(output, "search index", [one for _, one in wanted], entries)
    called = [[names[0], [spelling.phrase(COMPONENT, name) for name in names]]
              for names in _without_entry(reader, search, rulebook_id)]  # fmt: skip
    yield from differences(output, "things without an entry", called, unlisted)
    yield from differences(output, "search words by weight", _weights(entries, named), weights)
    yield from _words(reader, spelling, rulebook_id, output)


def _number(signs: str) -> int:
    number = 0
    for sign in signs:
        number = number * len(SIGNS) + SIGNS.index(sign)
    return number


class _Spelling:
    """How a language's words are read: the rules of words.yaml, and the words that the index knows."""

    def __init__(self, search: SearchWordsRecord, compounds: str, surfaces: str) -> None:
        self.search = search
        self._read: dict[str, list[str]] = {}
        self._roots: dict[str, str] = {}
        self.surfaces = surfaces.split(" ")
        pairs = compounds.split(" ") if compounds else []
        self.pairs = dict(zip(map("".join, zip(pairs[::2], pairs[1::2], strict=True)),
                              zip(pairs[::2], pairs[1::2], strict=True), strict=True))  # fmt: skip

    def words(self, text: str) -> list[str]:
        """Words of a text in lower case without accents, without those that say nothing."""
        if text not in self._read:  # the titles of a rulebook's parts stand in many entries
            self._read[text] = self._words(text)
        return self._read[text]

    def _words(self, text: str) -> list[str]:
        gap = "" if self.search.apostrophe == "joins" else " "
        plain = unicodedata.normalize("NFKD", text).lower()
        if not plain.isascii():
            plain = "".join(sign for sign in plain if unicodedata.category(sign) != "Mn")
        plain = _APOSTROPHE.sub(gap, plain)
        for letter, apart in (("œ", "oe"), ("æ", "ae"), ("ß", "ss"), ("ø", "o")):
            plain = plain.replace(letter, apart)
        found = _SIGN_OF_A_WORD.findall(plain)
        number = any(word[0].isdigit() for word in found)
        return [word for word in found if word not in self.search.drop or (number and len(word) == 1)]

    def root(self, word: str) -> str:
        """What a word is looked up as."""
        if word not in self._roots:
            self._roots[word] = self._root(word)
        return self._roots[word]

    def _root(self, word: str) -> str:
        word = self.search.spellings.get(word, word)
        for group in self.search.endings:
            for rule in group:
                stem = word.removesuffix(rule.ending)
                if stem == word or len(stem) < rule.keep or not set(stem) & set("aeiouy"):
                    continue
                if rule.single and len(stem) > 1 and stem[-1] == stem[-2] and stem[-1] in self.search.undoubled:
                    stem = stem[:-1]
                word = stem + rule.becomes
                break
        return word

    def phrase(self, kind: str, text: str) -> tuple[str, tuple[str, ...]]:
        """A text as the index holds it: its kind, and its words as they are looked up, each once."""
        words = [piece for word in self.words(text) for piece in self.pairs.get(word, (word,))]
        return kind, tuple(dict.fromkeys(map(self.root, words)))


def _language(search: SearchWordsRecord) -> dict[str, Any]:
    return {
        "code": search.language, "apostrophe": search.apostrophe, "drop": " ".join(search.drop),
        "measures": " ".join(search.measures),
        "undoubled": search.undoubled, "same": ["|".join(group) for group in search.same],
        "endings": [[[r.ending, r.becomes, r.keep, 1 if r.single else 0] for r in group] for group in search.endings],
        "spellings": " ".join(f"{typed} {meant}" for typed, meant in search.spellings.items()),
        "mistaken": [[typed, " ".join(meant)] for typed, meant in search.mistaken.items()],
    }  # fmt: skip


def _without_entry(reader: Reader, search: SearchWordsRecord, rulebook_id: str) -> list[list[str]]:
    """What each part is called of which the rulebook says nothing, then what no rulebook here has."""
    has = {entry.component.id for entry in reader.catalogue.entries if entry.rulings_under(rulebook_id)}
    parts = [part for part in reader.catalogue.components if part.id not in has]
    language = reader.language
    named = [[in_language(part.name, language), *(part.aliases or {}).get(language, ())] for part in parts]
    return named + [list(group) for group in search.unlisted]


def _but(search: SearchWordsRecord, condition: str) -> str:
    """A condition without what it excepts: from words such as "other than" to the next comma or the end."""
    kept = []
    for piece in re.split(r"(?<=[,;])", condition):
        lower = piece.lower()
        for words in search.unlike:
            at = re.search(rf"\b{re.escape(words)}\b", lower)
            if at:
                piece = piece[: at.start()]
                lower = piece.lower()
        kept.append(piece)
    return " ".join(kept)


def _entries(reader: Reader, spelling: _Spelling, rulebook_id: str) -> Iterator[tuple[str, list[Any]]]:
    language = reader.language
    order = [severity.id for severity in reader.catalogue.rulebook[rulebook_id].severities]
    for entry in reader.catalogue.entries:
        rulings = entry.rulings_under(rulebook_id)
        if not rulings:
            continue
        part = entry.component
        own = [spelling.phrase(COMPONENT, in_language(part.name, language))]
        own += [spelling.phrase(COMPONENT_ALIAS, text) for text in (part.aliases or {}).get(language, ())]
        sections = []
        for ruling in rulings:
            place = f"{reader.word('lookup-part')} {ruling.part.part} {in_language(ruling.severity.name, language)} {ruling.item.letter}"
            texts = [ruling.part.title, ruling.item.text, ruling.schedule.name]
            item = " ".join(in_language(text, language) for text in texts)
            sections.append([spelling.phrase(SECTION, place), spelling.phrase(ITEM, item),
                             spelling.phrase(SYSTEM, in_language(entry.system.name, language))])  # fmt: skip
        said = [spelling.phrase(CONDITION, _but(spelling.search, in_language(entry.condition, language)))]
        said += [spelling.phrase(ALIAS, text) for text in entry.aliases.get(language, ())]
        yield entry.id, [order.index(rulings[0].item.severity), own, sections, said]


def _weights(entries: list[Any], named: list[str]) -> list[int]:
    """Rare words weigh more: ten times log2(1 + entries / entries with the word), 64 at most; a quarter less for a
    word that names no thing."""
    times: Counter[str] = Counter()
    names: set[str] = set()
    for _, part, sections, own in entries:
        things = {word for _, words in [*part, *(one[0] for one in sections)] for word in words}
        names |= things
        times.update(things | {word for _, words in own for word in words})
    total = max(len(entries), 1)
    full = [min(64, round(10 * math.log2(1 + total / max(times[word], 1)))) for word in named]
    return [weight if word in names else weight * 75 // 100 for word, weight in zip(named, full, strict=True)]


def _words(reader: Reader, spelling: _Spelling, rulebook_id: str, output: str) -> Iterator[Objection]:
    """The list of words, by which typing errors are put right, holds what the texts say and nothing else."""
    catalogue, language, search = reader.catalogue, reader.language, spelling.search
    entries = [entry for entry in catalogue.entries if entry.rulings_under(rulebook_id)]
    parts = {entry.component.id: entry.component for entry in entries}.values()
    names = [in_language(part.name, language) for part in parts]
    names += [text for part in parts for text in (part.aliases or {}).get(language, ())]
    names += [text for group in search.same for text in group]
    names += [text for group in _without_entry(reader, search, rulebook_id) for text in group]
    texts = [in_language(system.name, language) for system in catalogue.systems]
    for entry in entries:
        texts += [in_language(entry.condition, language), *entry.aliases.get(language, ())]
        for ruling in entry.rulings_under(rulebook_id):
            texts += [f"{reader.word('lookup-part')} {ruling.part.part} {in_language(ruling.severity.name, language)} {ruling.item.letter}"]
            texts += [f"{in_language(ruling.part.title, language)} {in_language(ruling.item.text, language)} "
                      f"{in_language(ruling.schedule.name, language)}"]  # fmt: skip
    neighbours = {first + second for name in names for words in [spelling.words(name)]
                  for first, second in pairwise(words)}  # fmt: skip
    for joined in spelling.pairs.keys() - neighbours:
        yield Objection(output, joined, "is taken for two words, and no name has them beside each other")
    told = {word for text in [*names, *texts] for word in spelling.words(text)}
    known = {spelling.root(word) for word in told}
    told |= {word for word in search.spellings if spelling.root(word) in known}
    told = (told | {piece for pair in spelling.pairs.values() for piece in pair}) - spelling.pairs.keys()
    for word in sorted(told - set(spelling.surfaces)):
        yield Objection(output, word, "is missing from the words that the lookup knows")
    for word in sorted(set(spelling.surfaces) - told):
        yield Objection(output, word, "is among the words that the lookup knows, and no text says it")
    if spelling.surfaces != sorted(set(spelling.surfaces)):
        yield Objection(output, "words", "do not stand in the order of the alphabet, each once")
