"""Walk and say: the route of a vehicle as a student practises it and an instructor marks it."""

from __future__ import annotations

import re
from dataclasses import dataclass

from ..catalogue import Catalogue, StepRecord
from .carrier_unit import MadeUp, can_have
from .cautions import CautionView, view_caution
from .checklist import view_stations
from .grouping import rulebook_named
from .step_figures import MOST_FIGURES_IN_A_ROW, figure_lines, own_figures
from .wording import fixed_word, in_language, joined

_NUMBER = re.compile(r"\d+(?:[.,/]\d+)?")


@dataclass(frozen=True, slots=True)
class StepView:
    """A step: what the hand does, what the voice says, what good looks like, and what it is worth."""

    id: str
    number: int
    """Counts on from station to station."""
    item: str
    act: str
    act_name: str
    do: str
    say: str
    good: str
    figures: tuple[str, ...]
    """The rulebook's own figures for the step, where there are few and they are new."""
    figures_confirmed: bool
    marks: int
    must: bool
    """Whether it is not to be missed: the route's table calls it a matter of life and it can turn up what stops the
    vehicle, or the table says that it keeps people from being run over. A school's choice, not a law's."""
    stops: tuple[str, ...]
    """Ids of the entries that it can turn up on the vehicle and that stop it under the rulebook."""
    caution: str | None
    caution_word: str | None


@dataclass(frozen=True, slots=True)
class StationView:
    """A place to stand, and what its steps are worth together."""

    id: str
    name: str
    stage_name: str
    begin_when: str
    marks: int
    steps: tuple[StepView, ...]


@dataclass(frozen=True, slots=True)
class WalkView:
    """The route of a vehicle under a rulebook."""

    vehicle: str
    """What it is for, in words."""
    n_steps: int
    n_must: int
    marks: int
    pass_percent: int
    pass_marks: int
    """The fewest marks that reach the share, rounded up to a whole mark."""
    cautions: tuple[CautionView, ...]
    stations: tuple[StationView, ...]


def stopping_entries(
    catalogue: Catalogue, step: StepRecord, rulebook_id: str, unit: MadeUp | None = None
) -> tuple[str, ...]:
    """Ids of the entries that a step can turn up on a unit and of which a ruling says not to drive."""
    found = (catalogue.entry[key] for key in step.finds)
    return tuple(
        entry.id
        for entry in found
        if can_have(unit, entry)
        and any(ruling.severity.may_drive == "no" for ruling in entry.rulings_under(rulebook_id))
    )


def new_figures(
    catalogue: Catalogue,
    step: StepRecord,
    rulebook_id: str,
    language: str,
    unit: MadeUp | None,
    told: set[tuple[str, str | None]],
) -> tuple[tuple[str, ...], bool]:
    """The rulebook's own figures for a step on a unit, and whether all are confirmed.

    None where they are many, where an earlier step had them, or where what is good at the step tells all their
    numbers: a figure that stands twice in a row is read as two figures. One from memory is always shown.

    Args:
        told: limits, with the axle, whose figures earlier steps have had; those of the step are added.
    """
    if not step.figure or (step.figure, step.axle) in told:
        return (), True
    told.add((step.figure, step.axle))
    own = own_figures(catalogue, step, rulebook_id, language, unit)
    if len(own) > MOST_FIGURES_IN_A_ROW:
        return (), True
    known = set(_NUMBER.findall(in_language(step.good, language)))
    shown = []
    for figure in own:
        numbers = set(_NUMBER.findall(figure.printed))
        if not (numbers and numbers <= known and figure.confirmed):
            shown.append(figure)
    return figure_lines(catalogue, step, tuple(shown), language), all(figure.confirmed for figure in shown)


def said(catalogue: Catalogue, step: StepRecord, language: str) -> str:
    """What a student says at a step: its own sentence, or "item: want."."""
    if step.say is not None:
        return in_language(step.say, language)
    return joined(catalogue, in_language(step.item, language), in_language(step.want, language), language) + "."


def pass_marks(marks: int, percent: int) -> int:
    """The fewest whole marks that are at least a share of all marks."""
    return -(-marks * percent // 100)


def view_walk(
    catalogue: Catalogue, rulebook_id: str, language: str, unit: MadeUp | None, vehicle: str
) -> WalkView:
    """The route of a unit under a rulebook, or of every vehicle where there is no unit.

    Args:
        vehicle: what the unit is called in the language.

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
        MissingWording: a text has not been written in the language.
    """
    rulebook_named(catalogue, rulebook_id)
    written = {step.id: step for station in catalogue.stations for step in station.steps}
    stations = []
    told: set[tuple[str, str | None]] = set()
    for station in view_stations(catalogue, rulebook_id, language, unit):
        steps = []
        for step in station.steps:
            record = written[step.id]
            stops = stopping_entries(catalogue, record, rulebook_id, unit)
            figures, confirmed = new_figures(catalogue, record, rulebook_id, language, unit, told)
            steps.append(
                StepView(
                    id=step.id, number=step.number, item=step.item, act=step.act, act_name=step.act_name,
                    do=step.do, say=said(catalogue, record, language), good=step.good,
                    figures=figures, figures_confirmed=confirmed, marks=catalogue.marking.marks_of(record),
                    must=bool(record.must or (record.life and stops)), stops=stops,
                    caution=step.caution, caution_word=step.caution_word,
                )
            )  # fmt: skip
        marks = sum(step.marks for step in steps)
        stations.append(StationView(station.id, station.name, station.stage_name, station.begin_when, marks, tuple(steps)))
    done = {step.id for station in stations for step in station.steps}
    met = {written[key].caution for key in done}
    total = sum(station.marks for station in stations)
    return WalkView(
        vehicle=vehicle,
        n_steps=len(done),
        n_must=sum(step.must for station in stations for step in station.steps),
        marks=total,
        pass_percent=catalogue.marking.pass_percent,
        pass_marks=pass_marks(total, catalogue.marking.pass_percent),
        cautions=tuple(view_caution(catalogue, c, language) for c in catalogue.cautions if c.id in met),
        stations=tuple(stations),
    )


def unit_to_walk_name(catalogue: Catalogue, key: str, language: str) -> str:
    """What a unit of USUAL_UNITS is called."""
    return fixed_word(catalogue, f"walk-unit-{key}", language)
