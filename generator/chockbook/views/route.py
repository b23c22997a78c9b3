"""The route of a whole inspection: stations in walking order, steps, and what each can turn up."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby

from ..catalogue import Catalogue
from .cautions import CautionView, view_caution
from .entry import LimitView, view_entry, view_limit
from .grouping import EntryRow
from .wording import fixed_word, in_language


@dataclass(frozen=True, slots=True)
class StepView:
    """One act: what to do, what good looks like, the figure, and the entries it can turn up."""

    id: str
    number: int
    """Place in the whole route, from 1."""
    act: str
    act_name: str
    do: str
    good: str
    limit: LimitView | None
    vehicle_names: tuple[str, ...]
    """Only where the step is not for every vehicle of its station."""
    fitted_names: tuple[str, ...]
    seconds: int
    caution: CautionView | None
    rows: tuple[EntryRow, ...]


@dataclass(frozen=True, slots=True)
class StationView:
    """A place to stand, with what tells the driver to go there and its usual time."""

    id: str
    number: int
    name: str
    stage: str
    stage_name: str
    begin_when: str
    vehicle_names: tuple[str, ...]
    fitted_names: tuple[str, ...]
    seconds: int
    minutes: int
    """The usual time in whole minutes, rounded up."""
    steps: tuple[StepView, ...]
    next_id: str | None
    next_name: str | None
    """The station after this one; None at the end."""


@dataclass(frozen=True, slots=True)
class StageView:
    """Stations of one stage that follow each other."""

    name: str
    anchor: str
    stations: tuple[StationView, ...]


@dataclass(frozen=True, slots=True)
class RouteView:
    """The whole route."""

    n_steps: int
    minutes: int
    stations: tuple[StationView, ...]
    stages: tuple[StageView, ...]
    """The same stations, gathered by stage in walking order."""


def whole_minutes(seconds: int) -> int:
    """Whole minutes that hold a number of seconds."""
    return -(-seconds // 60)


def view_route(catalogue: Catalogue, rulebook_id: str, language: str) -> RouteView:
    """The route, its steps linked to the entries that a rulebook speaks of.

    Raises:
        MissingWording: a text has not been written in the language.
    """

    def rows(entry_ids: list[str]) -> tuple[EntryRow, ...]:
        found = [catalogue.entry[entry_id] for entry_id in entry_ids]
        seen = [
            view_entry(catalogue, e, rulebook_id, language) for e in found if e.rulings_under(rulebook_id)
        ]
        return tuple(EntryRow(entry, entry.governing) for entry in seen)

    def names(prefix: str, keys: list[str]) -> tuple[str, ...]:
        return tuple(fixed_word(catalogue, f"{prefix}-{key}", language) for key in keys)

    stations = []
    n_steps = 0
    for place, station in enumerate(catalogue.stations, start=1):
        following = catalogue.stations[place] if place < len(catalogue.stations) else None
        steps = []
        for step in station.steps:
            n_steps += 1
            steps.append(
                StepView(
                    id=step.id,
                    number=n_steps,
                    act=step.act,
                    act_name=fixed_word(catalogue, f"act-{step.act}", language),
                    do=in_language(step.do, language),
                    good=in_language(step.good, language),
                    limit=view_limit(catalogue, catalogue.limit[step.figure], language)
                    if step.figure
                    else None,
                    vehicle_names=names("vehicle", step.vehicles),
                    fitted_names=names("fitted", step.fitted),
                    seconds=step.seconds,
                    caution=(
                        view_caution(catalogue, catalogue.caution[step.caution], language)
                        if step.caution
                        else None
                    ),
                    rows=rows(step.finds),
                )
            )
        seconds = sum(step.seconds for step in station.steps)
        stations.append(
            StationView(
                id=station.id,
                number=place,
                name=in_language(station.name, language),
                stage=station.stage,
                stage_name=fixed_word(catalogue, f"stage-{station.stage}", language),
                begin_when=in_language(station.begin_when, language),
                vehicle_names=names("vehicle", station.vehicles),
                fitted_names=names("fitted", station.fitted),
                seconds=seconds,
                minutes=whole_minutes(seconds),
                steps=tuple(steps),
                next_id=following.id if following else None,
                next_name=in_language(following.name, language) if following else None,
            )
        )
    total = sum(station.seconds for station in stations)
    stages = []
    for _, group in groupby(stations, key=lambda station: station.stage):
        here = tuple(group)
        stages.append(StageView(here[0].stage_name, f"from-{here[0].id}", here))
    return RouteView(n_steps, whole_minutes(total), tuple(stations), tuple(stages))
