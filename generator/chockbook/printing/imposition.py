"""Where cards lie on a sheet: fronts, the backs behind them, fold lines, cut marks, and the boxes of a page.

All measures are millimetres from the top left corner of the side that is looked at.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product
from typing import Any

from .card_formats import COMMON, SHEETS, CardFormat

CLEAR = 7.0
"""What an office printer cannot reach at the edge of a sheet."""
BLEED = 3.0
"""How far a print shop's page goes on beyond the cut."""
SLUG = 9.0
"""Room for cut marks around a print shop's page, bleed included."""
MARK_GAP = 0.8
"""Between a cut mark and the cut, on an office sheet."""
MARK_LENGTH = 9.0
"""From the cut to the far end of its mark."""
RULER = 50.0
"""The line that shows whether a sheet was printed at its own size."""


@dataclass(frozen=True, slots=True)
class Layout:
    """A sheet, and the places of the cards on it."""

    width: float
    height: float
    cells: tuple[tuple[float, float], ...]
    """Top left corners of the fronts."""
    card: CardFormat
    duplex: str
    """long-edge, short-edge, fold or one-sided."""
    marks: str
    """office or press."""

    def back_of(self, cell: tuple[float, float]) -> tuple[float, float]:
        """Where the back of a front lies, looking at the back of the sheet (or beside it, over a fold).

        A sheet turned over its long edge swaps left and right when that edge is upright, and top and bottom
        when it lies; over its short edge it is the other way round, and the backs stand on their heads.
        """
        x, y = cell
        if self.duplex == "fold":
            return x + self.card.width, y
        if self.swaps_sides:
            return self.width - x - self.card.width, y
        return x, self.height - y - self.card.height

    @property
    def swaps_sides(self) -> bool:
        """Whether turning the sheet swaps left and right; otherwise it swaps top and bottom."""
        return (self.width <= self.height) == (self.duplex == "long-edge")

    @property
    def turn(self) -> int:
        """Degrees by which a back is turned on its side of the sheet so that it reads upright in the hand.

        A card is turned over like the page of a book. Where the sheet swaps top and bottom instead, the back
        comes out upside down, unless it is turned.
        """
        return 0 if self.duplex == "fold" or self.swaps_sides else 180

    @property
    def trim(self) -> tuple[float, float, float, float]:
        """Left, top, right and bottom of everything that is cut out of the sheet."""
        wide = self.card.width * (2 if self.duplex == "fold" else 1)
        xs, ys = [x for x, _ in self.cells], [y for _, y in self.cells]
        return min(xs), min(ys), max(xs) + wide, max(ys) + self.card.height


def layout_for(card: CardFormat, paper: str, duplex: str, marks: str = "office") -> Layout:
    """How cards of a format lie on a paper.

    Small cards lie in the area that letter and A4 share, so that the file prints unscaled on both. A visor
    card is half of its own paper. A wall sheet is a sheet by itself and has no back.

    Args:
        card: the format.
        paper: "letter", "a4", or "common" for a sheet as wide as A4 and as high as letter.
        duplex: "long-edge", "short-edge", "fold" or "one-sided".
        marks: "office" for sheets, "press" for one face to a page with room for bleed and marks.
    """
    if marks == "press":
        width, height = card.width + 2 * SLUG, card.height + 2 * SLUG
        return Layout(
            width, height, ((SLUG, SLUG),), card, duplex if duplex != "fold" else "long-edge", marks
        )
    if card.kind.of_sheet == "whole":
        return Layout(card.width, card.height, ((0.0, 0.0),), card, "one-sided", marks)
    if card.kind.of_sheet == "half":
        height, width = SHEETS["letter" if paper == "common" else paper]
        cells = ((0.0, 0.0),) if duplex == "fold" else ((0.0, 0.0), (card.width, 0.0))
        return Layout(width, height, cells, card, duplex, marks)
    unit = card.width * (2 if duplex == "fold" else 1)
    best: Layout | None = None
    upright = COMMON if paper == "common" else SHEETS[paper]
    reach = min(upright[0], COMMON[0]), min(upright[1], COMMON[1])
    for turned in (1, -1):
        (width, height), (wide, high) = upright[::turned], reach[::turned]
        across = int((wide - 2 * CLEAR + 1e-6) // unit)
        down = int((high - 2 * CLEAR - 4 + 1e-6) // card.height)
        if across * down > (len(best.cells) if best else 0):
            left, top = (width - across * unit) / 2, (height - down * card.height) / 2
            cells = tuple(
                (left + i * unit, top + j * card.height) for j, i in product(range(down), range(across))
            )
            best = Layout(width, height, cells, card, duplex, marks)
    if best is None:
        # Too large for two sides of it beside each other: one above the other does not fold like a page.
        return layout_for(card, paper, "long-edge", marks)
    return best


def lines_of(layout: Layout, back: bool = False) -> list[dict[str, Any]]:
    """Cut marks, fold marks and the ruler of one side of a sheet."""
    if layout.marks == "press":
        return _press_marks(layout)
    left, top, right, bottom = layout.trim
    if back and layout.duplex != "fold":
        (left, top), (right, bottom) = _mirrored(layout, left, top, right, bottom)
    xs = {x for x, _ in layout.cells} | {x + layout.card.width for x, _ in layout.cells}
    ys = {y for _, y in layout.cells} | {y + layout.card.height for _, y in layout.cells}
    folds: set[float] = set()
    if layout.duplex == "fold":
        folds = {x + layout.card.width for x, _ in layout.cells}
        xs = {x for x, _ in layout.cells} | {x + 2 * layout.card.width for x, _ in layout.cells}
    elif back:
        xs, ys = (
            ({layout.width - x for x in xs}, ys)
            if layout.swaps_sides
            else (xs, {layout.height - y for y in ys})
        )
    found = []
    for x in sorted(xs | folds):
        dash = "dashed" if x in folds else None
        found += [
            _line(x, max(CLEAR, top - MARK_LENGTH), x, top - MARK_GAP, dash),
            _line(x, bottom + MARK_GAP, x, min(layout.height - CLEAR, bottom + MARK_LENGTH), dash),
        ]
    for y in sorted(ys):
        found += [
            _line(max(CLEAR, left - MARK_LENGTH), y, left - MARK_GAP, y),
            _line(right + MARK_GAP, y, min(layout.width - CLEAR, right + MARK_LENGTH), y),
        ]
    found = [one for one in found if one["x2"] > one["x1"] or one["y2"] > one["y1"]]
    if layout.card.kind.of_sheet == "half":
        # Two marks, at both ends of the middle: a fold or a cut is laid through two points.
        middle, dash = layout.width / 2, "dashed" if folds else None
        found += [_line(middle, CLEAR, middle, CLEAR + 5, dash),
                  _line(middle, layout.height - CLEAR - 5, middle, layout.height - CLEAR, dash)]  # fmt: skip
    if ruler := ruler_of(layout):
        x, y = ruler
        found += [_line(x, y, x + RULER, y, None, 0.75), *(
            _line(end, y - 1.3, end, y + 1.3, None, 0.75) for end in (x, x + RULER))]  # fmt: skip
    return found


def ruler_of(layout: Layout) -> tuple[float, float] | None:
    """Left end of the check ruler, below the cards; None where the sheet has no margin for it."""
    left, _, _, bottom = layout.trim
    room = layout.height - CLEAR - bottom
    if layout.marks == "press" or room < 4.2:
        return None
    return left + 2, bottom + 2.4


def boxes_of(layout: Layout) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """TrimBox and BleedBox of a page, in millimetres from the top left: left, top, right, bottom."""
    left, top, right, bottom = layout.trim
    if layout.marks == "press":
        return layout.trim, (left - BLEED, top - BLEED, right + BLEED, bottom + BLEED)
    # No ink meets a cut on an office sheet, so nothing bleeds.
    return layout.trim, layout.trim


def _mirrored(layout: Layout, left: float, top: float, right: float, bottom: float):
    if layout.swaps_sides:
        return (layout.width - right, top), (layout.width - left, bottom)
    return (left, layout.height - bottom), (right, layout.height - top)


def _press_marks(layout: Layout) -> list[dict[str, Any]]:
    left, top, right, bottom = layout.trim
    near, far = BLEED + 1, SLUG - 0.5
    found = []
    for x in (left, right):
        found += [_line(x, top - far, x, top - near), _line(x, bottom + near, x, bottom + far)]
    for y in (top, bottom):
        found += [_line(left - far, y, left - near, y), _line(right + near, y, right + far, y)]
    return found


def _line(
    x1: float, y1: float, x2: float, y2: float, dash: str | None = None, thickness: float = 0.5
) -> dict[str, Any]:
    return {"x1": round(x1, 3), "y1": round(y1, 3), "x2": round(x2, 3), "y2": round(y2, 3), "dash": dash,
            "thickness": thickness}  # fmt: skip
