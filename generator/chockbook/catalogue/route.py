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
    finds: list[DefectId] = []
    vehicles: list[Vehicle] = []
    """Only where the step is not for every vehicle of its station."""
    fitted: list[Equipment] = []
    seconds: Annotated[int, Field(ge=1, le=900)]
    """Usual time for one vehicle, in seconds (common practice)."""
    caution: Id | None = None


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


class RouteTable(Record):
    """route.yaml: the order of a whole inspection."""

    stations: Annotated[list[StationRecord], Field(min_length=1)]
