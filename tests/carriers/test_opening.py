"""The cards that open a deck take a further card rather than run into their foot."""

from __future__ import annotations

import itertools
from pathlib import Path

import pytest
from demo_carriers import ALL_EQUIPMENT, carrier, layout_of
from print_reading import MM, letters

from chockbook.catalogue import Catalogue
from chockbook.printing import cards_for_carriers

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
