"""Reading the check values that were typed from published copies."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import yaml

from chockbook.catalogue import Catalogue, ItemRecord, RulebookRecord

HERE = Path(__file__).parent


def published(name: str) -> dict[str, Any]:
    """A file of check values."""
    return yaml.safe_load((HERE / f"{name}.yaml").read_text(encoding="utf-8"))


def rulebook(catalogue: Catalogue, rulebook_id: str) -> RulebookRecord:
    """A rulebook of the catalogue."""
    return next(one for one in catalogue.rulebooks if one.id == rulebook_id)


def items(book: RulebookRecord, schedule_id: str | None = None) -> list[tuple[str, ItemRecord]]:
    """Items of a rulebook with their part, of one schedule or of all."""
    return [
        (part.part, item)
        for schedule in book.schedules
        if schedule_id in (None, schedule.id)
        for part in schedule.parts
        for item in part.items
    ]


def seen(basis: str) -> str:
    """The word of the check values for a basis."""
    return "seen" if basis == "published" else "memory"
