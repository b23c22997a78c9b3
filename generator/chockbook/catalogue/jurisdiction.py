"""jurisdictions.yaml: how other provinces deal with trip inspections, for comparison only."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from .record import Id, Record, Standing, Text

Topic = Literal["who", "when", "validity", "on-minor", "on-major", "weight-floor", "carry", "keep", "report"]


class JurisdictionFact(Standing):
    """One thing that a jurisdiction asks."""

    topic: Topic
    text: Text


class JurisdictionRecord(Record):
    """A province and its regulation."""

    id: Id
    name: Text
    regulation: Text
    facts: Annotated[list[JurisdictionFact], Field(min_length=1)]


class JurisdictionsTable(Record):
    """jurisdictions.yaml."""

    jurisdictions: list[JurisdictionRecord]
