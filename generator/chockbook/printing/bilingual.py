"""A deck in two languages: side by side on each face, or the first on the front of a card and the second on its back.

Both ways the deck is filled once, with parts that carry both languages, so that an entry stands on the same card
in both. Side by side, a part is as high as the higher of its two halves. Front and back, a card holds what fits on
both of its faces, and its front and back then say the same.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from ..catalogue import Catalogue
from ..catalogue.two_languages import Way, no_room
from ..output import put_whole
from ..views.card_deck import view_deck
from ..views.carrier_unit import MadeUp
from ..views.wording import in_language
from .card_faces import Card, Face
from .card_filling import ELSEWHERE, Said, fill_cards
from .card_formats import CardFormat
from .card_heights import Part
from .card_opening import opening_cards
from .card_setting import CardSetting, Cover
from .deck_maker import DeckMaker
from .long_words import breakable_name
from .printed import Printed

JOINED = re.compile("( · | – )")
"""Between the names of systems in the head of a card."""


class NoRoomForTwo(ValueError):
    """A format or a way of printing that cannot hold two languages in the way that is asked for."""


@dataclass(slots=True)
class _SecondFace(Face):
    """A face in the second language."""


def render_bilingual_cards(
    catalogue: Catalogue,
    rulebook_id: str,
    languages: tuple[str, str],
    way: Way,
    out_path: Path,
    setting: CardSetting | None = None,
    unit: MadeUp | None = None,
    covers: tuple[Cover, Cover] | None = None,
    document_id: str | None = None,
) -> Printed:
    """Write a deck in which every card says the same in two languages.

    Args:
        catalogue: the checked catalogue.
        rulebook_id: the rulebook it is about.
        languages: codes; the first stands on the left, or on the front.
        way: "side-by-side", or "front-and-back" for the second language on the back of the same card.
        out_path: the PDF to write; its folder is made if needed.
        setting: format, paper, duplex, marks and ink; 95 x 128 mm, four to a sheet, two-sided where left out.
        unit: leaves out what the unit cannot have; every defect where it is left out.
        covers: of a carrier's deck, one in each language.
        document_id: by which the deck calls itself; made from rulebook and languages where left out.

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
        NoRoomForTwo: the format is too small for both, or has one side where two are asked for.
        CardOverflow: an entry does not fit on an empty card in both languages; it names the next format.
        SettingFailed: the compiler objects, as to a character that the face lacks.
    """
    setting = setting or CardSetting()
    if why := no_room(way, setting.format, setting.duplex):
        raise NoRoomForTwo("; ".join(why))
    name = document_id or f"cards.{rulebook_id}.{'-'.join(languages)}"
    kind = _SideBySide if way == "side-by-side" else _FrontAndBack
    makers = [
        DeckMaker(catalogue, rulebook_id, language, setting, covers[n] if covers else None, name)
        for n, language in enumerate(languages)
    ]
    maker = kind(makers[0], makers[1])
    cards = maker.filled(unit)
    pdf, pages = maker.set(cards)
    put_whole(out_path, pdf)
    return Printed(out_path, pages, len(cards), maker.notices(len(cards)))


class _Double(DeckMaker):
    """What both ways share: the deck, its opening and its index in two languages."""

    last_advice = "; print a deck for each language"

    def __init__(self, first: DeckMaker, second: DeckMaker) -> None:
        self.first, self.second = first, second
        self.names = {
            in_language(system.name, first.language): in_language(system.name, second.language)
            for system in first.catalogue.systems
        } | {first.deck_name: second.deck_name}
        """Titles of faces in the second language by their title in the first."""
        super().__init__(first.catalogue, first.rulebook_id, first.language, first.setting, first.cover, first.name)

    def title(self) -> str:
        return f"{self.first.title()} / {self.second.title()}"

    def cards(self, unit: MadeUp | None) -> list[Card]:
        first, second = (self._said(maker, unit) for maker in (self.first, self.second))
        self.foresee_heads([name for _, name in first.deck.system_names])
        opening = self.with_heights(self._cover()) if self.card.columns > 1 else []
        cards = fill_cards(first.deck, self.card, self.measure, self.room, first.contact, first.words,
                           self.runs_over, opening, second)  # fmt: skip
        if self.cover and self.card.columns == 1:
            room = self.room([self.deck_name])
            index = self._index
            cards = [*opening_cards(self._cover(), cards, index, self.with_heights, room, self.deck_name, self.runs_over,
                                    self.card.next_format), *cards]  # fmt: skip
        return cards

    def widen(self) -> None:
        for maker in (self.first, self.second):
            maker.widen()
        super().widen()

    @property
    def runs_over(self) -> bool:
        """Whether what stands on a front goes on on its back."""
        return self.two_sided

    def _said(self, maker: DeckMaker, unit: MadeUp | None) -> Said:
        deck = view_deck(maker.catalogue, maker.rulebook_id, maker.language, unit)
        contact = maker.cover.contact if maker.cover and self.card.kind.names_owner else None
        words = {key: maker.word(key) for key in ("not-confirmed", *ELSEWHERE)}
        return Said(deck, contact, words, maker.language)

    def _pair(self, first: Part, second: Part) -> Part:
        return {**first, "beside": {**second, "lang": self.second.language}}

    def _pairs(self, first: Sequence[Part], second: Sequence[Part]) -> list[Part]:
        return [self._pair(*parts) for parts in zip(first, second, strict=True)]

    def _cover(self) -> list[Part]:
        if not (self.first.cover and self.second.cover):
            return []
        return self._pairs(self.first.cover.parts, self.second.cover.parts)

    def _index(self, where: dict[str, list[int]], most: int) -> list[Part]:
        other = {self.names[name]: numbers for name, numbers in where.items()}
        return self._pairs(self.first._index(where, most), self.second._index(other, most))


class _SideBySide(_Double):
    def columns_of(self, card: CardFormat) -> int:
        return card.kind.columns_for_two

    def _nothing(self) -> Part:
        return self._pair(self.first._nothing(), self.second._nothing())

    def _head(self, title: str, number: str, count: str, first: bool) -> Part:
        other = "".join(self.names.get(piece, piece) for piece in JOINED.split(title))
        return self._pair(self.first._head(title, number, count, first), self.second._head(other, number, count, first))

    def _foot(self) -> Part:
        first, second = self.first.foot, self.second.foot
        # The names of deck, carrier and unit stand once.
        own = [piece for piece in second["pieces"] if piece != breakable_name(self.name) and not self._is_owner(piece)]
        return self._pair(first, self.second.tidied({**second, "pieces": own}))

    def _is_owner(self, piece: str) -> bool:
        cover = self.second.cover
        return cover is not None and piece == f"{cover.carrier}, {cover.unit}"


class _FrontAndBack(_Double):
    @property
    def runs_over(self) -> bool:
        return False

    def room(self, systems: list[str]) -> float:
        return min(self.first.room(systems), self.second.room([self.names[name] for name in systems]))

    def foresee_heads(self, names: list[str]) -> None:
        self.first.foresee_heads(names)
        self.second.foresee_heads([self.names[name] for name in names])

    def know_heads(self, faces: list[tuple[Face, int]], count: int) -> None:
        second = [isinstance(face, _SecondFace) for face, _ in faces]
        for maker, other in ((self.first, False), (self.second, True)):
            maker.know_heads([one for one, is_second in zip(faces, second, strict=True) if is_second is other], count)

    def measure(self, parts: list[Part]) -> list[float]:
        both = (self.first.measure([_first(part) for part in parts]), self.second.measure([_second(part) for part in parts]))
        return [max(heights) for heights in zip(*both, strict=True)]

    def cards(self, unit: MadeUp | None) -> list[Card]:
        return [Card(Face(_columns(card.front, _first), card.front.systems),
                     _SecondFace(_columns(card.front, _second), [self.names[name] for name in card.front.systems]))
                for card in super().cards(unit)]  # fmt: skip

    def face(self, face: Face, number: int, count: int, first: bool) -> dict[str, Any]:
        maker = self.second if isinstance(face, _SecondFace) else self.first
        return {**maker.face(face, number, count, first), "lang": maker.language}


def _columns(face: Face, choose) -> list[list[Part]]:
    return [[choose(part) for part in column] for column in face.columns]


def _first(part: Part) -> Part:
    """A part in the first language alone, to be measured anew."""
    return {key: value for key, value in part.items() if key not in ("beside", "height")}


def _second(part: Part) -> Part:
    """A part in the second language alone; what is the same in both carries it once."""
    other = part.get("beside", part)
    return {key: value for key, value in other.items() if key not in ("lang", "height")}
