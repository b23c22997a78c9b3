"""sources.yaml: the published matter that the facts come from."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, StringConstraints

from .record import ADDRESS_PATTERN, Day, Id, Line, Record, Text

HOST_PATTERN = r"^[a-z0-9-]+(?:\.[a-z0-9-]+)+$"


class SourceRecord(Record):
    """A law, standard, handbook or copy of one."""

    id: Id
    title: Text
    issuer: Line
    kind: Literal["law", "standard", "handbook", "guide", "copy", "practice"]
    edition: Text | None = None
    url: Annotated[str, StringConstraints(pattern=ADDRESS_PATTERN, max_length=400)] | None = None
    read_on: Day | None = None
    """The day a copy was read; empty where nothing of it was read."""
    how_read: Text
    """What was read of it, and in what kind of copy."""
    checked_on: Day | None = None
    """The day on which somebody last looked whether it still says the same; the day of reading where left out."""
    checked_by: Literal["editor", "instructor", "safety-manager", "mechanic", "lawyer"] | None = None
    """The role of whoever looked, and no name."""
    review_by: Day | None = None
    """The day by which somebody is to look again."""
    host: Annotated[str, StringConstraints(pattern=HOST_PATTERN, max_length=100)] | None = None
    """The host at which the issuer keeps it, such as ontario.ca; the address is there or below it."""


class SourcesTable(Record):
    """sources.yaml."""

    sources: Annotated[list[SourceRecord], Field(min_length=1)]
