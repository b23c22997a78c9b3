"""A unit gets the defects of its vehicles and of what is fitted to them: none is missing, none is too many."""

from __future__ import annotations

from pathlib import Path

import pytest
from demo_carriers import ALL_EQUIPMENT, carrier, entries_in, said

from chockbook.catalogue import Catalogue
from chockbook.catalogue.carrier import UnitRecord
from chockbook.printing import CardSetting, render_cards
from chockbook.views.card_deck import view_deck
from chockbook.views.checklist import view_stations

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


def unit_with(equipment: list[str]) -> UnitRecord:
    """A unit with every kind of vehicle, and some of what can be fitted."""
    vehicles = ["truck", "tractor", "trailer", "converter-dolly"]
    return carrier(units=[{"id": "u", "name": "U", "vehicles": vehicles, "equipment": equipment}]).units[0]


def dealt(catalogue: Catalogue, rulebook: str, equipment: list[str]) -> set[str]:
    """Ids of the entries that a unit's deck is made of."""
    deck = view_deck(catalogue, rulebook, "en", unit_with(equipment))
    return {entry.entry_id for lane in deck.lanes for system in lane.systems for item in system.items
            for entry in item.entries}  # fmt: skip


@pytest.mark.parametrize("rulebook", ["on-s1", "us-fmcsr", "qc-list-1"])
@pytest.mark.parametrize("part", ALL_EQUIPMENT)
def test_under_every_rulebook_a_piece_of_equipment_takes_its_own_defects_with_it(
    part: str, rulebook: str, shipped: Catalogue
) -> None:
    spoken_of = {e.id: e for e in shipped.entries if e.rulings_under(rulebook)}
    whole = dealt(shipped, rulebook, list(ALL_EQUIPMENT))
    less = dealt(shipped, rulebook, [other for other in ALL_EQUIPMENT if other != part])
    assert whole == set(spoken_of)
    assert whole - less == {key for key, entry in spoken_of.items() if part in entry.component.fitted}
    # The other way: what is fitted alone brings what hangs on it alone, and nothing of other equipment.
    assert dealt(shipped, rulebook, [part]) - dealt(shipped, rulebook, []) == {
        key for key, entry in spoken_of.items() if list(entry.component.fitted) == [part]
    }


def steps_of(catalogue: Catalogue, equipment: list[str]) -> set[str]:
    """Ids of the steps on a unit's checklist."""
    stations = view_stations(catalogue, "on-s1", "en", unit_with(equipment))
    return {step.id for station in stations for step in station.steps}


@pytest.mark.parametrize("part", ALL_EQUIPMENT)
def test_a_piece_of_equipment_takes_its_own_steps_off_the_checklist(part: str, shipped: Catalogue) -> None:
    """A step goes where it or its station is for that equipment, or where all that it can find hangs on it."""
    steps = {step.id: (station, step) for station in shipped.stations for step in station.steps}
    hang_on_it = {
        key for key, (station, step) in steps.items()
        if part in {*station.fitted, *step.fitted}
        or (step.finds and all(part in shipped.entry[found].component.fitted for found in step.finds))
    }  # fmt: skip
    whole = steps_of(shipped, list(ALL_EQUIPMENT))
    assert whole == set(steps)
    assert whole - steps_of(shipped, [other for other in ALL_EQUIPMENT if other != part]) == hang_on_it


def test_only_units_that_are_made_up_alike_have_checklists_of_one_name() -> None:
    one, other = unit_with(["air-brakes"]), unit_with(["hydraulic-brakes"])
    assert one.make_up == unit_with(["air-brakes"]).make_up != other.make_up
    assert len({unit_with([part]).make_up for part in ALL_EQUIPMENT}) == len(ALL_EQUIPMENT)
