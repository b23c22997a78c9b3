"""A strip that is kept free for a hole: on the finished sheet nothing is printed in it, on either side."""

from __future__ import annotations

from itertools import product
from pathlib import Path

import pypdfium2
import pytest
from demo_carriers import carrier, layout_of, outside_safe_area
from sheet_reading import picture

from chockbook.catalogue import Catalogue
from chockbook.printing import cards_for_carriers

STRIP = 12.0
"""Millimetres that stay free at the edge of the hole."""
DOTS_PER_MM = 100 / 25.4
WAYS = [
    *product(("card", "a6"), ("top", "left"), ("short-edge",)),
    ("a7", "top", "short-edge"),
    *product(("card",), ("left",), ("long-edge", "fold")),
    ("card", "none", "long-edge"),
]
"""Format, edge and way of turning; how a sheet is turned is the same for every format."""


def strips(width: float, height: float, edge: str, back: bool) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of the strip on a card that lies upright before its reader."""
    if edge == "top":
        return 0, 0, width, STRIP
    # The back of a card that is turned like a page has the front's left edge on its right.
    return (width - STRIP, 0, width, height) if back else (0, 0, STRIP, height)


@pytest.mark.parametrize(("name", "edge", "duplex"), WAYS)
def test_nothing_is_printed_where_the_hole_goes(
    name: str, edge: str, duplex: str, shipped: Catalogue, tmp_path: Path
) -> None:
    one = carrier(documents=[{"what": "deck", "format": name, "duplex": duplex, "punch": edge}])
    result = cards_for_carriers(shipped, [one], tmp_path, workers=1)
    assert result.failed == []
    (path,) = tmp_path.rglob("*.pdf")
    assert list(outside_safe_area(path, layout_of(one.documents[0]))) == []
    made = layout_of(one.documents[0])
    wide, high = made.card.width, made.card.height
    inked = []
    for page in range(min(4, len(pypdfium2.PdfDocument(path)))):
        image = picture(path, page, 100)
        backs = page % 2 == 1 and duplex != "fold"
        places = [(cell, False) for cell in made.cells]
        if backs or duplex == "fold":
            places = [*(places if duplex == "fold" else []), *((made.back_of(cell), True) for cell in made.cells)]
        for (x, y), back in places:
            left, top, right, bottom = strips(wide, high, edge, back)
            if back and made.turn:
                left, top, right, bottom = wide - right, high - bottom, wide - left, high - top
            inset = 0.4  # the cut itself has its marks outside the card
            box = (x + left + inset, y + top + inset, x + right - inset, y + bottom - inset)
            inked.append(image.crop(tuple(round(side * DOTS_PER_MM) for side in box)).getextrema()[0] < 160)
    assert inked
    assert any(inked) == (edge == "none")


def test_the_smallest_card_is_too_narrow_for_a_hole_at_its_side(shipped: Catalogue, tmp_path: Path) -> None:
    """It is told, with the format to take; nothing is shrunk to fit."""
    one = carrier(documents=[{"what": "deck", "format": "a7", "punch": "left"}], languages=["fr"], rulebooks=["qc-list-1"])
    result = cards_for_carriers(shipped, [one], tmp_path, workers=1)
    assert "take the larger format card" in result.failed[0][1]
