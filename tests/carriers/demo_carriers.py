"""Carriers for tests, and what can be read back from their decks."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from functools import cache
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "print"))

from print_reading import MM, letters, squash

from chockbook.catalogue import Catalogue
from chockbook.catalogue.carrier import CarrierRecord
from chockbook.printing.card_formats import format_on
from chockbook.printing.imposition import Layout, layout_for

ALL_EQUIPMENT = (
    "air-brakes", "hydraulic-brakes", "electric-brakes", "def-system", "fifth-wheel", "pintle-hook", "air-suspension",
    "spring-suspension", "sleeper", "hood-mirrors", "reefer", "tarp", "dangerous-goods", "safety-chains",
    "hub-oil-sight-glass", "tether-belts", "cargo", "manual-transmission", "ball-hitch", "saddle-mount", "tank",
)  # fmt: skip


def carrier(**changes: object) -> CarrierRecord:
    """A carrier with one unit and one deck, or with something else where a change says so."""
    plain = {
        "id": "plain-haulage",
        "name": "Plain Haulage",
        "contacts": [{"role": "dispatch", "phone": "555-0111", "hours": "day and night"}],
        "languages": ["en"],
        "rulebooks": ["on-s1"],
        "base_address": "https://plain.example/",
        "units": [{"id": "u1", "name": "1", "vehicles": ["tractor", "trailer"], "equipment": ["air-brakes"]}],
        "documents": [{"what": "deck"}],
    }
    return CarrierRecord.model_validate({**plain, **changes})


def layout_of(document) -> Layout:
    """How a deck's document lies on its sheets."""
    card = format_on(document.format, document.paper)
    return layout_for(card, document.paper, document.duplex, document.marks)


def said(path: Path) -> str:
    """All text of a PDF, squashed."""
    return "".join(squash("".join(letter.text for letter in page)) for page in letters(path))


@cache
def _headings(edition: str, texts: tuple[tuple[str, str], ...]) -> list[tuple[str, str, list[str]]]:
    """Id and squashed heading of each entry, and the longer headings that begin alike."""
    plain = [(entry_id, squash(text)) for entry_id, text in texts]
    return [
        (entry_id, own, [other for _, other in plain if other != own and other.startswith(own)])
        for entry_id, own in plain
    ]


def entries_in(text: str, catalogue: Catalogue) -> set[str]:
    """Ids of the entries that a squashed text says."""
    texts = tuple((e.id, f"{e.component.name['en']}: {e.condition['en']}") for e in catalogue.entries)
    return {
        entry_id for entry_id, own, longer in _headings(catalogue.edition.code, texts)
        if text.count(own) > sum(text.count(other) for other in longer)
    }  # fmt: skip


def outside_safe_area(path: Path, layout: Layout) -> Iterator[str]:
    """Letters that stand on a card and within its safety margin, or that a cut goes through."""
    wide, high = layout.card.width, layout.card.height
    for number, page in enumerate(letters(path), 1):
        back = layout.duplex not in ("fold", "one-sided") and number % 2 == 0
        places = [layout.back_of(cell) if back else cell for cell in layout.cells]
        if layout.duplex == "fold":
            places += [layout.back_of(cell) for cell in layout.cells]
        for letter in page:
            # A letter such as j reaches a little to the left of where its line begins.
            safe = layout.card.safe - max(0.15, 0.08 * letter.size / MM)
            box = letter.left / MM, letter.top / MM, letter.right / MM, letter.bottom / MM
            for x, y in places:
                touches = box[0] < x + wide and box[2] > x and box[1] < y + high and box[3] > y
                inside = (
                    box[0] >= x + safe
                    and box[2] <= x + wide - safe
                    and box[1] >= y + safe
                    and box[3] <= y + high - safe
                )
                if touches and not inside:
                    yield f"page {number}: {letter.text!r} at {box}"
