"""The index of the manual: plain words, and the components each of them leads to."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass

from ..catalogue import Catalogue
from .entry import EntryView
from .wording import fixed_word, in_language

MOST_BY_CONDITION = 8
"""A word that only conditions use is left out once it leads to more components than this: a reader does
not look up "loose" to find one of sixty parts."""
SHORTEST_WORD = 3
"""Letters; shorter pieces such as "of" or "up" name nothing."""
WORD = re.compile(r"[^\W\d_][\w]*(?:['’][^\W\d_]+)*", re.UNICODE)
ELIDED = re.compile(r"^(?:[cdjlmnst]|qu|jusqu|lorsqu|puisqu|quoiqu)['’](?=\w)")
"""What French puts before a vowel in place of a whole word, such as the d' of d'air. English has no word that
begins so: its apostrophes stand near the end, as in driver's."""


@dataclass(frozen=True, slots=True)
class LeadView:
    """A component that a word leads to, with the entries whose pages are to be printed."""

    name: str
    entry_ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class IndexWordView:
    """A word and where it leads, components by name."""

    word: str
    leads: tuple[LeadView, ...]


@dataclass(frozen=True, slots=True)
class IndexLetterView:
    """The words that begin with a letter."""

    letter: str
    words: tuple[IndexWordView, ...]


def words_of(text: str) -> list[str]:
    """The words of a text, in lower case, without elided words before them and possessive endings: d'air
    stands under air, driver's under driver."""
    return [re.sub(r"['’]s$", "", ELIDED.sub("", word)) for word in WORD.findall(text.lower())]


def alphabetical(word: str) -> tuple[str, str]:
    """The place of a word in the alphabet: accents count only between words of the same letters, as in
    dictionaries, and œ stands as oe."""
    apart = unicodedata.normalize("NFD", word.lower().replace("œ", "oe").replace("æ", "ae"))
    return "".join(sign for sign in apart if not unicodedata.combining(sign)), word


def letter_of(word: str) -> str:
    """The letter under which a word stands, without its accent."""
    return alphabetical(word)[0][0].upper()


def fold_plurals(words: set[str]) -> dict[str, str]:
    """For each word the form to print it under: a plural in -s goes to its singular where both are used."""
    return {word: word[:-1] if word.endswith("s") and word[:-1] in words else word for word in words}


def index_words(
    catalogue: Catalogue, entries: tuple[EntryView, ...], language: str
) -> tuple[IndexLetterView, ...]:
    """The index of the given entries.

    A word of a component's name or aliases leads to all entries of the component. A word of a condition or
    of an entry's own aliases leads to that entry, unless it is too common to find anything by.

    Raises:
        MissingWording: words.yaml has no list of index stop words in the language.
    """
    stop = set(fixed_word(catalogue, "index-stop-words", language).split())
    names: dict[str, str] = {}
    by_name: dict[str, dict[str, list[str]]] = {}
    by_condition: dict[str, dict[str, list[str]]] = {}
    component_words: dict[str, set[str]] = {}
    for component in catalogue.components:
        texts = [in_language(component.name, language), *((component.aliases or {}).get(language, []))]
        component_words[component.id] = {word for text in texts for word in words_of(text)}
    for entry in entries:
        names[entry.component_id] = entry.component_name
        for word in component_words[entry.component_id]:
            by_name.setdefault(word, {}).setdefault(entry.component_id, []).append(entry.id)
        own = {word for text in (entry.condition, *entry.aliases) for word in words_of(text)}
        for word in own - component_words[entry.component_id]:
            by_condition.setdefault(word, {}).setdefault(entry.component_id, []).append(entry.id)

    folded = fold_plurals({*by_name, *by_condition} - stop)
    named: dict[str, dict[str, set[str]]] = {}
    found: dict[str, dict[str, set[str]]] = {}
    for word, head in folded.items():
        if len(head) < SHORTEST_WORD:
            continue
        for source, target in ((by_name, named), (by_condition, found)):
            for component_id, ids in source.get(word, {}).items():
                target.setdefault(head, {}).setdefault(component_id, set()).update(ids)

    position = {entry.id: place for place, entry in enumerate(entries)}
    words: list[IndexWordView] = []
    for head in sorted({*named, *found}, key=alphabetical):
        leads = {key: set(ids) for key, ids in named.get(head, {}).items()}
        others = found.get(head, {})
        if len(others) <= MOST_BY_CONDITION:
            for component_id, ids in others.items():
                leads.setdefault(component_id, set()).update(ids)
        if leads:
            ordered = sorted(leads.items(), key=lambda lead: names[lead[0]].lower())
            words.append(
                IndexWordView(
                    word=head,
                    leads=tuple(
                        LeadView(names[key], tuple(sorted(ids, key=position.__getitem__)))
                        for key, ids in ordered
                    ),
                )
            )
    letters: dict[str, list[IndexWordView]] = {}
    for word in words:
        letters.setdefault(letter_of(word.word), []).append(word)
    return tuple(IndexLetterView(letter, tuple(letters[letter])) for letter in sorted(letters))
