"""What a student walks and an instructor marks, against the tables: steps, order, equipment, weights, words."""

from __future__ import annotations

import re

import pytest
from route_tables import steps_for, table

from chockbook.catalogue.usual_units import USUAL_UNITS
from chockbook.views.walk import pass_marks, said, view_walk
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
    return view_walk(catalogue, rulebook, "en", USUAL_UNITS[key], key)


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


@pytest.mark.parametrize("key", ["truck", "tractor"])
def test_a_vehicle_that_draws_nothing_has_nothing_to_uncouple(shipped, key):
    """Without a trailer there are no coupled glad hands, no supply valve to push in, and nothing to pull against."""
    alone, drawn = walk_of(shipped, key), walk_of(shipped, "truck-trailer")
    parts = ("tractor-protection-", "coupling-tests-", "behind-cab-glad-hands", "air-gauges-charge-trailer")
    assert [step.id for step in steps_of(alone) if step.id.startswith(parts)] == []
    assert len([step.id for step in steps_of(drawn) if step.id.startswith(parts)]) >= 8
    spoken = " ".join(step.do for step in steps_of(alone))
    assert "glad hand" not in spoken
    for sentence in spoken.split(". "):
        assert "supply valve" not in sentence or "where fitted" in sentence, sentence


OF_LIFE = {"air-brakes", "hydraulic-brakes", "electric-brakes", "steering", "tires", "wheels-and-hubs", "coupling",
           "cargo-securement"}  # fmt: skip
"""Systems by which people die where a defect that stops the vehicle is missed: our own choice, for teaching."""
AGAINST_ROLLING = {"make-safe-chock", "air-supply-chocks", "pushrods-chocks", "moving-brakes-clear"}
"""Steps that keep people from being run over: chocks before anyone is near wheels, and nobody near before it moves."""


def not_to_be_missed(book, vehicles, equipment):
    """Ids of those steps, worked out from the tables alone."""
    [rules] = [one for one in table("rulebooks.yaml")["rulebooks"] if one["id"] == book]
    stops = {one["id"] for one in rules["severities"] if one["may_drive"] == "no"}
    items = {i["id"] for s in rules["schedules"] for part in s["parts"] for i in part["items"] if i["severity"] in stops}
    catalogue = table("catalogue.yaml")
    fitted = {one["id"]: set(one.get("fitted", [])) for one in catalogue["components"]}
    stopping = {
        defect["id"] for defect in catalogue["defects"]
        if set(defect["vehicles"]) & vehicles and fitted[defect["component"]] <= equipment
        and any(r["rulebook"] == book and r["item"] in items for r in defect["rulings"])
    }  # fmt: skip
    return {step["id"] for step in steps_for(vehicles, equipment)
            if step["id"] in AGAINST_ROLLING
            or (step.get("life") and stopping & set(step.get("finds", [])))}  # fmt: skip


@pytest.mark.parametrize("book", ["on-s1", "us-fmcsr", "qc-list-1"])
@pytest.mark.parametrize("key", UNITS)
def test_what_is_not_to_be_missed_follows_the_stated_rule_and_is_few(shipped, key, book):
    walk = walk_of(shipped, key, book)
    wanted = not_to_be_missed(book, *UNITS[key])
    assert {step.id for step in steps_of(walk) if step.must} == wanted
    assert walk.n_must == len(wanted)
    assert 0 < len(wanted) <= walk.n_steps / 5


def test_a_matter_of_life_is_about_brakes_steering_tires_wheels_coupling_or_load_and_can_stop_the_vehicle():
    catalogue = table("catalogue.yaml")
    system = {one["id"]: one["system"] for one in catalogue["components"]}
    books = {one["id"]: one for one in table("rulebooks.yaml")["rulebooks"]}
    major = {i["id"] for s in books["on-s1"]["schedules"] for part in s["parts"] for i in part["items"] if i["severity"] == "major"}
    found = {d["id"]: system[d["component"]] for d in catalogue["defects"] if any(r["item"] in major for r in d["rulings"])}
    steps = [step for station in table("route.yaml")["stations"] for step in station["steps"]]
    of_life = [step for step in steps if step.get("life")]
    assert len(of_life) < len(steps) / 5
    for step in of_life:
        assert {found[key] for key in step["finds"] if key in found} & OF_LIFE, step["id"]
        assert not step.get("must"), step["id"]
    assert {step["id"] for step in steps if step.get("must")} == AGAINST_ROLLING


# By hand: Ontario 3 mm in front and 1.5 mm behind, Quebec 1.6 and 0.8 mm, the US 4/32 and 2/32 in.
@pytest.mark.parametrize("book, front, rear", [
    ("on-s1", "3 mm (0.12 in)", "1.5 mm (0.06 in)"), ("qc-list-1", "1.6 mm", "0.8 mm"), ("us-fmcsr", "4/32 in", "2/32 in"),
])  # fmt: skip
def test_a_front_wheel_shows_no_figure_of_the_other_axles(shipped, book, front, rear):
    by = {step.id: step for step in steps_of(walk_of(shipped, "tractor-trailer", book))}
    [ahead] = by["steer-driver-tires"].figures
    [behind] = by["drive-driver-tires"].figures
    assert ahead.endswith(front)
    assert behind.endswith(rear)
    for name in ("trailer-driver-tires", "trailer-curb-tires", "drive-curb-tires", "steer-curb-tires"):
        assert by[name].figures == ()


@pytest.mark.parametrize("book", ["on-s1", "us-fmcsr", "qc-list-1"])
def test_no_figure_stands_twice_in_a_step(shipped, book):
    for step in steps_of(walk_of(shipped, "two-trailers", book)):
        for figure in step.figures:
            printed = figure.split(": ", 1)[1]
            numbers = set(re.findall(r"\d+(?:[.,/]\d+)?", printed))
            assert not numbers or not numbers <= set(re.findall(r"\d+(?:[.,/]\d+)?", step.good)), step.id


def test_where_only_a_tire_stops_only_safety_and_tires_mark_a_step(shipped):
    walk = walk_of(shipped, "tractor-trailer", "us-fmcsr")
    every = [step for station in table("route.yaml")["stations"] for step in station["steps"]]
    written = {step["id"] for step in every if step.get("must")}
    # 49 CFR 393.75(a): a flat tire is seen from a few steps away too.
    tires = {step["id"] for step in every if step["id"].endswith("-tires")} | {"make-safe-whole-vehicle"}
    assert {step.id for step in steps_of(walk) if step.must} <= written | tires
    assert {step.id for step in steps_of(walk) if step.stops} <= tires


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
