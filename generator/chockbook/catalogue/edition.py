"""The edition: a short code computed from what the tables mean, and its dates."""

from __future__ import annotations

import hashlib
import json
import re
import unicodedata
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime
from decimal import Decimal
from functools import lru_cache
from typing import Any

from .record import Record

CODE_LENGTH = 8

NO_ORDER = frozenset({
    "vehicles", "fitted", "read_in", "also", "finds", "limits", "aliases",  # which ones, and not in which order
    "sources", "jurisdictions", "left_out",  # registers, looked up by name
})  # fmt: skip
"""Lists whose order means nothing, by the name of their field: they say which things belong.

The order of every other list has meaning: severities stand mildest first, actions in the order of doing them, stations
and steps in the order of walking, schedules, parts and items as the law has them, rows of a figure and duties as they
are read; systems, components, defects and cautions in the order in which cards and pages are numbered.
"""
BOOKKEEPING = frozenset({"checked_on", "checked_by", "review_by", "host", "memory_since", "memory_days", "on_form", "report_rows"})
"""Fields that say when somebody looks again, or how a form is laid out, and not what the law says: a card does not go
stale by them."""
STATING = ("basis-", "fit-", "vehicle-", "fitted-", "by-", "compare-", "not-confirmed", "letter-not-confirmed", "signal-",
           "aid-", "caution-")  # fmt: skip
"""Beginnings of the keys of fixed words that state a fact or a caution. Other fixed words are labels."""


@dataclass(frozen=True, slots=True)
class Edition:
    """Which content this is."""

    code: str
    """Eight hexadecimal digits that change whenever the content changes."""
    date: date
    """Day of issue."""
    check_by: date
    """Day by which the content is to be checked against the law again."""


def edition_code(content: Iterable[Record], words: Mapping[str, Mapping[str, str]] | None = None) -> str:
    """Eight hexadecimal digits of the SHA-256 of the canonical JSON of what the tables mean.

    Layout, comments, quotes, the order of keys, the order of lists in NO_ORDER, white space within a text and
    the way a letter with an accent is encoded mean nothing. Neither does a field that holds its default, nor how
    many noughts a number ends with.

    Args:
        content: the records, in the order of the tables.
        words: the fixed words; those whose key begins as STATING says are content too.
    """
    groups: dict[str, list[Any]] = {}
    for record in content:
        groups.setdefault(type(record).__name__, []).append(canonical(record.model_dump(exclude_defaults=True)))
    for name in ("SourceRecord", "JurisdictionRecord", "LimitRecord"):
        groups.get(name, []).sort(key=_text)
    stating = {key: text for key, text in (words or {}).items() if key.startswith(STATING)}
    whole = _text({**groups, "words": canonical(stating)})
    return hashlib.sha256(whole.encode("utf-8")).hexdigest()[:CODE_LENGTH]


def canonical(value: Any, field: str = "") -> Any:
    """A value of the tables as JSON has it, the same for everything that means the same.

    Args:
        value: what a record holds: mappings, lists, texts, numbers, days.
        field: the field that holds it, by which it is known whether a list's order means anything.
    """
    if isinstance(value, Mapping):
        # Below a field such as aliases, the lists stand in a mapping by language.
        inner = field if field in NO_ORDER else ""
        return {key: canonical(one, inner or key) for key, one in value.items() if key not in BOOKKEEPING}
    if isinstance(value, list | tuple):
        plain = [canonical(one) for one in value]
        return sorted(plain, key=_text) if field in NO_ORDER else plain
    if isinstance(value, str):
        return _one_spaced(value)
    if isinstance(value, Decimal):
        return f"{value.normalize():f}"
    return value.isoformat() if isinstance(value, date) else value


@lru_cache(maxsize=1 << 15)  # most texts of an edition stand in the next one too
def _one_spaced(text: str) -> str:
    return re.sub(r"[ \t\r\n]+", " ", unicodedata.normalize("NFC", text)).strip(" ")


def _text(value: Any) -> str:
    return json.dumps(value, sort_keys=True, ensure_ascii=False, separators=(",", ":"))


def seconds_of(issued: date) -> int:
    """The beginning of a day of issue in UTC, in seconds since 1970: what outputs are dated with instead of the clock."""
    return int(datetime(issued.year, issued.month, issued.day, tzinfo=UTC).timestamp())
