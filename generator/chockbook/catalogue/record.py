"""The building blocks that every record of the tables is made of."""

from __future__ import annotations

import re
from datetime import date
from decimal import Decimal
from typing import Annotated, Any, Literal, get_args

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, StringConstraints
from pydantic_core import PydanticCustomError

ID_PATTERN = r"^[a-z0-9]+(?:-[a-z0-9]+)*$"
DEFECT_ID_PATTERN = r"^[a-z0-9]+(?:-[a-z0-9]+)*\.[a-z0-9]+(?:-[a-z0-9]+)*$"
LANGUAGE_PATTERN = r"^[a-z]{2,3}(?:-[A-Za-z0-9]{2,8})*$"
ADDRESS_PATTERN = r"^https?://[^\s<>\"']+$"

Id = Annotated[str, StringConstraints(pattern=ID_PATTERN, max_length=60)]
DefectId = Annotated[str, StringConstraints(pattern=DEFECT_ID_PATTERN, max_length=100)]
Line = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1, max_length=2000)]
Language = Annotated[str, StringConstraints(pattern=LANGUAGE_PATTERN, max_length=35)]
Text = Annotated[dict[Language, Line], Field(min_length=1)]
"""What a reader sees, by language code."""
Words = Annotated[dict[Language, list[Line]], Field(min_length=1)]
"""Several wordings, by language code."""


def _written(form: str, kind: str, name: str) -> BeforeValidator:
    """Takes a text only in one written form: no seconds since 1970 for a date, no 1e999999999 for a figure."""

    def judge(value: Any) -> Any:
        if isinstance(value, str) and not re.fullmatch(form, value):
            raise PydanticCustomError(kind, name)  # type: ignore[arg-type]
        return value

    return BeforeValidator(judge)


Day = Annotated[date, _written(r"(?:19|20|21)[0-9]{2}-[0-9]{2}-[0-9]{2}", "date_parsing", "not a day")]
"""A day of the years 1900 to 2199, written as 2026-11-25."""
Figure = Annotated[Decimal, _written(r"[-+]?[0-9]{1,9}(?:\.[0-9]{1,9})?", "decimal_parsing", "not a figure")]
"""A number in plain digits, with at most nine before and nine after the point."""

Basis = Literal["published", "common-practice", "from-memory", "invented"]
Vehicle = Literal["truck", "tractor", "trailer", "converter-dolly"]
Equipment = Literal[
    "air-brakes", "hydraulic-brakes", "electric-brakes", "def-system", "fifth-wheel", "pintle-hook",
    "air-suspension", "spring-suspension", "sleeper", "hood-mirrors", "reefer", "tarp", "dangerous-goods",
    "safety-chains", "hub-oil-sight-glass", "tether-belts", "cargo", "manual-transmission",
    "ball-hitch", "saddle-mount", "tank",
]  # fmt: skip


VEHICLES: tuple[str, ...] = get_args(Vehicle)
"""Kinds of vehicle that tables may name."""


class Record(BaseModel):
    """A mapping of a table: unknown keys are faults, and nothing changes after reading."""

    model_config = ConfigDict(extra="forbid", frozen=True)


class Standing(Record):
    """Where a fact stands: the source it belongs to, the place in it, and how sure we are."""

    source: Id
    locator: Line
    basis: Basis
    read_in: list[Id] = []
    """Ids of the copies in which the fact was read; empty where it is from memory."""
    remark: Text | None = None

    @property
    def confirmed(self) -> bool:
        """Whether the fact was read in a source or is settled practice, and not only remembered."""
        return self.basis != "from-memory"
