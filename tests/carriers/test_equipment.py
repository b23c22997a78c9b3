"""A unit gets the defects of its vehicles and of what is fitted to them: none is missing, none is too many."""

from __future__ import annotations

from pathlib import Path

import pytest
from demo_carriers import ALL_EQUIPMENT, carrier, entries_in, said

from chockbook.catalogue import Catalogue
from chockbook.printing import CardSetting, render_cards

UNITS = {
    "tractor and trailer": (["tractor", "trailer"], ["air-brakes", "fifth-wheel", "air-suspension"]),
    "straight truck": (["truck"], ["hydraulic-brakes", "spring-suspension"]),
    "dolly alone": (["converter-dolly"], ["air-brakes", "pintle-hook", "safety-chains"]),
    "everything": (["truck", "tractor", "trailer", "converter-dolly"], list(ALL_EQUIPMENT)),
    "nothing fitted": (["tractor"], []),
}


@pytest.mark.parametrize("name", list(UNITS))
def test_a_deck_holds_what_the_unit_can_have_and_nothing_else(
    name: str, shipped: Catalogue, tmp_path: Path
) -> None:
    vehicles, equipment = UNITS[name]
    unit = carrier(units=[{"id": "u", "name": "U", "vehicles": vehicles, "equipment": equipment}]).units[0]
    made = render_cards(shipped, "on-s1", "en", tmp_path / "deck.pdf", CardSetting(), unit)
    text = said(made.path)
    spoken_of = [entry for entry in shipped.entries if entry.rulings_under("on-s1")]
    wanted = {
        entry.id for entry in spoken_of
        if any(kind in vehicles for kind in entry.vehicles) and all(part in equipment for part in entry.component.fitted)
    }  # fmt: skip
    assert wanted
    assert entries_in(text, shipped) == wanted


@pytest.mark.parametrize("part", ALL_EQUIPMENT)
def test_each_piece_of_equipment_brings_its_components(part: str, shipped: Catalogue, tmp_path: Path) -> None:
    """Taken off the unit that has everything, it takes exactly its own defects with it."""
    everything = {"id": "u", "name": "U", "vehicles": ["truck", "tractor", "trailer", "converter-dolly"]}
    without = [other for other in ALL_EQUIPMENT if other != part]
    texts = []
    for equipment in (list(ALL_EQUIPMENT), without):
        unit = carrier(units=[{**everything, "equipment": equipment}]).units[0]
        made = render_cards(shipped, "on-s1", "en", tmp_path / f"{len(equipment)}.pdf", CardSetting(), unit)
        texts.append(said(made.path))
    whole, less = (entries_in(text, shipped) for text in texts)
    assert less - whole == set()
    assert whole - less == {
        e.id for e in shipped.entries if part in e.component.fitted and e.rulings_under("on-s1")
    }
