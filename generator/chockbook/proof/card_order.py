"""The order on cards: numbers of cards and steps, each line once, entries as the catalogue has them, the margins."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from typing import Any

from ..catalogue import Catalogue
from .cards import phrases_of_cards, prove_cards
from .facts import Reader, reader_of
from .objection import Objection
from .read_pdf import PdfReading
from .reading import squash

ONCE = ("outcome", "severity", "locator", "mark", "action")
"""Kinds of phrase that do not follow one of their own kind."""
_NUMBER = re.compile(r"\d+")


def prove_deck(catalogue: Catalogue, reading: PdfReading, name: str, rulebook_id: str, language: str) -> Iterator[Objection]:
    """Objections to the deck of a book: what stands on its cards, then their numbers, order and margins."""
    yield from prove_cards(catalogue, reading, name, rulebook_id, language)
    phrases = phrases_of_cards(reader_of(catalogue, language), rulebook_id)
    reads = _Order(catalogue, rulebook_id)
    for page, text in enumerate(reading.page_texts, 1):
        output = f"{name} page {page}"
        for _, means in phrases.read(text):
            for what in reads.take(means):
                yield Objection(output, "order", what)
        reads.end_of_page()
    for number in range(1, reads.total + 1):
        if reads.cards[number] != max(reads.cards.values()):
            yield Objection(name, f"card {number}", f"stands {reads.cards[number]} times")
    if reads.cards and max(reads.cards) > reads.total:
        yield Objection(name, f"card {max(reads.cards)}", "is beyond the last")
    yield from _margins(reader_of(catalogue, language), reading, name)


class _Order:
    """Follows the phrases of a deck."""

    def __init__(self, catalogue: Catalogue, rulebook_id: str) -> None:
        self.places = {entry.id: place for place, entry in enumerate(catalogue.entries)}
        self.memory = {action.id for action in catalogue.rulebook[rulebook_id].actions if action.basis == "from-memory"}
        self.cards: Counter[int] = Counter()
        self.total = 0
        self.end_of_page()

    def end_of_page(self) -> None:
        self.before: list[tuple[str, Any]] = []
        self.number: int | None = None
        self.steps = 0
        self.unsure: str | None = None
        self.stars = 0
        self.owes_star = False

    def take(self, means: list[tuple[str, Any]] | str) -> Iterator[str]:
        if isinstance(means, str):
            self.stars += means.count("*")
            yield from self._between(means)
            return
        kinds = {kind for kind, _ in means}
        yield from self._mark(kinds)
        if "action" in kinds:
            self.steps += 1
            if self.number != self.steps:
                yield f"has the number {self.number} before step {self.steps}"
            self.unsure = next((what for kind, what in means if kind == "action"), None)
        elif self.number is not None:
            yield f"has the number {self.number} where none belongs"
        if "outcome" in kinds:
            self.steps = 0
        if kinds & {"outcome", "locator"} and self.owes_star:
            self.owes_star = False
            yield "has a star, and does not say what it means"
        same = kinds & {kind for kind, _ in self.before} & set(ONCE)
        if same and self.number is None:
            yield f"says {sorted(same)[0]} twice"
        self.before, self.number = means, None

    def _between(self, text: str) -> Iterator[str]:
        found = _NUMBER.findall(text)
        if not found:
            return
        words = [what for kind, what in self.before if kind == "word"]
        number = int(found[0])
        if len(found) > 1:
            yield f"has numbers where none belong: {text}"
        elif "print-card" in words:
            self.cards[number] += 1
        elif "print-of" in words:
            if self.total not in (0, number):
                yield f"counts {number} cards, and {self.total} before"
            self.total = number
        else:
            self.number = number

    def _mark(self, kinds: set[str]) -> Iterator[str]:
        """A step that is not confirmed has its mark or a star right behind it; what stars mean follows the last step."""
        says_what = "mark" in kinds and self.stars > 0
        starred = self.stars - says_what
        if self.unsure is not None:
            if (self.unsure in self.memory) != (starred == 1 or ("mark" in kinds and not says_what)):
                yield f"does not say of step {self.unsure!r} whether it is confirmed"
            self.owes_star = self.owes_star or starred > 0
            self.unsure = None
        elif starred > 0:
            yield "has a star that belongs to no step"
        if says_what:
            self.owes_star = False
        self.stars = 0


def _margins(reader: Reader, reading: PdfReading, name: str) -> Iterator[Objection]:
    """Outside the cards each sheet has its name and number; inside each card its own foot, as often as it has a head."""
    heads = re.compile(re.escape(squash(reader.word("print-card"))) + r"\d+" + re.escape(squash(reader.word("print-of"))))
    caution, sheets = squash(reader.word("caution-short")), (len(reading.pages) + 1) // 2
    margins, feet = set(), set()
    for page, (text, furniture) in enumerate(zip(reading.page_texts, reading.furniture, strict=True), 1):
        faces = len(heads.findall(text))
        margin, *here = furniture.split(caution)
        feet.update(here)
        if len(here) != faces:
            yield Objection(f"{name} page {page}", "every card", f"has {len(here)} feet on a page with {faces} cards")
        sheet = squash(f"{reader.word('print-sheet')} {(page + 1) // 2} {reader.word('print-of')} {sheets}")
        if sheet not in margin:
            yield Objection(f"{name} page {page}", "sheet", f"does not say: {sheet}")
        margins.add((page % 2, margin.replace(sheet, "")))
    if len(margins) > 2:
        yield Objection(name, "every sheet", "has another margin than the others")
    if len(feet) > 1:
        yield Objection(name, "every card", f"has another foot than the others: {sorted(feet)}")
