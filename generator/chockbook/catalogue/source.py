"""sources.yaml: the published matter that the facts come from."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, StringConstraints

from .record import ADDRESS_PATTERN, Day, Id, Line, Record, Text


class SourceRecord(Record):
    """A law, standard, handbook or copy of one."""

    id: Id
    title: Text
    issuer: Line
    kind: Literal["law", "standard", "handbook", "guide", "copy", "practice"]
    edition: Line | None = None
    url: Annotated[str, StringConstraints(pattern=ADDRESS_PATTERN, max_length=400)] | None = None
    read_on: Day | None = None
    """The day a copy was read; empty where nothing of it was read."""
    how_read: Text
    """What was read of it, and in what kind of copy."""


class SourcesTable(Record):
    """sources.yaml."""

    sources: Annotated[list[SourceRecord], Field(min_length=1)]
