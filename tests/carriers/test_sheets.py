"""Finished decks of every format, read back as letters and as pictures."""

from __future__ import annotations

import itertools
import os
from pathlib import Path

import pikepdf
import pypdfium2
import pytest
from demo_carriers import ALL_EQUIPMENT, carrier, layout_of, outside_safe_area
from free_carriers import carriers, faults_of
from hypothesis import HealthCheck, given, settings
from PIL import Image, ImageOps
from print_reading import letters
from sheet_reading import picture, untagged

from chockbook.catalogue import Catalogue
from chockbook.catalogue.carrier import CarrierRecord
from chockbook.printing import cards_for_carriers
from chockbook.printing.card_formats import FORMATS

DOTS_PER_MM = 200 / 25.4
EXAMPLES = int(os.environ.get("CHOCKBOOK_EXAMPLES", "20"))
"""Random carriers; a release is tested with CHOCKBOOK_EXAMPLES=200."""


def make(catalogue: Catalogue, one: CarrierRecord, folder: Path) -> list[Path]:
    result = cards_for_carriers(catalogue, [one], folder, workers=1)
    assert result.failed == []
    return sorted((folder / one.id).rglob("*.pdf"))


def ink(image: Image.Image, left: float, top: float, right: float, bottom: float) -> bool:
    """Whether an area holds anything dark; millimetres."""
    area = image.crop(tuple(round(side * DOTS_PER_MM) for side in (left, top, right, bottom)))
    return area.getextrema()[0] < 128


@pytest.mark.parametrize("name", list(FORMATS))
@pytest.mark.parametrize(
    ("rulebook", "language"), [("on-s1", "en"), ("on-s1", "fr"), ("us-fmcsr", "en"), ("qc-list-1", "en"), ("qc-list-1", "fr")]
)
def test_no_text_is_clipped_or_small_in_any_format(
    name: str, rulebook: str, language: str, shipped: Catalogue, tmp_path: Path
) -> None:
    unit = {"id": "u", "name": "1", "vehicles": ["tractor", "trailer"], "equipment": list(ALL_EQUIPMENT)}
    one = carrier(
        rulebooks=[rulebook], languages=[language], units=[unit], documents=[{"what": "deck", "format": name}]
    )
    if name == "a7" and rulebook == "us-fmcsr":
        # Seven long steps fill more than the smallest card: said, and nothing is shrunk.
        result = cards_for_carriers(shipped, [one], tmp_path, workers=1)
        assert "does not fit on a card" in result.failed[0][1]
        return
    (path,) = make(shipped, one, tmp_path)
    assert list(outside_safe_area(path, layout_of(one.documents[0]))) == []
    assert min(letter.size for page in letters(path) for letter in page) >= 9.99
    assert untagged(path) == []


@pytest.mark.parametrize(
    ("name", "duplex"),
    list(itertools.product((name for name, one in FORMATS.items() if one.kind.of_sheet != "whole"), ("long-edge", "short-edge"))),
)
def test_through_the_sheet_each_back_lies_behind_its_front(
    name: str, duplex: str, shipped: Catalogue, tmp_path: Path
) -> None:
    """The back's picture is turned over as the printer turns the paper, and laid over the front's."""
    one = carrier(documents=[{"what": "deck", "format": name, "duplex": duplex}])
    (path,) = make(shipped, one, tmp_path)
    made = layout_of(one.documents[0])
    pages = len(pypdfium2.PdfDocument(path))
    assert pages % 2 == 0
    lonely = 0
    for page in (0, pages - 2):
        front, back = picture(path, page), picture(path, page + 1)
        upright = front.height > front.width
        through = ImageOps.mirror(back) if upright == (duplex == "long-edge") else ImageOps.flip(back)
        for x, y in made.cells:
            rectangle = x + 3, y + 3, x + made.card.width - 3, y + made.card.height - 3
            assert ink(front, *rectangle) == ink(through, *rectangle)
            lonely += not ink(front, *rectangle)
            if ink(front, *rectangle):
                # Two millimetres of play in the printer move nothing over the cut.
                for side in (front, through):
                    for strip in (
                        (x + 0.5, y + 0.5, x + 2.5, y + made.card.height - 0.5),
                        (
                            x + made.card.width - 2.5,
                            y + 8,
                            x + made.card.width - 0.5,
                            y + made.card.height - 0.5,
                        ),
                    ):
                        assert not ink(side, *strip) or made.card.kind.of_sheet == "half"
    if name == "card":
        assert lonely >= 1, "the last sheet is full, so that a swap would not show"


def test_both_sides_of_a_card_carry_the_same_number(shipped: Catalogue, tmp_path: Path) -> None:
    one = carrier()
    (path,) = make(shipped, one, tmp_path)
    made = layout_of(one.documents[0])
    found: list[list[str]] = []
    for number, page in enumerate(letters(path)):
        texts = []
        for cell in made.cells:
            x, y = (side * 72 / 25.4 for side in (made.back_of(cell) if number % 2 else cell))
            wide, high = made.card.width * 72 / 25.4, made.card.height * 72 / 25.4
            text = "".join(a.text for a in page if x <= a.left < x + wide and y <= a.top < y + high)
            texts.append(text.split("Card", 1)[1].split("of", 1)[0] if text else "")
        found.append(texts)
    assert found[0::2] == found[1::2]
    assert [n for texts in found[0::2] for n in texts if n] == [
        str(n + 1) for n in range(sum(map(bool, itertools.chain.from_iterable(found[0::2]))))
    ]


def test_black_only_uses_no_colour_and_loses_no_text(shipped: Catalogue, tmp_path: Path) -> None:
    texts = []
    for colour in ("colour", "mono"):
        (path,) = make(
            shipped, carrier(id=f"c-{colour}", documents=[{"what": "deck", "ink": colour}]), tmp_path
        )
        shown = pypdfium2.PdfDocument(path)[0].render(scale=1).to_pil().convert("HSV")
        coloured = shown.getchannel("S").getextrema()[1]
        assert (coloured > 100) == (colour == "colour")
        texts.append("".join(a.text for page in letters(path) for a in page).replace(f"c-{colour}", ""))
    assert texts[0] == texts[1]


def test_a_print_shops_pages_have_boxes_and_no_ink_beyond_the_bleed(
    shipped: Catalogue, tmp_path: Path
) -> None:
    (path,) = make(shipped, carrier(documents=[{"what": "deck", "format": "a6", "marks": "press"}]), tmp_path)
    with pikepdf.open(path) as pdf:
        for page in pdf.pages:
            trim, bleed = ([float(side) * 25.4 / 72 for side in box] for box in (page.TrimBox, page.BleedBox))
            assert (trim[2] - trim[0], trim[3] - trim[1]) == pytest.approx((105, 148), abs=0.01)
            assert [b - t for b, t in zip(bleed, trim, strict=True)] == pytest.approx(
                [-3, -3, 3, 3], abs=0.01
            )


@settings(
    max_examples=EXAMPLES,
    deadline=None,
    derandomize=True,  # the same carriers every time: a new failure is a change of ours
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
@given(one=carriers())
def test_whatever_a_carrier_asks_for_is_whole(one: CarrierRecord, shipped: Catalogue, tmp_path: Path) -> None:
    """No text is clipped, overprinted, small or lost; every code can be read; the tags are there."""
    assert list(faults_of(shipped, one, tmp_path)) == []


def test_a_name_of_tall_letters_at_the_foot_keeps_clear_of_the_line_above_it(shipped: Catalogue, tmp_path: Path) -> None:
    """A capital with an accent under a letter with a tail is the closest that two lines come."""
    unit = {"id": "u1", "name": "ÉQ-" * 19, "vehicles": ["truck"], "equipment": ["air-brakes"]}
    one = carrier(units=[unit], documents=[{"what": "checklist"}])
    assert list(faults_of(shipped, one, tmp_path)) == []
