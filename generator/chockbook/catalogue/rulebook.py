"""rulebooks.yaml: laws and standards, their severities, actions, schedules and duties."""

from __future__ import annotations

from datetime import date
from typing import Annotated, Literal

from pydantic import Field

from .record import Basis, Id, Line, Record, Standing, Text, Vehicle


class ActionRecord(Standing):
    """Something to do about a defect: one short sentence that starts with the verb."""

    id: Id
    kind: Literal["stop", "go-on", "record", "tell", "repair"]
    by: Literal["driver", "carrier", "mechanic"]
    text: Text


class SeverityRecord(Standing):
    """A severity in the rulebook's own words, and what it calls for."""

    id: Id
    name: Text
    may_drive: Literal["yes", "once-reported", "if-safe", "no"]
    outcome: Text
    """The answer to "may I go on?" in a few words, such as "Do not drive"."""
    meaning: Text
    deadline: Text | None = None
    """By when it is to be repaired, where the rulebook says so."""
    actions: Annotated[list[Id], Field(min_length=1)]


class ItemRecord(Standing):
    """One line of a schedule. The locator's letter can be less sure than the fact itself."""

    id: Id
    severity: Id
    letter: Line
    text: Text
    applies_when: Text | None = None
    applies_when_basis: Basis | None = None
    locator_basis: Basis | None = None
    note: Line | None = None


class PartRecord(Record):
    """A part of a schedule: one system with its items."""

    part: Line
    title: Text
    items: Annotated[list[ItemRecord], Field(min_length=1)]


class ScheduleRecord(Record):
    """A schedule of a rulebook, part by part."""

    id: Id
    name: Text
    vehicles: Annotated[list[Vehicle], Field(min_length=1)]
    report_rows: bool = False
    """Whether its items are what the report form has rows for. Where no schedule's are, the parts of all schedules are."""
    parts: Annotated[list[PartRecord], Field(min_length=1)]


class DutyRecord(Standing):
    """Something the rulebook asks of a driver or carrier beside the severities."""

    id: Id
    topic: Literal["inspect", "report", "carry", "watch", "minor", "major", "repair", "keep", "scope"]
    text: Text


class ReportFieldRecord(Standing):
    """A thing that the inspection report holds under the rulebook."""

    id: Id
    name: Text
    on_form: Literal["vehicles", "operator", "head", "defects", "inspector", "signed", "repaired"]
    """Where the printed form has it. `vehicles`: a box for each vehicle. `head`: above the inspection; `operator` too, and
    a carrier's own form prints its name there. `defects`: the table of defects. `inspector`: below, on one line with all
    others that whoever inspected signs. `signed`: below, on a line of its own. `repaired`: on the back, signed once the
    repairs are done."""


class LeftOutRecord(Record):
    """Something that the source holds and the rulebook here does not, and why."""

    locator: Line
    what: Text
    why: Text


class RulebookRecord(Record):
    """One law or standard: whom it binds, its severities, actions, schedules and duties."""

    id: Id
    name: Text
    short_name: Text
    law: Text
    source: Id
    binds: Text
    severities: Annotated[list[SeverityRecord], Field(min_length=1)]
    """Mildest first."""
    actions: Annotated[list[ActionRecord], Field(min_length=1)]
    schedules: Annotated[list[ScheduleRecord], Field(min_length=1)]
    duties: list[DutyRecord] = []
    report: list[ReportFieldRecord] = []
    left_out: list[LeftOutRecord] = []
    memory_since: date | None = None
    """The day from which facts of this rulebook have stood from memory."""
    memory_days: Annotated[int, Field(ge=1, le=3660)] | None = None
    """Their grace: days until they are to be read in a source, or taken out."""


class RulebooksTable(Record):
    """rulebooks.yaml."""

    rulebooks: Annotated[list[RulebookRecord], Field(min_length=1)]
