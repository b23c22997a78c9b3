"""Finished sheets of every format, measured on the PDF alone: what the marks, the boxes, the letters and the ink say.

Nothing here asks the program where a card lies. The cards are where the cut marks point, and a back is behind its
front if it is there when the sheet is turned over as a printer turns it.
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

import pdfplumber
import pikepdf
import pytest
from PIL import Image, ImageOps
from print_reading import MM, letters
from sheet_reading import overprints, picture, untagged

from chockbook.catalogue import Catalogue
from chockbook.printing import CardSetting, render_cards
from chockbook.printing.card_formats import FORMATS

SIZES = {
    ("id1", "letter"): (79.6, 47.98), ("a7", "letter"): (74, 105), ("card", "letter"): (95, 128), ("a6", "letter"): (105, 148),
    ("visor", "letter"): (139.7, 215.9), ("wall", "letter"): (279.4, 431.8),
    ("id1", "a4"): (79.6, 47.98), ("a7", "a4"): (74, 105), ("card", "a4"): (95, 128), ("a6", "a4"): (105, 148),
    ("visor", "a4"): (148.5, 210), ("wall", "a4"): (297, 420),
}  # fmt: skip
"""Millimetres as they are cut: ISO/IEC 7810 less the seal of film, ISO 216, half of a sheet of letter, tabloid."""
TWO_SIDED = tuple(name for name, one in FORMATS.items() if one.kind.of_sheet != "whole")
MARKED = tuple(name for name, one in FORMATS.items() if one.kind.of_sheet == "part")
"""Formats that leave a margin on the sheet for marks; a visor card is half of its sheet, a wall sheet all of it."""
SAFE = 3.0
"""Least distance from a cut or a fold to text, millimetres: what print shops ask for at least (common practice)."""
CORNER = 3.5
"""Side of the squares in the corners that a corner cutter may take away: ISO/IEC 7810 rounds corners by up to 3.48 mm."""
PRINTERS_EDGE = 6.9
"""Millimetres of a sheet that office printers cannot reach: 6.35 on most, up to 6.7 at the bottom of some, and the width
of a dot (common practice)."""
PLAY = 2.2
"""Two for the printer's play between front and back, our own choice, and a dot of the picture, millimetres: so far a sheet
may shift without harm."""
BLEED = 3.0
CUT = 0.5
"""Half of what a mark on a cut takes of the card beside it, millimetres."""
NEAR = 0.15
DOTS = 120
"""To the inch, for pictures."""


@dataclass(frozen=True)
class Box:
    """A card on a sheet, in millimetres from the top left."""

    left: float
    top: float
    right: float
    bottom: float

    def about_upright(self, width: float) -> Box:
        """As it is seen when a sheet so wide is turned like the page of a book."""
        return Box(width - self.right, self.top, width - self.left, self.bottom)

    def about_lying(self, height: float) -> Box:
        """As it is seen when a sheet so high is turned like the page of a calendar."""
        return Box(self.left, height - self.bottom, self.right, height - self.top)

    def close_to(self, other: Box) -> bool:
        return all(abs(a - b) < NEAR for a, b in zip(self.sides, other.sides, strict=True))

    @property
    def sides(self) -> tuple[float, float, float, float]:
        return self.left, self.top, self.right, self.bottom


@pytest.fixture(scope="session")
def sheets(shipped: Catalogue, tmp_path_factory: pytest.TempPathFactory):
    """Renders a deck in a setting, once; its last sheet is not full, so that a back in the wrong place shows."""
    folder = tmp_path_factory.mktemp("sheets")

    @cache
    def make(**setting: str) -> Path:
        # A wall sheet holds most of a schedule: only a whole one goes on on a second.
        for count in (*range(60, 160, 9), 250, len(shipped.entries)):
            out = folder / f"{'-'.join(setting.values())}-{count}.pdf"
            some = replace(shipped, entries=shipped.entries[:count])
            made = render_cards(some, "on-s1", "en", out, CardSetting(**setting))
            cells = len(cards_on(out, 0)) // (2 if setting.get("duplex") == "fold" else 1)
            if (made.cards > cells or FORMATS[setting["format"]].kind.is_index) and (cells == 1 or made.cards % cells % 2):
                return out
        raise AssertionError(f"no deck of {setting} ends on a sheet with room")

    return make


def size_of(path: Path) -> tuple[float, float]:
    with pikepdf.open(path) as pdf:
        left, bottom, right, top = (float(side) / MM for side in pdf.pages[0].MediaBox)
        return right - left, top - bottom


def boxes(path: Path, name: str) -> list[Box]:
    """TrimBox or BleedBox of every page, from the top left."""
    _, height = size_of(path)
    with pikepdf.open(path) as pdf:
        found = [[float(side) / MM for side in page[f"/{name}"]] for page in pdf.pages]
    return [Box(left, height - top, right, height - bottom) for left, bottom, right, top in found]


@cache
def marks(path: Path, page: int) -> tuple[list[float], list[float], list[float]]:
    """Where the cut marks of a page point across and down, and where its fold marks are; millimetres."""
    across, down, folds = set(), set(), set()
    with pdfplumber.open(path) as pdf:
        # Cut marks are half a point thick: the ruler is thicker, and the lines of the text are not in the margin.
        trim = boxes(path, "TrimBox")[page]
        for line in pdf.pages[page].lines:
            x0, x1, y0, y1 = line["x0"] / MM, line["x1"] / MM, line["top"] / MM, line["bottom"] / MM
            outside = y1 <= trim.top or y0 >= trim.bottom or x1 <= trim.left or x0 >= trim.right
            dashed = bool(line.get("dash") and line["dash"][0])
            # The fold mark of a visor card, which is half of its sheet, stands on the fold itself.
            if not (outside or dashed) or abs(line["linewidth"] - 0.5) > 0.01:
                continue
            if x1 - x0 < 0.1:
                (folds if dashed else across).add(round((x0 + x1) / 2, 1))
            elif y1 - y0 < 0.1:
                down.add(round((y0 + y1) / 2, 1))
    return sorted(across), sorted(down), sorted(folds)


def cards_on(path: Path, page: int) -> list[Box]:
    """The cards of a page as the marks give them; where there are none, as the TrimBox does."""
    across, down, folds = marks(path, page)
    trim = boxes(path, "TrimBox")[page]
    width, height = size_of(path)
    if not across or not down:
        half = trim.left + (trim.right - trim.left) / 2
        wide = width > height  # two visor cards on a lying sheet; a wall sheet is one card
        return [Box(trim.left, trim.top, half, trim.bottom), Box(half, trim.top, trim.right, trim.bottom)] if wide else [trim]
    across = sorted([*across, *folds])
    return [
        Box(left, top, right, bottom)
        for top, bottom in itertools.pairwise(down)
        for left, right in itertools.pairwise(across)
    ]


def number_on(path: Path, page: int, card: Box) -> str | None:
    """The number that a card says it has."""
    inside = [
        a for a in letters(path)[page]
        if card.left < a.left / MM and a.right / MM < card.right and card.top < a.top / MM and a.bottom / MM < card.bottom
    ]  # fmt: skip
    found = re.search(r"Card(\d+)of", "".join(a.text for a in inside))
    return found[1] if found else None


def extent(image: Image.Image, card: Box) -> tuple[float, float, float, float] | None:
    """How far the ink on a card stays from its four sides, millimetres; None for a card without any."""
    scale = DOTS / 25.4
    # The one mark between two visor cards stands on the cut itself.
    cut = CUT if card.left == 0 or card.right * scale >= image.width - 1 else 0
    area = image.crop(tuple(round((side + way * cut) * scale) for side, way in zip(card.sides, (1, 1, -1, -1), strict=True)))
    box = ImageOps.invert(area).point(lambda grey: 255 if grey > 60 else 0).getbbox()
    if box is None:
        return None
    return tuple(side / scale + cut for side in (box[0], box[1], area.width - box[2], area.height - box[3]))


def turned(image: Image.Image, upright: bool) -> Image.Image:
    """The back of a sheet as light shows it through the front."""
    return ImageOps.mirror(image) if upright else ImageOps.flip(image)


WAYS = list(itertools.product(TWO_SIDED, ("letter", "a4"), ("long-edge", "short-edge")))


@pytest.mark.parametrize(("name", "paper", "duplex"), WAYS)
def test_every_back_lies_behind_its_front(name: str, paper: str, duplex: str, sheets) -> None:
    path = sheets(format=name, paper=paper, duplex=duplex)
    width, height = size_of(path)
    about_upright = (height > width) == (duplex == "long-edge")
    trims = boxes(path, "TrimBox")
    assert len(trims) % 2 == 0
    for front in range(0, len(trims), 2):
        fronts, backs = cards_on(path, front), cards_on(path, front + 1)
        through = [card.about_upright(width) if about_upright else card.about_lying(height) for card in backs]
        for card in fronts:
            wide, high = card.right - card.left, card.bottom - card.top
            assert (wide, high) == pytest.approx(SIZES[name, paper], abs=NEAR)
            (behind,) = [n for n, other in enumerate(through) if card.close_to(other)]
            assert number_on(path, front, card) == number_on(path, front + 1, backs[behind])
    numbers = [number_on(path, page, card) for page in range(0, len(trims), 2) for card in cards_on(path, page)]
    assert [int(n) for n in numbers if n] == list(range(1, len([n for n in numbers if n]) + 1))
    with pikepdf.open(path) as pdf:
        wanted = {"long-edge": "/DuplexFlipLongEdge", "short-edge": "/DuplexFlipShortEdge"}[duplex]
        assert str(pdf.Root.ViewerPreferences.Duplex) == wanted


@pytest.mark.parametrize(("name", "paper", "duplex"), WAYS)
def test_light_through_the_sheet_shows_each_back_on_its_front(name: str, paper: str, duplex: str, sheets) -> None:
    path = sheets(format=name, paper=paper, duplex=duplex)
    width, height = size_of(path)
    about_upright = (height > width) == (duplex == "long-edge")
    last = len(boxes(path, "TrimBox")) - 2
    bare = 0
    for page in (0, last):
        front, back = picture(path, page, DOTS), turned(picture(path, page + 1, DOTS), about_upright)
        for card in cards_on(path, page):
            seen, behind = extent(front, card), extent(back, card)
            assert (seen is None) == (behind is None)
            bare += seen is None
            for inks in filter(None, (seen, behind)):
                assert min(inks) >= PLAY
    assert bare or len(cards_on(path, last)) == 1, "the last sheet is full, so that a swap would not show"


@pytest.mark.parametrize(("name", "paper"), list(itertools.product(MARKED, ("letter", "a4"))))
def test_marks_stand_outside_the_trim_and_point_at_every_cut(name: str, paper: str, sheets) -> None:
    path = sheets(format=name, paper=paper, duplex="long-edge")
    width, height = size_of(path)
    (trim,) = set(boxes(path, "TrimBox")[:1])
    assert boxes(path, "BleedBox")[0].close_to(trim), "no ink meets a cut on an office sheet"
    across, down, _ = marks(path, 0)
    assert (across[0], down[0], across[-1], down[-1]) == pytest.approx(trim.sides, abs=NEAR)
    image = picture(path, 0, DOTS)
    scale = DOTS / 25.4

    def ink(*area: float) -> bool:
        return image.crop(tuple(round(side * scale) for side in area)).getextrema()[0] < 160

    for x in across:
        assert ink(x - 0.4, PRINTERS_EDGE, x + 0.4, trim.top - 0.5)
        # Nothing on the cut itself, so that a knife that is off leaves no line on a card.
        assert not ink(max(x - 1, trim.left + 0.1), trim.top + 0.3, min(x + 1, trim.right - 0.1), trim.bottom - 0.3)
    for y in down:
        assert ink(PRINTERS_EDGE, y - 0.4, trim.left - 0.5, y + 0.4)
        assert not ink(trim.left + 0.3, max(y - 1, trim.top + 0.1), trim.right - 0.3, min(y + 1, trim.bottom - 0.1))
    edges = ((0, 0, width, PRINTERS_EDGE - 0.2), (0, height - PRINTERS_EDGE + 0.2, width, height),
             (0, 0, PRINTERS_EDGE - 0.2, height), (width - PRINTERS_EDGE + 0.2, 0, width, height))  # fmt: skip
    assert not any(ink(*edge) for edge in edges)


@pytest.mark.parametrize(("name", "paper"), list(itertools.product(TWO_SIDED, ("letter", "a4"))))
def test_a_folded_card_has_its_back_beside_its_front(name: str, paper: str, sheets) -> None:
    path = sheets(format=name, paper=paper, duplex="fold")
    wide, high = SIZES[name, paper]
    for page in range(len(boxes(path, "TrimBox"))):
        across, _, folds = marks(path, page)
        assert folds, "no fold line"
        pairs = list(zip(*[iter(cards_on(path, page))] * 2, strict=True))
        assert pairs
        for front, back in pairs:
            assert back.left == pytest.approx(front.right, abs=NEAR)
            assert (front.right - front.left, front.bottom - front.top) == pytest.approx((wide, high), abs=NEAR)
            assert any(abs(fold - front.right) < NEAR for fold in folds)
            assert not any(abs(cut - front.right) < NEAR for cut in across), "a cut mark on a fold"
            assert number_on(path, page, front) == number_on(path, page, back)
        for a in letters(path)[page]:
            trim = boxes(path, "TrimBox")[page]
            on_cards = trim.top < a.top / MM and a.bottom / MM < trim.bottom
            for fold in folds if on_cards else ():
                assert a.right / MM <= fold - SAFE + NEAR or a.left / MM >= fold + SAFE - NEAR
    with pikepdf.open(path) as pdf:
        assert str(pdf.Root.ViewerPreferences.Duplex) == "/Simplex"


@pytest.mark.parametrize(("name", "paper"), list(itertools.product(FORMATS, ("letter", "a4"))))
@pytest.mark.parametrize("marked", ["office", "press"])
def test_text_keeps_from_cuts_and_from_corners_that_are_rounded(name: str, paper: str, marked: str, sheets) -> None:
    path = sheets(format=name, paper=paper, marks=marked)
    assert untagged(path) == []
    assert overprints(path) == []
    for page, found in enumerate(letters(path)):
        for card in cards_on(path, page):
            for a in _on(found, card):
                sides = (a.left / MM - card.left, a.top / MM - card.top, card.right - a.right / MM, card.bottom - a.bottom / MM)
                assert min(sides) >= SAFE - NEAR, (page, a)
                assert not (min(sides[0], sides[2]) < CORNER - NEAR and min(sides[1], sides[3]) < CORNER - NEAR), (page, a)


def _on(found: Iterable, card: Box) -> list:
    return [
        a for a in found
        if a.left / MM < card.right and a.right / MM > card.left and a.top / MM < card.bottom and a.bottom / MM > card.top
    ]  # fmt: skip


@pytest.mark.parametrize(("name", "paper"), list(itertools.product(FORMATS, ("letter", "a4"))))
def test_a_print_shop_gets_the_cut_size_and_three_millimetres_around_it(name: str, paper: str, sheets) -> None:
    path = sheets(format=name, paper=paper, marks="press")
    width, height = size_of(path)
    for page, (trim, bleed) in enumerate(zip(boxes(path, "TrimBox"), boxes(path, "BleedBox"), strict=True)):
        assert (trim.right - trim.left, trim.bottom - trim.top) == pytest.approx(SIZES[name, paper], abs=0.01)
        assert [abs(a - b) for a, b in zip(trim.sides, bleed.sides, strict=True)] == pytest.approx([BLEED] * 4, abs=0.01)
        assert bleed.left > 0
        assert bleed.top > 0
        assert bleed.right < width
        assert bleed.bottom < height
        if page > 1:
            continue
        image = picture(path, page, DOTS)
        scale = DOTS / 25.4
        for left, top, right, bottom in (
            (bleed.left, bleed.top, bleed.right, trim.top + 1), (bleed.left, trim.bottom - 1, bleed.right, bleed.bottom),
            (bleed.left, bleed.top, trim.left + 1, bleed.bottom), (trim.right - 1, bleed.top, bleed.right, bleed.bottom),
        ):  # fmt: skip
            # No ink meets the cut, so none has to go on beyond it; the marks stand outside the bleed.
            strip = image.crop(tuple(round(side * scale) for side in (left + 0.3, top + 0.3, right - 0.3, bottom - 0.3)))
            assert strip.getextrema()[0] > 200
        across, down, _ = marks(path, page)
        assert across == pytest.approx([trim.left, trim.right], abs=NEAR)
        assert down == pytest.approx([trim.top, trim.bottom], abs=NEAR)
