"""The maker of a deck: what goes on its cards and how high it is, from the unit to the placed parts."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from ..catalogue import Catalogue
from ..views.card_deck import view_deck
from ..views.carrier_unit import MadeUp
from ..views.grouping import rulebook_named
from ..views.wording import fixed_word, in_language
from .card_faces import FOOT_GAP, NEAR, Card, Face, height_of, with_gaps
from .card_filling import ELSEWHERE, fill_cards
from .card_formats import CardFormat, format_on
from .card_heights import Part, heights
from .card_index import fill_index
from .card_opening import opening_cards
from .card_setting import CardSetting, Cover
from .deck_sheets import set_deck
from .imposition import Layout, layout_for, ruler_of
from .long_words import breakable_name

NEIGHBOURS = 3
"""Systems in a head, as a rule at most; more are measured when they come."""


class DeckMaker:
    """Makes one deck; holds what all of its cards share."""

    last_advice = ""
    """What to do about a deck that is too large for the largest format."""

    def __init__(self, catalogue: Catalogue, rulebook_id: str, language: str, setting: CardSetting,
                 cover: Cover | None, name: str) -> None:  # fmt: skip
        self.catalogue, self.language, self.cover, self.name = catalogue, language, cover, name
        self.rulebook_id = rulebook_id
        self.deck_name = in_language(rulebook_named(catalogue, rulebook_id).short_name, language)
        card = format_on(setting.format, "letter" if setting.paper == "common" else setting.paper)
        self.card: CardFormat = replace(card, columns=self.columns_of(card), punch=setting.punch)
        self.layout: Layout = layout_for(self.card, setting.paper, setting.duplex, setting.marks)
        self.setting = setting
        self.two_sided = self.layout.duplex != "one-sided"
        self._heads: dict[str, float] = {}
        self._widest = "00"
        """As wide as any card number of the deck, since no digit is wider: titles of cards stand beside it."""
        self.foot = self._foot()
        self.foot_height = self.measure_inner([self.foot])[0]

    def columns_of(self, card: CardFormat) -> int:
        """Columns of a face."""
        return card.columns

    def word(self, key: str) -> str:
        return fixed_word(self.catalogue, key, self.language)

    def measure(self, parts: list[Part]) -> list[float]:
        return heights(self.card, self.language, self.card.column, parts)

    def with_heights(self, parts: list[Part]) -> list[Part]:
        """Parts with their heights, those that are not measured yet included."""
        if all("height" in part for part in parts):
            return parts
        return [{**part, "height": height} for part, height in zip(parts, self.measure(parts), strict=True)]

    def measure_inner(self, parts: list[Part]) -> list[float]:
        return heights(self.card, self.language, self.card.inner, parts)

    def room(self, systems: list[str]) -> float:
        """Height between head and foot, with these systems in the head."""
        head = self._head_height(self.title_of(systems))
        if self.card.columns > 1:
            # Columns that are full cannot move down when a further system makes the head higher.
            names = (in_language(system.name, self.language) for system in self.catalogue.systems)
            head = max(head, self._head_height(" – ".join(sorted(names, key=len)[-2:])))
        return self.card.inner_height - head - self.foot_height - FOOT_GAP

    def title_of(self, systems: list[str]) -> str:
        """What the head of a face says: its systems; on a sheet with columns, which has bars, the first to the last."""
        if self.card.columns > 1 and len(systems) > 2:
            return f"{systems[0]} – {systems[-1]}"
        return " · ".join(systems)

    def _head_height(self, title: str) -> float:
        """Height of a head before the numbers of the cards are known."""
        if title not in self._heads:
            self._heads[title] = self.measure_inner([self._head(title, self._widest, self._widest, False)])[0]
        return self._heads[title]

    def _is_least(self, title: str) -> bool:
        """Whether a head cannot be shorter than foreseen."""
        return self._head_height(title) < min(self._heads.values()) + NEAR

    def _own_height(self, title: str, number: str, count: str) -> float:
        """Height of a head with its numbers, which can be shorter than foreseen."""
        if self._is_least(title):
            return self._head_height(title)
        return self.measure_inner([self._head(title, number, count, False)])[0]

    def foresee_heads(self, names: list[str]) -> None:
        """Measure the heads that neighbouring systems may share, all in one go."""
        runs = (names[start:end] for start in range(len(names)) for end in range(start + 1, start + 1 + NEIGHBOURS))
        titles = {self.title_of(run) for run in [[self.deck_name], *runs]} - self._heads.keys()
        heads = [self._head(title, self._widest, self._widest, False) for title in sorted(titles)]
        self._heads.update(zip(sorted(titles), self.measure_inner(heads), strict=True))

    def know_heads(self, faces: list[tuple[Face, int]], count: int) -> None:
        """Measure the heads of numbered faces, all in one go."""
        titles = [(self.title_of(face.systems), str(number)) for face, number in faces]
        self.measure_inner([self._head(title, number, str(count), False)
                            for title, number in titles if not self._is_least(title)])  # fmt: skip

    def filled(self, unit: MadeUp | None) -> list[Card]:
        """The cards of the deck, each with room for its own number."""
        cards = self.cards(unit)
        while len(str(len(cards))) > len(self._widest):
            self.widen()
            cards = self.cards(unit)
        return cards

    def widen(self) -> None:
        """Keep room beside the titles for card numbers with a digit more."""
        self._widest += "0"
        self._heads.clear()

    def cards(self, unit: MadeUp | None) -> list[Card]:
        index_only = self.card.kind.is_index
        deck = view_deck(self.catalogue, self.rulebook_id, self.language, unit, worst_only=index_only)
        # The smallest cards have no room for whom to call beside the steps: the first card and the backs say it.
        contact = self.cover.contact if self.cover and self.card.kind.names_owner else None
        words = {key: self.word(key) for key in ("not-confirmed", *ELSEWHERE, "print-id1-lead")}
        self.foresee_heads([name for _, name in deck.system_names])
        if index_only:
            return fill_index(deck, self.measure, self._bare_room, self.deck_name, self._index_back(), words, self.card.next_format)
        opening = list(self.cover.parts) if self.cover and self.card.columns > 1 else []
        opening = self.with_heights(opening)
        cards = fill_cards(deck, self.card, self.measure, self.room, contact, words, self.two_sided, opening)
        if self.cover and self.card.columns == 1:
            cards = [*self._opening(cards), *cards]
        return cards

    def _index_back(self) -> tuple[str, list[Part]]:
        """Title and parts of the back of every wallet card: whom to call, the cautions, and which edition it is.

        Where a language needs more room than there is, the hours go first, then the deck's name, which the front
        has too, and the day of issue, which the edition's code stands for.
        """
        pieces = self.foot["pieces"]
        undated = [piece for piece in pieces if not piece.startswith(self.word("issued"))]
        contacts = [self.cover.contact, self.cover.contact_short] if self.cover else [None]
        ways = [
            (title, [*([{"kind": "note", "text": contact}] if contact else []),
                     {**self.tidied({**self.foot, "pieces": said}), "kind": "imprint"}])
            for said in (pieces, undated)
            for title in (self.deck_name, self.word("print-back").capitalize())
            for contact in contacts
        ]  # fmt: skip
        return next((way for way in ways if height_of(self.with_heights(way[1])) <= self._bare_room(way[0])), ways[-1])

    def _bare_room(self, title: str) -> float:
        """Height below the head of a card without a foot."""
        return self.card.inner_height - self._head_height(title)

    def _opening(self, cards: list[Card]) -> list[Card]:
        cover = list(self.cover.parts) if self.cover else []
        room = self.room([self.deck_name])
        return opening_cards(cover, cards, self._index, self.with_heights, room, self.deck_name, self.two_sided,
                             self.card.next_format)  # fmt: skip

    def _index(self, where: dict[str, list[int]], most: int) -> list[Part]:
        """On which cards each system stands; so many systems in a part, at most."""
        names = [in_language(system.name, self.language) for system in self.catalogue.systems]
        texts = [f"{name}\u00a0{_runs(where[name])}" for name in names if name in where]
        title: Part = {"kind": "title", "level": 2, "text": self.word("print-card-of")}
        return [title, *({"kind": "note", "pieces": texts[n : n + most], "listed": False} for n in range(0, len(texts), most))]

    def title(self) -> str:
        """What the document calls itself."""
        return f"{self.word('title')} {self.word('print-title-cards')}: {self.deck_name}"

    def notices(self, n_cards: int) -> tuple[str, ...]:
        """What whoever prints the deck is told."""
        if n_cards <= self.card.most_cards:
            return ()
        advice = f"; take the format {self.card.next_format}" if self.card.next_format else self.last_advice
        return (f"{self.name} needs {n_cards} cards of the format {self.card.name}, which is more than the "
                f"{self.card.most_cards} that a person finds their way in{advice}",)  # fmt: skip

    def _head(self, title: str, number: str, count: str, first: bool) -> Part:
        return {"kind": "head", "title": title, "bookmarked": first,
                "number": f"{self.word('print-card')} {number} {self.word('print-of')} {count}"}  # fmt: skip

    def _foot(self) -> Part:
        edition = self.catalogue.edition
        named = self.cover and self.card.kind.names_owner
        whose = [f"{self.cover.carrier}, {self.cover.unit}"] if named else []
        uncontrolled = [] if self.layout.marks == "office" and ruler_of(self.layout) else [self.word("uncontrolled")]
        return self.tidied({
            "kind": "foot",
            "caution": self.word("caution-short"),
            "aid": self.word("aid-short"),
            "pieces": [
                *whose,
                breakable_name(self.name),
                f"{self.word('edition')} {edition.code}",
                f"{self.word('issued')} {edition.date}",
                f"{self.word('check-by')} {edition.check_by}",
                *uncontrolled,
            ],
        })  # fmt: skip

    def tidied(self, foot: Part) -> Part:
        """A foot of which no line begins with a dot, and none parts a day from its word, unless that costs a line."""
        ways = [{**foot, "tied": tied, "whole": whole} for whole in (True, False) for tied in (True, False)]
        high = self.measure_inner(ways)
        return ways[high.index(min(high))]

    def _nothing(self) -> Part:
        """What a face says that has no entries."""
        return {"kind": "note", "text": self.word("print-nothing-on-side")}

    def face(self, face: Face, number: int, count: int, first: bool) -> dict[str, Any]:
        """A face with its head and foot, each part with its height and the distance above it."""
        systems = face.systems
        head = self._head(self.title_of(systems), str(number), str(count), first)
        bare = self.card.kind.is_index
        head_height = self._own_height(self.title_of(systems), str(number), str(count))
        room = self.room(systems) + (self.foot_height + FOOT_GAP if bare else 0)
        columns = face.columns
        if face.empty:
            columns = [[self._nothing()]]
        return {"head": head, "head_height": head_height,
                "foot": None if bare else self.foot, "foot_height": self.foot_height,
                "columns": [with_gaps(self.with_heights(parts), room) for parts in columns]}  # fmt: skip

    def set(self, cards: list[Card]) -> tuple[bytes, int]:
        """The PDF and its pages."""
        return set_deck(self, cards)


def _runs(numbers: list[int]) -> str:
    """Numbers as ranges, such as "2-4, 9"."""
    runs: list[list[int]] = []
    for number in sorted(numbers):
        if runs and number == runs[-1][1] + 1:
            runs[-1][1] = number
        else:
            runs.append([number, number])
    return ", ".join(str(a) if a == b else f"{a}–{b}" for a, b in runs)
