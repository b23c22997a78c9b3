"""Every id stands once.

An id is an address: a page, a card or a ruling points to it. With two records of one id, nobody could
tell which of them is meant.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from ..faults import Fault, quoted
from .walk import Found, Tables, items, listed, records, steps_of_route

RULE = "duplicate-id"


def find(tables: Tables) -> Iterator[Fault]:
    """A fault for each record that repeats the id of another of its kind."""
    for file, key in (
        ("catalogue.yaml", "systems"), ("catalogue.yaml", "components"), ("catalogue.yaml", "defects"),
        ("rulebooks.yaml", "rulebooks"), ("sources.yaml", "sources"), ("limits.yaml", "limits"),
        ("route.yaml", "stations"), ("words.yaml", "cautions"), ("jurisdictions.yaml", "jurisdictions"),
    ):  # fmt: skip
        yield from _once(tables, file, records(tables, file, key))
    yield from _once(tables, "route.yaml", steps_of_route(tables))
    table = tables["rulebooks.yaml"]
    for at, rulebook in records(tables, "rulebooks.yaml", "rulebooks"):
        for key in ("severities", "actions", "schedules", "duties", "report"):
            yield from _once(tables, "rulebooks.yaml", listed(table, rulebook, at, key))
        own = ((i_at, item) for owner, i_at, item in items(tables) if i_at[:2] == at)
        yield from _once(tables, "rulebooks.yaml", own)


def _once(tables: Tables, file: str, found: Iterable[Found]) -> Iterator[Fault]:
    table = tables[file]
    first: dict[str, str] = {}
    for at, record in found:
        name = record.get("id")
        if not isinstance(name, str):
            continue
        place = table.place((*at, "id"))
        if name in first:
            yield Fault(place, RULE, f"{quoted(name)} is the id of two records, the first at {first[name]}",
                        "whatever points to the id could mean either of them",
                        "give one of them another id, or remove it", touches=(name,))  # fmt: skip
        else:
            first[name] = str(place)
