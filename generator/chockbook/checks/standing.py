"""A fact says honestly where it stands.

A fact called published names the copy in which it was read; a fact from memory names none. The copies
that were read carry the day of reading.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from ..faults import Fault, quoted
from ..tables import Steps
from .walk import Tables, named, records, said, texts

RULE = "standing"


def find(tables: Tables) -> Iterator[Fault]:
    """A fault for each fact whose basis and copies contradict each other."""
    read = {said(s, "id") for _, s in records(tables, "sources.yaml", "sources") if s.get("read_on")}
    kinds = {said(s, "id"): s.get("kind") for _, s in records(tables, "sources.yaml", "sources")}
    for file in ("rulebooks.yaml", "limits.yaml", "jurisdictions.yaml"):
        for at, record in with_basis(tables[file].data, ()):
            table, basis, copies = tables[file], record.get("basis"), record.get("read_in") or []
            place = table.place((*at, "basis"))
            if basis == "published" and not copies:
                yield Fault(place, RULE, f"{quoted(named(record))} is published, but names no copy read",
                            "a reader could not tell what was looked at",
                            "name the copies under read_in, or write from-memory")  # fmt: skip
            if basis == "from-memory" and copies:
                yield Fault(place, RULE, f"{quoted(named(record))} is from memory, but names a copy read",
                            "what was read is published; what was not is from memory",
                            "write published, or move the copy to the remark")  # fmt: skip
            if basis == "published":
                for (*_, number), copy in texts(record, at, "read_in"):
                    if copy in kinds and copy not in read:
                        yield Fault(table.place((*at, "read_in", number)), RULE,
                                    f"the source {quoted(copy)} has no day of reading",
                                    "a copy that was read carries the day, so that its age can be told",
                                    "add read_on to the source, or name another copy")  # fmt: skip


def with_basis(value: Any, steps: Steps) -> Iterator[tuple[Steps, dict[str, Any]]]:
    """Every mapping below a value that has a basis, with the way to it."""
    if isinstance(value, dict):
        if "basis" in value:
            yield steps, value
        for key, inner in value.items():
            yield from with_basis(inner, (*steps, key))
    elif isinstance(value, list):
        for at, inner in enumerate(value):
            yield from with_basis(inner, (*steps, at))
