"""Where cards lie on a sheet: every back behind its front, in every format and for either flip."""

from __future__ import annotations

import itertools

import pytest

from chockbook.printing.card_formats import COMMON, FORMATS, SHEETS, format_on
from chockbook.printing.imposition import BLEED, CLEAR, Layout, boxes_of, layout_for, lines_of

WAYS = list(
    itertools.product(FORMATS, ("letter", "a4", "common"), ("long-edge", "short-edge", "fold", "one-sided"))
)
NEAR = 1e-6
SMALL = [name for name, one in FORMATS.items() if one.kind.of_sheet == "part"]
TWO_SIDED = [name for name, one in FORMATS.items() if one.kind.of_sheet != "whole"]
SIZES = {"id1": (79.6, 47.98), "a7": (74, 105), "card": (95, 128), "a6": (105, 148)}
"""Millimetres: ISO/IEC 7810 (ID-1 less its seal of film, and ID-2), our own, ISO 216."""


def layout(name: str, paper: str, duplex: str) -> Layout:
    return layout_for(format_on(name, "letter" if paper == "common" else paper), paper, duplex)


def rectangle(layout: Layout, corner: tuple[float, float]) -> tuple[float, float, float, float]:
    x, y = corner
    return x, y, x + layout.card.width, y + layout.card.height


@pytest.mark.parametrize("name", SMALL)
def test_small_formats_have_their_size(name: str) -> None:
    assert (FORMATS[name].width, FORMATS[name].height) == pytest.approx(SIZES[name])


def test_large_formats_follow_the_paper() -> None:
    sizes = {
        (n, p): (format_on(n, p).width, format_on(n, p).height)
        for n in FORMATS
        if n not in SMALL
        for p in ("letter", "a4")
    }
    assert sizes == {
        ("visor", "letter"): (139.7, 215.9), ("visor", "a4"): (148.5, 210.0),
        ("wall", "letter"): (279.4, 431.8), ("wall", "a4"): (297.0, 420.0),
    }  # fmt: skip


def test_no_type_is_too_small() -> None:
    for one in FORMATS.values():
        assert min(one.body, one.action, one.system, one.head, one.outcome) >= 10
        assert min(one.head, one.outcome) >= 12
        assert one.safe >= 3


@pytest.mark.parametrize(("name", "paper", "duplex"), WAYS)
def test_cards_lie_on_the_sheet_and_not_on_each_other(name: str, paper: str, duplex: str) -> None:
    made = layout(name, paper, duplex)
    places = [rectangle(made, cell) for cell in made.cells]
    if made.duplex == "fold":
        places += [rectangle(made, made.back_of(cell)) for cell in made.cells]
    assert places
    for left, top, right, bottom in places:
        assert left >= -NEAR
        assert top >= -NEAR
        assert right <= made.width + NEAR
        assert bottom <= made.height + NEAR
        if name in SMALL:
            # Inside what letter and A4 share, so that office printers of either reach all of it.
            assert right - left <= made.width - 2 * CLEAR
            assert min(left, made.width - right) >= CLEAR - NEAR
            assert min(top, made.height - bottom) >= CLEAR - NEAR
    for one, other in itertools.combinations(places, 2):
        apart = (
            one[2] <= other[0] + NEAR
            or other[2] <= one[0] + NEAR
            or one[3] <= other[1] + NEAR
            or other[3] <= one[1] + NEAR
        )
        assert apart


@pytest.mark.parametrize(
    ("name", "paper", "duplex"), [way for way in WAYS if way[2].endswith("edge") and way[0] in TWO_SIDED]
)
def test_every_back_is_behind_its_front(name: str, paper: str, duplex: str) -> None:
    """Worked out from how paper turns: about its long or its short edge, whichever way the sheet lies."""
    made = layout(name, paper, duplex)
    long_edge_is_upright = made.height > made.width
    about_upright_edge = long_edge_is_upright if duplex == "long-edge" else not long_edge_is_upright
    for cell in made.cells:
        left, top, right, bottom = rectangle(made, cell)
        if about_upright_edge:
            seen_from_behind = (made.width - right, top, made.width - left, bottom)
        else:
            seen_from_behind = (left, made.height - bottom, right, made.height - top)
        assert rectangle(made, made.back_of(cell)) == pytest.approx(seen_from_behind)
    # Turned like the page of a book, a card shows its back upright: the sheet did so about an upright edge,
    # otherwise the back has to stand on its head on the sheet.
    assert made.turn == (0 if about_upright_edge else 180)


@pytest.mark.parametrize("name", TWO_SIDED)
def test_a_folded_card_has_its_back_beside_its_front(name: str) -> None:
    made = layout(name, "a4", "fold")
    assert made.duplex == "fold"
    for x, y in made.cells:
        assert made.back_of((x, y)) == (x + made.card.width, y)
    folds = {line["x1"] for line in lines_of(made) if line["dash"] == "dashed"}
    assert folds == {round(x + made.card.width, 3) for x, _ in made.cells}


@pytest.mark.parametrize(("name", "paper", "duplex"), WAYS)
@pytest.mark.parametrize("back", [False, True])
def test_marks_stand_outside_the_cut_and_point_at_it(name: str, paper: str, duplex: str, back: bool) -> None:
    made = layout(name, paper, duplex)
    if back and made.duplex in ("fold", "one-sided"):
        return
    places = [rectangle(made, made.back_of(cell) if back else cell) for cell in made.cells]
    if made.duplex == "fold":
        places += [rectangle(made, made.back_of(cell)) for cell in made.cells]
    edges_x = {round(side, 2) for place in places for side in (place[0], place[2])}
    edges_y = {round(side, 2) for place in places for side in (place[1], place[3])}
    cuts = [line for line in lines_of(made, back) if line["thickness"] == 0.5]
    for line in cuts:
        if line["x1"] == line["x2"]:
            assert round(line["x1"], 2) in edges_x
        else:
            assert line["y1"] == line["y2"]
            assert round(line["y1"], 2) in edges_y
        assert min(line["x1"], line["y1"]) >= CLEAR - NEAR
        assert line["x2"] <= made.width - CLEAR + NEAR
        assert line["y2"] <= made.height - CLEAR + NEAR
        if name in SMALL:
            for left, top, right, bottom in places:
                across = line["x1"] < right and line["x2"] > left
                beside = line["y1"] < bottom and line["y2"] > top
                assert not (across and beside)
    if name in SMALL:
        assert {round(line["x1"], 2) for line in cuts if line["x1"] == line["x2"]} == edges_x


@pytest.mark.parametrize("name", list(FORMATS))
def test_a_print_shop_gets_the_cut_size_and_three_millimetres_of_bleed(name: str) -> None:
    card = format_on(name, "letter")
    made = layout_for(card, "letter", "long-edge", "press")
    trim, bleed = boxes_of(made)
    assert (trim[2] - trim[0], trim[3] - trim[1]) == pytest.approx((card.width, card.height))
    assert [abs(a - b) for a, b in zip(trim, bleed, strict=True)] == pytest.approx([BLEED] * 4)
    assert BLEED == 3
    for line in lines_of(made):
        outside = (
            line["x2"] <= bleed[0]
            or line["x1"] >= bleed[2]
            or line["y2"] <= bleed[1]
            or line["y1"] >= bleed[3]
        )
        assert outside


def test_the_common_sheet_fits_both_papers() -> None:
    assert COMMON[0] == min(SHEETS["letter"][0], SHEETS["a4"][0])
    assert COMMON[1] == min(SHEETS["letter"][1], SHEETS["a4"][1])
