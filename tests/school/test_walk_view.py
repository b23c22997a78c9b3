"""What a student walks and an instructor marks, against the tables: steps, order, equipment, weights, words."""

from __future__ import annotations

import pytest
from route_tables import steps_for, table

from chockbook.views.walk import UNITS_TO_WALK, pass_marks, said, view_walk
from chockbook.views.walk_page import view_walk_page

AIR = {"air-brakes", "def-system"}
TRACTOR = {*AIR, "fifth-wheel", "air-suspension", "spring-suspension", "sleeper"}
UNITS = {
    "tractor-trailer": ({"tractor", "trailer"}, {*TRACTOR, "cargo"}),
    "tractor": ({"tractor"}, TRACTOR),
    "truck": ({"truck"}, {*AIR, "spring-suspension", "cargo"}),
    "truck-hydraulic": ({"truck"}, {"hydraulic-brakes", "spring-suspension", "cargo"}),
    "two-trailers": ({"tractor", "trailer", "converter-dolly"}, {*TRACTOR, "cargo", "pintle-hook", "safety-chains"}),
}


def steps_of(walk):
    return [step for station in walk.stations for step in station.steps]


def walk_of(catalogue, key, rulebook="on-s1"):
    return view_walk(catalogue, rulebook, "en", UNITS_TO_WALK[key], key)


@pytest.mark.parametrize("key", UNITS)
def test_a_vehicle_has_its_steps_in_route_order_and_no_other(shipped, key):
    walk = walk_of(shipped, key)
    assert [step.id for step in steps_of(walk)] == [step["id"] for step in steps_for(*UNITS[key])]
    assert [step.number for step in steps_of(walk)] == list(range(1, walk.n_steps + 1))


@pytest.mark.parametrize("key", UNITS)
def test_marks_are_the_weights_of_the_table(shipped, key):
    marking = {name: int(value) for name, value in table("route.yaml")["marking"].items()}
    weights = {step["id"]: int(step.get("weight") or marking[step["act"]]) for step in steps_for(*UNITS[key])}
    walk = walk_of(shipped, key)
    assert {step.id: step.marks for step in steps_of(walk)} == weights
    assert walk.marks == sum(weights.values()) == sum(station.marks for station in walk.stations)


def test_equipment_lets_steps_in_and_keeps_them_out(shipped):
    route = [(station, step) for station in table("route.yaml")["stations"] for step in station["steps"]]
    needs = {step["id"]: {*station.get("fitted", []), *step.get("fitted", [])} for station, step in route}
    for_air = {name for name, kit in needs.items() if "air-brakes" in kit}
    for_hydraulic = {name for name, kit in needs.items() if "hydraulic-brakes" in kit}
    assert len(for_air) > 20
    assert for_hydraulic
    air = {step.id for step in steps_of(walk_of(shipped, "truck"))}
    hydraulic = {step.id for step in steps_of(walk_of(shipped, "truck-hydraulic"))}
    assert air & for_air
    assert hydraulic & for_hydraulic
    assert not air & for_hydraulic
    assert not hydraulic & for_air
    chained = {name for name, kit in needs.items() if "safety-chains" in kit or "pintle-hook" in kit}
    assert chained & {step.id for step in steps_of(walk_of(shipped, "two-trailers"))}
    assert not chained & {step.id for step in steps_of(walk_of(shipped, "tractor-trailer"))}


def test_a_step_is_not_to_be_missed_where_it_can_find_a_major_defect(shipped):
    books = {one["id"]: one for one in table("rulebooks.yaml")["rulebooks"]}
    items = {i["id"]: i["severity"] for s in books["on-s1"]["schedules"] for part in s["parts"] for i in part["items"]}
    vehicles, equipment = UNITS["tractor-trailer"]
    catalogue = table("catalogue.yaml")
    fitted = {one["id"]: set(one.get("fitted", [])) for one in catalogue["components"]}
    major = {
        defect["id"] for defect in catalogue["defects"]
        if set(defect["vehicles"]) & vehicles and fitted[defect["component"]] <= equipment
        and any(r["rulebook"] == "on-s1" and items[r["item"]] == "major" for r in defect["rulings"])
    }  # fmt: skip
    walk = walk_of(shipped, "tractor-trailer")
    wanted = {step["id"] for step in steps_for(vehicles, equipment)
              if step.get("must") is True or major & set(step.get("finds", []))}  # fmt: skip
    assert {step.id for step in steps_of(walk) if step.must} == wanted
    assert walk.n_must == len(wanted)
    assert 0 < len(wanted) < walk.n_steps


def test_where_nothing_stops_by_itself_only_safety_marks_a_step(shipped):
    walk = walk_of(shipped, "tractor-trailer", "us-fmcsr")
    every = [step for station in table("route.yaml")["stations"] for step in station["steps"]]
    written = {step["id"] for step in every if step.get("must")}
    assert {step.id for step in steps_of(walk) if step.must} <= written
    assert not any(step.stops for step in steps_of(walk))


@pytest.mark.parametrize("marks, percent, least", [(264, 80, 212), (10, 80, 8), (11, 80, 9), (7, 100, 7), (3, 1, 1)])
def test_the_pass_mark_is_rounded_up(marks, percent, least):
    assert pass_marks(marks, percent) == least


def test_a_step_without_a_sentence_says_item_and_want(shipped):
    [step] = [s for station in shipped.stations for s in station.steps if s.id == "steer-driver-brake"]
    if step.say is None:
        assert said(shipped, step, "en") == "Brake parts and hoses: joined, whole, dry, silent."
    bare = step.model_copy(update={"say": None})
    assert said(shipped, bare, "en") == "Brake parts and hoses: joined, whole, dry, silent."
    assert said(shipped, bare, "fr") == "Pièces et flexibles de frein\N{NO-BREAK SPACE}: reliés, entiers, secs, silencieux."


def test_the_page_names_for_each_step_the_vehicles_that_it_is_for(shipped):
    page = view_walk_page(shipped, "on-s1", "en")
    on = {one.step.id: set(one.units) for place in page.stations for one in place.steps}
    for key, unit in UNITS.items():
        assert {name for name, units in on.items() if key in units} == {step["id"] for step in steps_for(*unit)}
    every = [step["id"] for station in table("route.yaml")["stations"] for step in station["steps"]]
    assert list(on) == every
    assert all("whole-route" in units for units in on.values())
    for place in page.stations:
        for one in place.steps:
            assert set(one.must) <= set(one.units)
