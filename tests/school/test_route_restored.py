"""The route leaves the vehicle safe: what a step lets off, pulls out or starts is set back before it is needed.

The hand's sentences of the table are followed one by one, in English, for a tractor with a trailer and for a truck
with hydraulic brakes. What each sentence does to a control is common practice.
"""

from __future__ import annotations

import re

import pytest
from route_tables import steps_for

TRACTOR_TRAILER = ({"tractor", "trailer"}, {"air-brakes", "def-system", "fifth-wheel", "air-suspension", "spring-suspension",
                                            "sleeper", "cargo"})  # fmt: skip
HYDRAULIC = ({"truck"}, {"hydraulic-brakes", "spring-suspension", "cargo"})
ELECTRIC = ({"truck", "trailer"}, {"hydraulic-brakes", "electric-brakes", "spring-suspension", "cargo", "safety-chains",
                                 "ball-hitch"})

DOES = [
    (r"pull out the parking control", {"parking": "set", "supply": "out"}),
    (r"set (the parking brakes?|it again)|set the parking", {"parking": "set", "supply": "out"}),
    (r"let off the parking brake|push in the parking control", {"parking": "off"}),
    (r"pull out the trailer supply valve|supply valve out", {"supply": "out"}),
    (r"push in (the parking control and )?(the )?trailer supply valve|push in the parking control and the trailer supply"
     r"|push the (trailer supply )?valve in again", {"supply": "in"}),
    (r"parking control in\b", {"parking": "off"}),
    (r"watch the trailer supply valve", {"supply": "out"}),
    (r"watch the parking control", {"parking": "set"}),
    (r"as you start the engine|start the engine", {"engine": "running"}),
    (r"stop the engine", {"engine": "stopped"}),
    (r"(pull|drive|press the brake pedal at) .*(ahead|slowly|walking speed)", {"engine": "running", "parking": "off"}),
    (r"tug gently", {"parking": "off"}),
    (r"pull ahead gently", {"parking": "off"}),
    (r"select reverse|try first gear", {"gear": "in"}),
    (r"back to neutral|go to neutral|transmission in neutral", {"gear": "neutral"}),
    (r"part both glad hands", {"lines": "parted"}),
    (r"couple both glad hands", {"lines": "coupled"}),
    (r"pull the breakaway pin", {"pin": "out"}),
    (r"put the breakaway pin back", {"pin": "home"}),
    (r"fully (left|right)", {"wheels": "turned"}),
    (r"turn it straight", {"wheels": "straight"}),
]  # fmt: skip
"""What a sentence does to a control, later lines and later sentences after earlier ones."""


def states(unit):
    """State of every control before each step, and after the last one."""
    state = {"lines": "coupled", "pin": "home", "wheels": "straight", "gear": "neutral", "engine": "stopped"}
    before = {}
    for step in steps_for(*unit):
        before[step["id"]] = dict(state)
        for sentence in re.split(r"(?<=[.])\s+", step["do"]["en"].lower()):
            for pattern, does in DOES:
                if re.search(pattern, sentence):
                    state |= does
    return before, state


@pytest.mark.parametrize("unit", [TRACTOR_TRAILER, HYDRAULIC, ELECTRIC], ids=["tractor-trailer", "hydraulic", "electric"])
def test_the_driver_leaves_a_parked_vehicle_with_its_engine_stopped(unit):
    before, end = states(unit)
    for state in (before["front-low-beams"], before["finish-compare"], end):
        assert (state["parking"], state["engine"], state["gear"]) == ("set", "stopped", "neutral")
        assert (state["lines"], state["pin"], state["wheels"]) == ("coupled", "home", "straight")


def test_the_trailer_has_air_while_its_lines_are_listened_to():
    before, _ = states(TRACTOR_TRAILER)
    for step in ("front-low-beams", "behind-cab-glad-hands", "body-driver-air-tanks"):
        assert before[step]["supply"] == "in", step


def test_each_test_of_the_air_brakes_begins_as_it_says():
    before, _ = states(TRACTOR_TRAILER)
    assert before["air-loss-one-minute"]["supply"] == "in"
    assert before["air-loss-one-minute"]["engine"] == "stopped"
    assert before["tractor-protection-uncouple"] | {"parking": "set", "engine": "stopped"} == before["tractor-protection-uncouple"]
    assert before["pushrods-release"]["lines"] == "coupled"
    assert before["moving-brakes-trailer-service"]["supply"] == "in", "the trailer cannot roll with its supply valve out"


def test_nobody_goes_near_the_coupling_or_the_plug_while_the_parking_brake_is_off():
    before, _ = states(TRACTOR_TRAILER)
    assert before["coupling-tests-fifth-wheel-play"]["parking"] == "set"
    before, _ = states(ELECTRIC)
    assert before["electric-tests-pin-back"]["parking"] == "set"
