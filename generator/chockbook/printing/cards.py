"""A deck of cards as a PDF: filled, placed on sheets, and set."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from ..catalogue import Catalogue
from ..views.card_deck import view_deck
from ..views.carrier_unit import MadeUp
from ..views.grouping import rulebook_named
from ..views.wording import fixed_word, in_language
from .card_filling import ELSEWHERE, FOOT_GAP, Card, Face, fill_cards, height_of, with_gaps
from .card_formats import FORMATS, CardFormat, format_on
from .card_heights import Part, heights, style_of
from .card_index import fill_index
from .card_opening import opening_cards
from .compile import set_sheets
from .imposition import CLEAR, MARK_GAP, Layout, boxes_of, layout_for, lines_of, ruler_of
from .long_words import breakable
from .overflow import CardOverflow
from .pdf_finish import finish
from .printed import Printed

SMALLEST = ("id1", "a7")
"""Formats that have no room for the carrier's name in the foot."""
WIDE_ENOUGH = 90
"""Width of a card, millimetres, over which the margin of a sheet holds the document's name too."""
MM = 72 / 25.4
"""Points in a millimetre."""


@dataclass(frozen=True, slots=True)
class CardSetting:
    """How a deck is printed."""

    format: str = "card"
    paper: str = "common"
    """letter, a4, or common for a sheet that prints unscaled on both."""
    duplex: str = "long-edge"
    marks: str = "office"
    mono: bool = False


@dataclass(frozen=True, slots=True)
class Cover:
    """What a carrier's deck says of itself: texts ready to be set, of that carrier and nobody else."""

    carrier: str
    unit: str
    contact: str
    """Whom to call first: stands on every card."""
    contact_short: str
    """The same without the hours, for a card that has no room for them."""
    parts: tuple[Part, ...]
    """The front of the first card."""


def render_cards(
    catalogue: Catalogue,
    rulebook_id: str,
    language: str,
    out_path: Path,
    setting: CardSetting | None = None,
    unit: MadeUp | None = None,
    cover: Cover | None = None,
    document_id: str | None = None,
) -> Printed:
    """Write a deck of cards.

    Args:
        catalogue: the checked catalogue.
        rulebook_id: the rulebook it is about; defects that it does not speak of are left out.
        language: code of its language.
        out_path: the PDF to write; its folder is made if needed.
        setting: format, paper, duplex, marks and ink; 95 x 128 mm, four to a sheet, two-sided where left out.
        unit: leaves out what the unit cannot have; every defect where it is left out.
        cover: of a carrier's deck.
        document_id: by which the deck calls itself; made from rulebook and language where left out.

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
        CardOverflow: an entry does not fit on an empty card.
        SettingFailed: the compiler objects, as to a character that the face lacks.
    """
    setting = setting or CardSetting()
    name = document_id or f"cards.{rulebook_id}.{language}"
    maker = DeckMaker(catalogue, rulebook_id, language, setting, cover, name)
    cards = maker.filled(unit)
    pdf, pages = maker.set(cards)
    out_path.parent.mkdir(parents=True, exist_ok=True)
    out_path.write_bytes(pdf)
    return Printed(out_path, pages, len(cards), maker.notices(len(cards)))


def render_fitting_cards(catalogue: Catalogue, rulebook_id: str, language: str, out_path: Path) -> Printed:
    """Write the deck in the smallest format, from 95 x 128 mm up, whose cards hold every entry.

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
        CardOverflow: an entry does not fit on the largest card either.
        SettingFailed: the compiler objects.
    """
    name = CardSetting().format
    while True:
        try:
            return render_cards(catalogue, rulebook_id, language, out_path, CardSetting(format=name))
        except CardOverflow:
            larger = FORMATS[name].next_format
            if larger is None:
                raise
            name = larger


class DeckMaker:
    """Makes one deck; holds what all of its cards share."""

    columns: Mapping[str, int] = {}
    """Columns of formats that differ from the format's own."""
    last_advice = ""
    """What to do about a deck that is too large for the largest format."""

    def __init__(self, catalogue: Catalogue, rulebook_id: str, language: str, setting: CardSetting,
                 cover: Cover | None, name: str) -> None:  # fmt: skip
        self.catalogue, self.language, self.cover, self.name = catalogue, language, cover, name
        self.rulebook_id = rulebook_id
        self.deck_name = in_language(rulebook_named(catalogue, rulebook_id).short_name, language)
        card = format_on(setting.format, "letter" if setting.paper == "common" else setting.paper)
        self.card: CardFormat = replace(card, columns=self.columns.get(card.name, card.columns))
        self.layout: Layout = layout_for(self.card, setting.paper, setting.duplex, setting.marks)
        self.setting = setting
        self.two_sided = self.layout.duplex != "one-sided"
        self._heads: dict[str, float] = {}
        self._widest = "00"
        """As wide as any card number of the deck, since no digit is wider: titles of cards stand beside it."""
        self.foot = self._foot()
        self.foot_height = self.measure_inner([self.foot])[0]

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
        return self.card.height - 2 * self.card.safe - head - self.foot_height - FOOT_GAP

    def title_of(self, systems: list[str]) -> str:
        """What the head of a face says: its systems; on a sheet with columns, which has bars, the first to the last."""
        if self.card.columns > 1 and len(systems) > 2:
            return f"{systems[0]} – {systems[-1]}"
        return " · ".join(systems)

    def _head_height(self, title: str) -> float:
        if title not in self._heads:
            self._heads[title] = self.measure_inner([self._head(title, self._widest, self._widest, False)])[0]
        return self._heads[title]

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
        index_only = self.card.name == "id1"
        deck = view_deck(self.catalogue, self.rulebook_id, self.language, unit, worst_only=index_only)
        # The smallest cards have no room for whom to call beside the steps: the first card and the backs say it.
        contact = self.cover.contact if self.cover and self.card.name not in SMALLEST else None
        words = {key: self.word(key) for key in ("not-confirmed", *ELSEWHERE, "print-id1-lead")}
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
            (title, [*([{"kind": "note", "text": contact}] if contact else []), {**self.foot, "kind": "imprint", "pieces": said}])
            for said in (pieces, undated)
            for title in (self.deck_name, self.word("print-back").capitalize())
            for contact in contacts
        ]  # fmt: skip
        return next((way for way in ways if height_of(self.with_heights(way[1])) <= self._bare_room(way[0])), ways[-1])

    def _bare_room(self, title: str) -> float:
        """Height below the head of a card without a foot."""
        return self.card.height - 2 * self.card.safe - self._head_height(title)

    def _opening(self, cards: list[Card]) -> list[Card]:
        cover = list(self.cover.parts) if self.cover else []
        room = self.room([self.deck_name])
        return opening_cards(cover, cards, self._index, self.with_heights, room, self.deck_name, self.two_sided)

    def _index(self, where: dict[str, list[int]]) -> list[Part]:
        """On which cards each system stands."""
        names = [in_language(system.name, self.language) for system in self.catalogue.systems]
        text = " · ".join(f"{name}\u00a0{_runs(where[name])}" for name in names if name in where)
        title: Part = {"kind": "title", "level": 2, "text": self.word("print-card-of")}
        return [title, {"kind": "note", "text": text}]

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
        named = self.cover and self.card.name not in SMALLEST
        whose = [f"{self.cover.carrier}, {self.cover.unit}"] if named else []
        uncontrolled = [] if self.layout.marks == "office" and ruler_of(self.layout) else [self.word("uncontrolled")]
        return {
            "kind": "foot",
            "caution": self.word("caution-short"),
            "aid": self.word("aid-short"),
            "pieces": [
                *whose,
                breakable(self.name),
                f"{self.word('edition')} {edition.code}",
                f"{self.word('issued')} {edition.date}",
                f"{self.word('check-by')} {edition.check_by}",
                *uncontrolled,
            ],
        }

    def _nothing(self) -> Part:
        """What a face says that has no entries."""
        return {"kind": "note", "text": self.word("print-nothing-on-side")}

    def _face(self, face: Face, number: int, count: int, first: bool) -> dict[str, Any]:
        systems = face.systems
        head = self._head(self.title_of(systems), str(number), str(count), first)
        bare = self.card.name == "id1"
        room = self.room(systems) + (self.foot_height + FOOT_GAP if bare else 0)
        columns = face.columns
        if face.empty:
            columns = [[self._nothing()]]
        return {"head": head, "foot": None if bare else self.foot,
                "columns": [with_gaps(self.with_heights(parts), room) for parts in columns]}  # fmt: skip

    def set(self, cards: list[Card]) -> tuple[bytes, int]:
        """The PDF and its pages."""
        faces: list[dict[str, Any]] = []
        sheets: list[dict[str, Any]] = []
        layout, per_sheet = self.layout, len(self.layout.cells)
        seen: set[str] = set()
        n_sheets = math.ceil(len(cards) / per_sheet)
        for start in range(0, len(cards), per_sheet):
            front, back = [], []
            for cell, card in enumerate(cards[start : start + per_sheet]):
                number = start + cell + 1
                for side, face, place in (
                    (front, card.front, layout.cells[cell]),
                    (
                        front if layout.duplex == "fold" else back,
                        card.back,
                        layout.back_of(layout.cells[cell]),
                    ),
                ):
                    if face is not None:
                        title = self.title_of(face.systems)
                        faces.append(self._face(face, number, len(cards), title not in seen))
                        seen.add(title)
                        turn = 0 if side is front else layout.turn
                        side.append(
                            {
                                "x": round(place[0], 3),
                                "y": round(place[1], 3),
                                "face": len(faces) - 1,
                                "turn": turn,
                            }
                        )
            sheet = start // per_sheet + 1
            sheets.append(self._sheet(front, sheet, n_sheets, back=False))
            if back:
                sheets.append(self._sheet(back, sheet, n_sheets, back=True))
        edition = self.catalogue.edition
        data = {
            "title": self.title(),
            "author": self.catalogue.publisher.name,
            "language": self.language,
            "style": style_of(self.card, self.setting.mono),
            "sheet": {"width": layout.width, "height": layout.height},
            "faces": faces,
            "sheets": sheets,
        }
        pdf = set_sheets("cards.typ", data, edition.date)
        trim, bleed = (self._points(box) for box in boxes_of(layout))
        duplex = {"long-edge": "DuplexFlipLongEdge", "short-edge": "DuplexFlipShortEdge"}.get(layout.duplex, "Simplex")
        return finish(pdf, trim, bleed, duplex), len(sheets)

    def _points(self, box: tuple[float, ...]) -> tuple[float, ...]:
        """A box in points from the bottom left corner, as PDF has it."""
        left, top, right, bottom = box
        height = self.layout.height
        return tuple(round(side * MM, 3) for side in (left, height - bottom, right, height - top))

    def _sheet(self, faces: list[dict[str, Any]], number: int, count: int, back: bool) -> dict[str, Any]:
        layout = self.layout
        texts = []
        if ruler := ruler_of(layout):
            edition = self.catalogue.edition
            left, _, right, _ = layout.trim
            if back and layout.swaps_sides and layout.duplex != "fold":
                left, right = layout.width - right, layout.width - left
            columns = sorted({x for x, _ in layout.cells})
            step = columns[1] - columns[0] if len(columns) > 1 else (right - left) / 2
            second = left + step
            side = (
                f" · {self.word('print-back' if back else 'print-front')}"
                if self.two_sided and layout.duplex != "fold"
                else ""
            )
            wide = step - 4
            top_line = max(CLEAR + 0.1, layout.trim[1] - MARK_GAP - 4.2)
            # Small cards leave a narrow margin; what it leaves out stands on every card.
            name = f"{self.name} · " if step > WIDE_ENOUGH else ""
            which = f"{self.word('edition')} {edition.code} · " if step > WIDE_ENOUGH else ""
            sheet = f"{self.word('print-sheet')} {number} {self.word('print-of')} {count}{side}"
            # Where a long name would run into the next text, it is left out: each card has it in its foot.
            above = [(left + 2, f"{name}{sheet}", sheet), (second + 2, f"{which}{self.word('uncontrolled')}", "")]
            texts += [{"x": round(x, 3), "y": top_line, "width": wide, "text": text, "short": short or text}
                      for x, text, short in above]  # fmt: skip
            x, y = ruler
            texts.append({"x": x + 52, "y": y - 1.9, "width": 20, "text": self.word("print-ruler")})
            note = self.word(f"print-note-{layout.duplex}")
            texts.append({"x": round(second + 2, 3), "y": y - 1.9, "width": wide, "text": note})
        elif layout.marks == "press":
            side = self.word("print-back" if back else "print-front")
            texts.append({"x": layout.trim[0] + 2, "y": 0.6, "width": layout.width,
                          "text": f"{number} {self.word('print-of')} {count} · {side}"})  # fmt: skip
        return {"faces": faces, "lines": lines_of(layout, back), "texts": texts}


def _runs(numbers: list[int]) -> str:
    """Numbers as ranges, such as "2-4, 9"."""
    runs: list[list[int]] = []
    for number in sorted(numbers):
        if runs and number == runs[-1][1] + 1:
            runs[-1][1] = number
        else:
            runs.append([number, number])
    return ", ".join(str(a) if a == b else f"{a}–{b}" for a, b in runs)
