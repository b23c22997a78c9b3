"""The cards that open a deck take a further card rather than run into their foot."""

from __future__ import annotations

import itertools
from pathlib import Path

import pytest
from demo_carriers import ALL_EQUIPMENT, carrier, layout_of
from print_reading import MM, letters

from chockbook.catalogue import Catalogue
from chockbook.printing import cards_for_carriers
from chockbook.printing.card_faces import Card, Face
from chockbook.printing.card_opening import opening_cards
from chockbook.printing.overflow import CardOverflow

CONTACTS = [
    {"role": role, "name": "Someone With A Long Name", "phone": f"555-01{n:02}", "hours": "06:00-22:00, not on Sunday"}
    for n, role in enumerate(("dispatch", "maintenance", "safety", "other", "other", "other"))
]


@pytest.mark.parametrize("duplex", ["long-edge", "one-sided", "fold"])
def test_a_long_cover_takes_a_further_card(duplex: str, shipped: Catalogue, tmp_path: Path) -> None:
    unit = {"id": "u", "name": "1", "vehicles": ["tractor", "trailer"], "equipment": list(ALL_EQUIPMENT)}
    address = "https://a-much-longer-name.example/trucks/"
    one = carrier(contacts=CONTACTS, units=[unit], base_address=address, documents=[{"what": "deck", "duplex": duplex}])
    result = cards_for_carriers(shipped, [one], tmp_path, workers=1)
    assert result.failed == []
    (path,) = tmp_path.rglob("*.pdf")
    made = layout_of(one.documents[0])
    for page in letters(path)[:1]:
        for x, y in made.cells:
            wide, high = made.card.width, made.card.height
            card = [a for a in page if x <= a.left / MM < x + wide and y <= a.top / MM < y + high]
            lines = sorted({round(a.baseline, 1) for a in card})
            assert lines
            # Lines that run into each other would be nearer than the type is high.
            assert min(b - a for a, b in itertools.pairwise(lines) if b - a > 1.5) >= 9
    text = "".join(a.text for page in letters(path)[:2] for a in page)
    assert all(contact["phone"] in text for contact in CONTACTS)


def test_an_index_higher_than_a_card_goes_on_on_the_next() -> None:
    """Every system is found on the opening cards, although the index of all of them has no room on one face."""
    rows = [Face([[{"kind": "note"}]], [name]) for name in "abcdefgh"]
    cards = [Card(face, None) for face in rows]

    def index(where: dict[str, list[int]], most: int) -> list[dict]:
        names = list(where)
        return [{"kind": "title", "text": "t"},
                *({"kind": "note", "pieces": names[n : n + most], "listed": False} for n in range(0, len(names), most))]  # fmt: skip

    def measured(parts: list[dict]) -> list[dict]:
        return [{**part, "height": 5.0 * len(part.get("pieces") or part["text"])} for part in parts]

    # 20 mm: the title and two systems, or three systems without it.
    opening = opening_cards([], cards, index, measured, 20.0, "Deck", two_sided=False)
    faces = [card.front.columns[0] for card in opening]
    assert [name for parts in faces for part in parts[part_of(parts) :] for name in part["pieces"]] == list("abcdefgh")
    assert faces[0][0]["kind"] == "title"
    assert len(faces[0]) > 1, "a title stands alone at the end of a card"
    assert all(sum(part["height"] for part in parts) <= 20 for parts in faces)
    with pytest.raises(CardOverflow, match="the larger format a6"):
        opening_cards([], cards, index, measured, 9.0, "Deck", False, "a6")


def part_of(parts: list[dict]) -> int:
    """Where the index begins on a face: after its title, if that stands there."""
    return int(parts[0]["kind"] == "title")


def test_an_index_with_a_face_of_its_own_has_a_line_for_each_system() -> None:
    """Where the lines have room; where they have none, systems follow each other."""
    rows = [Face([[{"kind": "note"}]], [name]) for name in "abcd"]
    cards = [Card(face, None) for face in rows]

    def index(where: dict[str, list[int]], most: int) -> list[dict]:
        names = list(where)
        return [{"kind": "title", "text": "t"},
                *({"kind": "note", "pieces": names[n : n + most], "listed": False} for n in range(0, len(names), most))]  # fmt: skip

    def measured(parts: list[dict]) -> list[dict]:
        return [{**part, "height": 5.0 * (len(part["pieces"]) if part.get("listed") else 1)} for part in parts]

    cover = [{"kind": "note", "text": "whose it is"}]
    # Title and four lines are 25 mm high, with 2 mm above the title and 1.5 mm above the lines.
    [tall] = opening_cards(cover, cards, index, measured, 28.5, "Deck", two_sided=True)
    assert [(part["pieces"], part["listed"]) for part in tall.back.columns[0][1:]] == [(list("abcd"), True)]
    [low] = opening_cards(cover, cards, index, measured, 28.4, "Deck", two_sided=True)
    assert [part["listed"] for part in low.back.columns[0][1:]] == [False]
