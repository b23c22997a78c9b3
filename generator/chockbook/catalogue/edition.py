"""The edition: a short code computed from what the tables mean, and its dates."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from .record import Record

CODE_LENGTH = 8


@dataclass(frozen=True, slots=True)
class Edition:
    """Which content this is."""

    code: str
    """Eight hexadecimal digits that change whenever the content changes."""
    date: date
    """Day of issue."""
    check_by: date
    """Day by which the content is to be checked against the law again."""


def edition_code(content: Iterable[Record]) -> str:
    """Eight hexadecimal digits of the SHA-256 of the records' canonical JSON.

    Layout, comments and the order of keys in a table do not matter; the order of a list does, since
    readers see it.
    """
    plain = [record.model_dump(mode="json", exclude_defaults=True) for record in content]
    canonical = json.dumps(plain, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    return hashlib.sha256(canonical.encode("utf-8")).hexdigest()[:CODE_LENGTH]
