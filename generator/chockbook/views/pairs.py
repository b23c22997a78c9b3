"""Pairs to tell apart: of one component, a defect that lets the vehicle go on beside one that stops it.

A pair is computed from the rulings of one rulebook. Where a defect has both answers itself, the circumstances make
the difference; otherwise each defect that lets the vehicle go on stands beside the one of the same component that
stops it and is nearest to it: one that the same figure decides, then the one with most words in common.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection, Iterator
from dataclasses import dataclass

from ..catalogue import Catalogue, Entry, Ruling
from ..catalogue.row_choice import own_rows
from .entry import RulingView, view_ruling
from .grouping import rulebook_named
from .sides import FigureLine, side_of
from .wording import fixed_word, in_language

_WORD = re.compile(r"[^\W_]+")
STEM = 5
"""Letters by which words are compared where the nearest defect is looked for."""
SHORT = 4
"""A word of fewer letters tells nothing of what a defect is about."""

Marked = tuple[tuple[str, bool], ...]
"""A text in pieces, each with whether the other side lacks its words."""


@dataclass(frozen=True, slots=True)
class PairSide:
    """A defect with one answer of the rulebook."""

    entry_id: str
    item_id: str
    slug: str
    condition: Marked
    applies_when: Marked
    """The circumstances; empty where the ruling states none."""
    ruling: RulingView
    figures: tuple[FigureLine, ...]
    """The rulebook's own figures that decide the defect, where the other side does not have the same."""


@dataclass(frozen=True, slots=True)
class Pair:
    """Two answers for one component."""

    component_id: str
    component_name: str
    difference: str | None
    """That the circumstances or the figure decide; None where the marked words of both sides say it themselves."""
    goes_on: PairSide
    stops: PairSide
    figures: tuple[FigureLine, ...]
    """Figures that decide both sides."""


@dataclass(frozen=True, slots=True)
class SystemPairs:
    """The pairs of a system, in the order of the catalogue."""

    id: str
    name: str
    pairs: tuple[Pair, ...]

    @property
    def number(self) -> int:
        """How many there are."""
        return len(self.pairs)


def view_pairs(catalogue: Catalogue, rulebook_id: str, language: str) -> tuple[SystemPairs, ...]:
    """The pairs of a rulebook, by system; none where it has no component with both answers.

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
        MissingWording: words.yaml lacks a word that is placed.
    """
    rulebook_named(catalogue, rulebook_id)
    of_system: dict[str, list[Pair]] = {}
    for pair in _pairs(catalogue, rulebook_id):
        of_system.setdefault(pair[0].system.id, []).append(_view(catalogue, rulebook_id, language, *pair))
    return tuple(SystemPairs(system.id, in_language(system.name, language), tuple(of_system[system.id]))
                 for system in catalogue.systems if system.id in of_system)  # fmt: skip


def has_pairs(catalogue: Catalogue, rulebook_id: str) -> bool:
    """Whether a rulebook has a component with both answers; without one no sheet of pairs is printed."""
    return any(True for _ in _pairs(catalogue, rulebook_id))


def _pairs(catalogue: Catalogue, rulebook_id: str) -> Iterator[tuple[Entry, Ruling, Entry, Ruling]]:
    """Entry and ruling that lets the vehicle go on, then entry and ruling that stops it."""
    first = catalogue.languages[0].code
    of_component: dict[str, list[Entry]] = {}
    for entry in catalogue.entries:
        of_component.setdefault(entry.component.id, []).append(entry)
    for entry in catalogue.entries:
        rulings = entry.rulings_under(rulebook_id)
        own = [ruling for ruling in rulings if _stops(ruling)]
        for ruling in rulings:
            if _stops(ruling):
                continue
            if own:
                yield entry, ruling, entry, own[0]
                continue
            others = [other for other in of_component[entry.component.id]
                      if set(other.vehicles) & set(entry.vehicles)
                      and any(map(_stops, other.rulings_under(rulebook_id)))]  # fmt: skip
            if others:
                near = max(others, key=lambda other: _nearness(entry, other, rulebook_id, first))
                yield entry, ruling, near, next(filter(_stops, near.rulings_under(rulebook_id)))


def _stops(ruling: Ruling) -> bool:
    return ruling.severity.may_drive == "no"


def _nearness(entry: Entry, other: Entry, rulebook_id: str, language: str) -> tuple[bool, float]:
    """Whether one figure decides both, then the share of their words that they have in common."""
    one, two = (_stems(in_language(each.condition, language)) for each in (entry, other))
    return bool(_shared_limits(entry, other, rulebook_id)), len(one & two) / max(len(one | two), 1)


def _stems(text: str) -> set[str]:
    return {word[:STEM] for word in _WORD.findall(text.casefold()) if len(word) >= SHORT or word.isdigit()}


def _shared_limits(entry: Entry, other: Entry, rulebook_id: str) -> set[str]:
    """Ids of limits of both with a figure of the rulebook's own."""
    ids = {limit.id for limit in entry.limits if own_rows(limit, rulebook_id)}
    return ids & {limit.id for limit in other.limits}


def _view(
    catalogue: Catalogue, rulebook_id: str, language: str, entry: Entry, goes_on: Ruling, other: Entry, stops: Ruling
) -> Pair:
    same = entry.id == other.id
    shared = _shared_limits(entry, other, rulebook_id)
    key = "circumstance" if same else "figure" if shared else None
    told = [
        (in_language(one.condition, language), in_language(ruling.applies_when or {language: ""}, language))
        for one, ruling in ((entry, goes_on), (other, stops))
    ]
    lines = side_of(catalogue, entry, goes_on.rulebook, language).figures
    return Pair(
        component_id=entry.component.id,
        component_name=in_language(entry.component.name, language),
        difference=fixed_word(catalogue, f"pairs-by-{key}", language) if key else None,
        goes_on=_side(catalogue, language, entry, goes_on, *told, same, shared),
        stops=_side(catalogue, language, other, stops, *reversed(told), same, shared),
        figures=tuple(line for line in lines if line.limit_id in shared),
    )


def _side(
    catalogue: Catalogue, language: str, entry: Entry, ruling: Ruling, own: tuple[str, str], other: tuple[str, str],
    same: bool, shared: set[str],
) -> PairSide:  # fmt: skip
    # Of one defect with two answers the circumstances alone differ, so they alone are compared.
    against = other[1] if same else " ".join(other)
    lines = side_of(catalogue, entry, ruling.rulebook, language).figures
    small = small_words(catalogue, language)
    return PairSide(
        entry_id=entry.id,
        item_id=ruling.item.id,
        slug=entry.slug,
        condition=((own[0], False),) if same else marked(own[0], against, small),
        applies_when=marked(own[1], against, small) if own[1] else (),
        ruling=view_ruling(catalogue, ruling, language),
        figures=tuple(line for line in lines if line.limit_id not in shared),
    )


def small_words(catalogue: Catalogue, language: str) -> frozenset[str]:
    """Words of a language that say nothing by themselves ("of", "the"), as words.yaml lists them; none without a list."""
    for search in catalogue.search:
        if search.language == language:
            return frozenset((*search.drop, *search.small))
    return frozenset()


def _plain(word: str) -> str:
    """A word as words.yaml lists it: lower case, without accents."""
    return "".join(sign for sign in unicodedata.normalize("NFKD", word.casefold()) if not unicodedata.combining(sign))


def marked(text: str, other: str, small: Collection[str] = ()) -> Marked:
    """A text in pieces: words that the other text lacks are marked, neighbours together.

    A single letter (an article, or what stands before an apostrophe in French) and a small word are never marked:
    they tell nothing.
    """
    known = _WORD.findall(other.casefold())
    pieces: list[list[str | bool]] = []
    at = 0
    for word in _WORD.finditer(text):
        letter = len(word[0]) == 1 and word[0].isalpha()
        telling = not letter and _plain(word[0]) not in small
        differs = telling and not any(same_word(word[0].casefold(), one) for one in known)
        between = text[at : word.start()]
        if pieces and pieces[-1][1] == differs:
            pieces[-1][0] += between + word[0]
        elif differs:
            _append(pieces, between)
            pieces.append([word[0], True])
        else:
            pieces.append([between + word[0], False])
        at = word.end()
    _append(pieces, text[at:])
    return tuple((str(piece), bool(differs)) for piece, differs in pieces)


def _append(pieces: list[list[str | bool]], between: str) -> None:
    """Add what stands between words to a piece that is not marked."""
    if not between:
        return
    if pieces and not pieces[-1][1]:
        pieces[-1][0] += between
    else:
        pieces.append([between, False])


def same_word(one: str, other: str) -> bool:
    """Whether two words are one, endings of up to two letters aside: "light" and "lights"."""
    short, long = sorted((one, other), key=len)
    return one == other or (len(short) >= SHORT and long.startswith(short) and len(long) - len(short) <= 2)
