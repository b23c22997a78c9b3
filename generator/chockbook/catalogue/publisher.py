"""publisher.yaml: who issues the outputs, and where the site will stand."""

from __future__ import annotations

from typing import Annotated

from pydantic import StringConstraints

from .record import Line, Record

SITE_PATTERN = r"^https?://[^\s<>\"']+/$"


class PublisherTable(Record):
    """publisher.yaml: who issues the outputs and where the site will stand."""

    name: Line
    contact: Line | None = None
    base_address: Annotated[str, StringConstraints(pattern=SITE_PATTERN, max_length=200)] | None = None
    """Address of the published site, ending in "/"; empty where there is none yet."""
    demo: bool = False
    """True where name and contact are invented."""
