"""The sheet that cards are cut from, looked at as a printer would: as ink."""

from __future__ import annotations

import pypdfium2
import pytest
from PIL import Image

from chockbook.printing import Printed

DOTS_PER_MM = 8
LEFT, TOP, WIDTH, HEIGHT = 10, 11.7, 95, 128
RULER_MM = 50


@pytest.fixture(scope="module")
def sheet(deck: Printed) -> Image.Image:
    """The first sheet in greys."""
    page = pypdfium2.PdfDocument(deck.path)[0]
    return page.render(scale=DOTS_PER_MM * 25.4 / 72, grayscale=True).to_pil().convert("L")


def ink(sheet: Image.Image, left: float, top: float, right: float, bottom: float) -> int:
    """How dark the darkest dot of an area is, 0 for white to 255; millimetres."""
    area = sheet.crop(tuple(round(side * DOTS_PER_MM) for side in (left, top, right, bottom)))
    return 255 - area.getextrema()[0]


def test_nothing_is_printed_where_an_office_printer_cannot_reach(sheet: Image.Image) -> None:
    for strip in ((0, 0, 210, 6.9), (0, 272.5, 210, 279.4), (0, 0, 6.9, 279.4), (203.1, 0, 210, 279.4)):
        assert ink(sheet, *strip) == 0
    assert ink(sheet, 0, 0, 210, 279.4) > 200


def test_cut_marks_stand_outside_the_cards(sheet: Image.Image) -> None:
    for column in range(3):
        x = LEFT + column * WIDTH
        assert ink(sheet, x - 0.5, 7, x + 0.5, TOP - 0.9) > 100
    for row in range(3):
        y = TOP + row * HEIGHT
        assert ink(sheet, 7, y - 0.5, LEFT - 0.4, y + 0.5) > 100
    inside = LEFT, TOP, LEFT + 2 * WIDTH, TOP + 2 * HEIGHT
    for left, top, right, bottom in (
        (inside[0], inside[1], inside[0] + 3.5, inside[3]),
        (inside[2] - 3.5, inside[1], inside[2], inside[3]),
        (inside[0], inside[1], inside[2], inside[1] + 3.5),
        (inside[0], inside[3] - 3.5, inside[2], inside[3]),
        (LEFT + WIDTH - 3.5, inside[1], LEFT + WIDTH + 3.5, inside[3]),
        (inside[0], TOP + HEIGHT - 3.5, inside[2], TOP + HEIGHT + 3.5),
    ):
        assert ink(sheet, left, top, right, bottom) == 0


def test_the_ruler_is_fifty_millimetres(sheet: Image.Image) -> None:
    low = sheet.crop((11 * DOTS_PER_MM, round(268 * DOTS_PER_MM), 63 * DOTS_PER_MM, round(272 * DOTS_PER_MM)))
    rows = [[x for x in range(low.width) if low.getpixel((x, y)) < 100] for y in range(low.height)]
    longest = max(rows, key=len)
    assert (longest[-1] - longest[0]) / DOTS_PER_MM == pytest.approx(RULER_MM, abs=0.5)


def test_the_outcomes_differ_without_colour(deck: Printed) -> None:
    """Somewhere beneath the head of a stop side a strip is all but black, and of no other side."""
    document = pypdfium2.PdfDocument(deck.path)
    black = {"front": 0, "back": 0}
    for index in range(len(document)):
        picture = document[index].render(scale=DOTS_PER_MM * 25.4 / 72, grayscale=True).to_pil().convert("L")
        for cell in range(4):
            x, y = LEFT + (cell % 2) * WIDTH + 5.5, TOP + (cell // 2) * HEIGHT
            strips = []
            for down in range(10, 26):
                box = (x, y + down, x + 12, y + down + 1)
                strip = picture.crop(tuple(round(side * DOTS_PER_MM) for side in box))
                strips.append(sum(strip.histogram()[:100]) / (strip.width * strip.height))
            black["back" if index % 2 else "front"] += max(strips) > 0.8
    # Of a deck with more to stop for than to go on with, the last cards of a group stop on both sides.
    assert black["front"] > deck.cards / 2
    assert black["back"] < deck.cards / 4
