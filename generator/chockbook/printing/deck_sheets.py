"""A deck on its sheets: which face lies where, what the margins say, and the finished PDF."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

from .card_faces import Card
from .card_heights import style_of
from .card_places import PlacedParts
from .compile import set_sheets
from .imposition import CLEAR, MARK_GAP, Layout, boxes_of, lines_of, ruler_of
from .pdf_finish import finish

if TYPE_CHECKING:
    from .deck_maker import DeckMaker

WIDE_ENOUGH = 90
"""Width of a card, millimetres, over which the margin of a sheet holds the document's name too."""
MM = 72 / 25.4
"""Points in a millimetre."""


def set_deck(maker: DeckMaker, cards: list[Card]) -> tuple[bytes, int]:
    """A deck's PDF, and its pages.

    Raises:
        SettingFailed: the compiler objects, as to a character that the face lacks.
    """
    placed = PlacedParts(maker.card, maker.language)
    sheets: list[dict[str, Any]] = []
    layout, per_sheet = maker.layout, len(maker.layout.cells)
    seen: set[str] = set()
    n_sheets = math.ceil(len(cards) / per_sheet)
    faces = [(face, n) for n, card in enumerate(cards, 1) for face in (card.front, card.back) if face is not None]
    maker.know_heads(faces, len(cards))
    for start in range(0, len(cards), per_sheet):
        front: list[dict[str, Any]] = []
        back: list[dict[str, Any]] = []
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
                    title = maker.title_of(face.systems)
                    turn = 0 if side is front else layout.turn
                    set_face = maker.face(face, number, len(cards), title not in seen)
                    side += placed.of_face(set_face, place, turn, back=face is card.back)
                    seen.add(title)
        sheet = start // per_sheet + 1
        sheets.append(_sheet(maker, front, sheet, n_sheets, back=False))
        if back:
            sheets.append(_sheet(maker, back, sheet, n_sheets, back=True))
    edition = maker.catalogue.edition
    data = {
        "title": maker.title(),
        "author": maker.catalogue.publisher.name,
        "language": maker.language,
        "style": style_of(maker.card, maker.setting.mono),
        "sheet": {"width": layout.width, "height": layout.height},
        "parts": placed.parts,
        "sheets": sheets,
    }
    pdf = set_sheets("cards.typ", data, edition.date)
    trim, bleed = (_points(layout, box) for box in boxes_of(layout))
    duplex = {"long-edge": "DuplexFlipLongEdge", "short-edge": "DuplexFlipShortEdge"}.get(layout.duplex, "Simplex")
    return finish(pdf, trim, bleed, duplex), len(sheets)


def _points(layout: Layout, box: tuple[float, ...]) -> tuple[float, ...]:
    """A box in points from the bottom left corner, as PDF has it."""
    left, top, right, bottom = box
    height = layout.height
    return tuple(round(side * MM, 3) for side in (left, height - bottom, right, height - top))


def _sheet(maker: DeckMaker, parts: list[dict[str, Any]], number: int, count: int, back: bool) -> dict[str, Any]:
    layout = maker.layout
    texts = []
    if ruler := ruler_of(layout):
        edition = maker.catalogue.edition
        left, _, right, _ = layout.trim
        if back and layout.swaps_sides and layout.duplex != "fold":
            left, right = layout.width - right, layout.width - left
        columns = sorted({x for x, _ in layout.cells})
        step = columns[1] - columns[0] if len(columns) > 1 else (right - left) / 2
        second = left + step
        side = (
            f" · {maker.word('print-back' if back else 'print-front')}"
            if maker.two_sided and layout.duplex != "fold"
            else ""
        )
        wide = step - 4
        top_line = max(CLEAR + 0.1, layout.trim[1] - MARK_GAP - 4.2)
        # Small cards leave a narrow margin; what it leaves out stands on every card.
        name = f"{maker.name} · " if step > WIDE_ENOUGH else ""
        which = f"{maker.word('edition')} {edition.code} · " if step > WIDE_ENOUGH else ""
        sheet = f"{maker.word('print-sheet')} {number} {maker.word('print-of')} {count}{side}"
        # Where a name or the edition would run on, it is left out: each card has both in its foot.
        uncontrolled = maker.word("uncontrolled")
        above = [(left + 2, f"{name}{sheet}", sheet), (second + 2, f"{which}{uncontrolled}", uncontrolled)]
        texts += [{"x": round(x, 3), "y": top_line, "width": wide, "text": text, "short": short}
                  for x, text, short in above]  # fmt: skip
        x, y = ruler
        texts.append({"x": x + 52, "y": y - 1.9, "width": 20, "text": maker.word("print-ruler")})
        note = maker.word(f"print-note-{layout.duplex}")
        texts.append({"x": round(second + 2, 3), "y": y - 1.9, "width": wide, "text": note})
    elif layout.marks == "press":
        side = maker.word("print-back" if back else "print-front")
        texts.append({"x": layout.trim[0] + 2, "y": 0.6, "width": layout.width,
                      "text": f"{number} {maker.word('print-of')} {count} · {side}"})  # fmt: skip
    return {"parts": parts, "lines": lines_of(layout, back), "texts": texts}
