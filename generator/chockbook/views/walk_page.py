"""Walk and say on the site: the whole route once, each step with the vehicles that it is for."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from ..catalogue import Catalogue
from ..catalogue.usual_units import USUAL_UNITS
from .walk import StationView, StepView, unit_to_walk_name, view_walk
from .wording import fixed_word

WHOLE = "whole-route"
WALK_WORDS = (
    "walk-done",
    "walk-erased",
    "walk-kept",
    "walk-not-kept",
    "walk-progress",
)
"""Words that the page's script places by name."""


@dataclass(frozen=True, slots=True)
class PageStep:
    """A step of the page."""

    step: StepView
    units: tuple[str, ...]
    """Keys of USUAL_UNITS, and the whole route, on whose walk it is."""
    must: tuple[str, ...]
    """Those on whose walk it is not to be missed."""


@dataclass(frozen=True, slots=True)
class PageStation:
    """A place to stand."""

    station: StationView
    steps: tuple[PageStep, ...]


@dataclass(frozen=True, slots=True)
class WalkPageView:
    """The page."""

    units: tuple[tuple[str, str], ...]
    """Key and name of each vehicle that can be chosen, the usual one first."""
    stops: bool
    """Whether a severity of the rulebook stops the vehicle."""
    stations: tuple[PageStation, ...]
    data: dict[str, Any]
    """The words of the page's script."""


def view_walk_page(catalogue: Catalogue, rulebook_id: str, language: str) -> WalkPageView:
    """Every step of the route with what is done, said and wanted, and the vehicles that it is for.

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
        MissingWording: a text has not been written in the language.
    """
    units = {**USUAL_UNITS, WHOLE: None}
    walks = {key: view_walk(catalogue, rulebook_id, language, unit, key) for key, unit in units.items()}
    on = {key: {step.id: step.must for s in walk.stations for step in s.steps} for key, walk in walks.items()}
    stations = tuple(
        PageStation(
            station,
            tuple(
                PageStep(
                    step,
                    tuple(key for key in units if step.id in on[key]),
                    tuple(key for key in units if on[key].get(step.id)),
                )
                for step in station.steps
            ),
        )
        for station in walks[WHOLE].stations
    )
    return WalkPageView(
        units=tuple((key, unit_to_walk_name(catalogue, key, language)) for key in units),
        stops=any(severity.may_drive == "no" for severity in catalogue.rulebook[rulebook_id].severities),
        stations=stations,
        data={"words": {key: fixed_word(catalogue, key, language) for key in WALK_WORDS}},
    )
