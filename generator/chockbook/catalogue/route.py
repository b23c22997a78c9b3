"""route.yaml: the order of a whole inspection, station by station."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from .record import DefectId, Equipment, Id, Record, Text, Vehicle


class StepRecord(Record):
    """One act of the inspection: what to do, what good looks like, what it can turn up."""

    id: Id
    act: Literal["look", "touch", "work", "listen", "measure"]
    item: Text
    """What is looked at, in a few words, as a checklist names it."""
    want: Text
    """The state or value wanted, in a few words, as a checklist answers it."""
    do: Text
    good: Text
    figure: Id | None = None
    """A limit whose figures belong beside the step."""
    axle: Literal["front", "rear"] | None = None
    """Whose figures of the limit these are, where it has some for front wheels and some for the others."""
    finds: list[DefectId] = []
    vehicles: list[Vehicle] = []
    """Only where the step is not for every vehicle of its station."""
    fitted: list[Equipment] = []
    towing: bool | None = None
    """True: only where the unit draws a trailer or a dolly; a truck by itself has no glad hands to listen at."""
    seconds: Annotated[int, Field(ge=1, le=900)]
    """Usual time for one vehicle, in seconds (common practice)."""
    caution: Id | None = None
    say: Text | None = None
    """What a student says aloud; where it is left out, item and want with a colon between."""
    weight: Annotated[int, Field(ge=1, le=5)] | None = None
    """Marks on the score sheet; where it is left out, those of its act."""
    life: bool | None = None
    """True: a miss is a matter of life, as it is about brakes, steering, tires, wheels, coupling or load (our own
    teaching choice). Not to be missed under a rulebook by which the step can turn up what stops the vehicle."""
    must: bool | None = None
    """True: not to be missed under any rulebook, as it keeps people from being run over (our own teaching choice)."""


class StationRecord(Record):
    """A place to stand, with fewer than ten steps done there."""

    id: Id
    name: Text
    stage: Literal["make-safe", "in-cab", "walk-round", "air-brake-tests", "finish"]
    begin_when: Text
    """What tells the driver that it is time for this station."""
    vehicles: Annotated[list[Vehicle], Field(min_length=1)]
    fitted: list[Equipment] = []
    steps: Annotated[list[StepRecord], Field(min_length=1, max_length=9)]


Marks = Annotated[int, Field(ge=1, le=5)]


class MarkingRecord(Record):
    """How an instructor marks the route: a school's own figures, not those of a law (common practice)."""

    pass_percent: Annotated[int, Field(ge=1, le=100)] = 80
    """Of all marks, rounded up to a whole mark; besides, no step is missed that is not to be missed."""
    look: Marks = 1
    listen: Marks = 1
    touch: Marks = 2
    """Two where the hand works: one for the hand, one for the words."""
    work: Marks = 2
    measure: Marks = 2

    def marks_of(self, step: StepRecord) -> int:
        """Marks of a step: its own weight, or those of its act."""
        return step.weight or getattr(self, step.act)


class RouteTable(Record):
    """route.yaml: the order of a whole inspection."""

    marking: MarkingRecord = MarkingRecord()
    stations: Annotated[list[StationRecord], Field(min_length=1)]
