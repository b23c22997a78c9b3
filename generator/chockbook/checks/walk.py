"""Walking tables as read, whatever else is wrong with them.

Checks look at plain data and not at records, so that a fault in one place never hides those in another.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from ..tables import Steps, Table

Tables = dict[str, Table]
"""Tables by file name."""
Found = tuple[Steps, dict[str, Any]]
"""A record as read and the way to it."""


def listed(table: Table, around: Any, steps: Steps, key: str) -> Iterator[Found]:
    """The mappings in a list under a key; anything else is left to the check of the shape."""
    values = around.get(key) if isinstance(around, dict) else None
    if isinstance(values, list):
        for at, value in enumerate(values):
            if isinstance(value, dict):
                yield (*steps, key, at), value


def records(tables: Tables, file: str, key: str) -> Iterator[Found]:
    """The records of a table's list, such as the defects of catalogue.yaml."""
    table = tables[file]
    yield from listed(table, table.data, (), key)


def texts(around: Any, steps: Steps, key: str) -> Iterator[tuple[Steps, str]]:
    """The texts in a list under a key, or the single text there."""
    value = around.get(key) if isinstance(around, dict) else None
    if isinstance(value, str):
        yield (*steps, key), value
    elif isinstance(value, list):
        for at, item in enumerate(value):
            if isinstance(item, str):
                yield (*steps, key, at), item


def said(record: dict[str, Any], key: str) -> str | None:
    """The text under a key; None where there is none, or where something else stands there.

    Checks that gather or look up values use it: a list or a mapping in a text's place is a fault of the shape,
    told elsewhere, and cannot be looked up.
    """
    value = record.get(key)
    return value if isinstance(value, str) else None


def ids(tables: Tables, file: str, key: str) -> set[str]:
    """The ids in a table's list, those of records with faults included."""
    return {name for _, r in records(tables, file, key) if (name := said(r, "id")) is not None}


def items(tables: Tables) -> Iterator[tuple[str, Steps, dict[str, Any]]]:
    """Every item of every schedule, with the id of its rulebook."""
    table = tables["rulebooks.yaml"]
    for at, rulebook in records(tables, "rulebooks.yaml", "rulebooks"):
        for schedule_at, schedule in listed(table, rulebook, at, "schedules"):
            for part_at, part in listed(table, schedule, schedule_at, "parts"):
                for item_at, item in listed(table, part, part_at, "items"):
                    yield str(rulebook.get("id")), item_at, item


def rulings(tables: Tables) -> Iterator[tuple[dict[str, Any], Steps, dict[str, Any]]]:
    """Every ruling of every defect, with the defect."""
    table = tables["catalogue.yaml"]
    for at, defect in records(tables, "catalogue.yaml", "defects"):
        for ruling_at, ruling in listed(table, defect, at, "rulings"):
            yield defect, ruling_at, ruling


def steps_of_route(tables: Tables) -> Iterator[Found]:
    """Every step of every station of the route."""
    for at, station in records(tables, "route.yaml", "stations"):
        yield from listed(tables["route.yaml"], station, at, "steps")


def named(record: dict[str, Any]) -> str:
    """A record's id, or a phrase where it has none."""
    found = record.get("id")
    return found if isinstance(found, str) else "a record without an id"
