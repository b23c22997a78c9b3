"""catalogue.yaml as written: systems, components, and the defects with their rulings."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from .record import Day, DefectId, Equipment, Id, Record, Text, Vehicle, Words


class EditionRecord(Record):
    """When this edition was issued, and when it is to be checked against the law again."""

    date: Day
    check_by: Day


class SystemRecord(Record):
    """A group of components, such as the air brakes."""

    id: Id
    name: Text


class ComponentRecord(Record):
    """A thing on the vehicle that a driver can point at."""

    id: Id
    system: Id
    name: Text
    aliases: Words | None = None
    fitted: list[Equipment] = []
    """Equipment that a unit needs to have this component; empty where every such vehicle has it."""


class RulingRecord(Record):
    """What one rulebook says of a defect: the item of its schedule that covers it."""

    rulebook: Id
    item: Id
    fit: Literal["named", "general"]
    """Whether the item's own words name the fault, or a wider item covers it by its plain meaning."""
    also: list[Id] = []
    """Further items of the rulebook, of the same severity, that cover the defect too."""
    applies_when: Text | None = None
    """Only where it differs from the item's own condition."""
    actions: list[Id] | None = None
    """Only where they differ from the rulebook's actions for the severity."""
    law_text: Text | None = None
    """The law's own wording, for users who may reproduce it. Empty in the shipped tables."""
    remark: Text | None = None


class DefectRecord(Record):
    """One condition of one component."""

    id: DefectId
    component: Id
    condition: Text
    check: Text
    aliases: Words
    vehicles: Annotated[list[Vehicle], Field(min_length=1)]
    limits: list[Id] = []
    rulings: Annotated[list[RulingRecord], Field(min_length=1)]


class CatalogueTable(Record):
    """catalogue.yaml, the single defect catalogue."""

    edition: EditionRecord
    systems: Annotated[list[SystemRecord], Field(min_length=1)]
    components: Annotated[list[ComponentRecord], Field(min_length=1)]
    defects: Annotated[list[DefectRecord], Field(min_length=1)]
