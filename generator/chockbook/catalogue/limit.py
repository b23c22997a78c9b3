"""limits.yaml: the figures that decide a defect."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from .record import DefectId, Figure, Id, Line, Record, Standing, Text


class OnCard(Record):
    """Whose pocket cards carry a figure, and what it is told apart by there."""

    entries: Annotated[list[DefectId], Field(min_length=1)]
    """Ids of the defects."""
    place: Text | None = None
    """Where the figure holds, in a word or two: "steering axle". Needed where a defect has several of one rulebook."""


class LimitRow(Standing):
    """One figure of a limit, with the conditions under which it holds."""

    when: dict[Id, Line] = {}
    """Conditions by name, such as {chamber: "30", stroke: standard}; empty where there are none."""
    label: Text
    value: Figure
    upper: Figure | None = None
    """The other end, only for a limit that compares with "between"."""
    printed: Text
    """The figure as the source prints it, both units where it does."""
    rulebook: Id | None = None
    """The rulebook whose own figure this is; empty for what another authority or handbook says."""
    card: OnCard | None = None
    """Empty for a figure that stands on no card."""


class LimitRecord(Record):
    """A figure that decides a defect: what is measured, in which unit, and on which side it fails."""

    id: Id
    quantity: Text
    unit: Literal["mm", "m", "kPa", "kPa/min", "s", "h", "day", "degree", "fraction", "count", "rating", "percent"]
    compare: Literal["at-most", "less-than", "at-least", "more-than", "between", "about"]
    method: Text
    rows: Annotated[list[LimitRow], Field(min_length=1)]


class LimitsTable(Record):
    """limits.yaml."""

    limits: Annotated[list[LimitRecord], Field(min_length=1)]
