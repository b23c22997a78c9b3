"""What a checklist consists of, as plain data: sides, stages, stations and steps, and what the report holds."""

from __future__ import annotations

from dataclasses import dataclass

from .cautions import CautionView


@dataclass(frozen=True, slots=True)
class StepView:
    """A step: what to do, what good looks like, the figure beside it, and where it applies."""

    id: str
    number: int
    """Counts on from station to station, so that a driver who was called away finds the row again."""
    act: str
    act_name: str
    item: str
    """What is looked at, in a few words; with `want` it makes a row of the checklist."""
    want: str
    """The state or value wanted, in a few words."""
    do: str
    good: str
    figures: tuple[str, ...]
    """The rulebook's own figures for the step as printed, each with its label where there are several."""
    new_figures: bool
    """Whether they are new: tires come six times, and their figures need not."""
    figures_confirmed: bool
    limit_id: str | None
    only: str | None
    """For which vehicles or equipment the row is; empty where it is for all of the station, or for one unit."""
    caution: str | None
    """The hazard and how to avoid it, before the first step of the station that has it."""
    caution_word: str | None
    boxes: int
    """Boxes to tick: one, or one for each trailer and dolly."""
    finds: tuple[str, ...]
    """Ids of the entries that the step can turn up and of which the rulebook speaks."""


@dataclass(frozen=True, slots=True)
class StationView:
    """A place to stand."""

    id: str
    name: str
    stage: str
    stage_name: str
    begin_when: str
    time: str
    """Usual time for its steps together, in words."""
    short_time: str
    """The same with the units cut short."""
    seconds: int
    only: str | None
    boxes: int
    """Most boxes that a step of it has."""
    steps: tuple[StepView, ...]


@dataclass(frozen=True, slots=True)
class StageView:
    """Stations that follow one another and belong together, such as all in the cab."""

    name: str
    time: str
    stations: tuple[StationView, ...]


@dataclass(frozen=True, slots=True)
class SideView:
    """What goes on a side of paper, or begins one."""

    cautions: tuple[CautionView, ...]
    """The hazards of its steps, each once."""
    stages: tuple[StageView, ...]


@dataclass(frozen=True, slots=True)
class ReportFieldView:
    """A thing that the report holds under the rulebook."""

    id: str
    name: str
    confirmed: bool


@dataclass(frozen=True, slots=True)
class ChecklistView:
    """The checklist."""

    rulebook_short_name: str
    vehicles: str
    """What it is for, such as "Tractor, trailer"."""
    equipment: str
    n_steps: int
    time: str
    sides: tuple[SideView, ...]
    report: tuple[ReportFieldView, ...]
