"""Whatever a table points to exists.

A reference that leads nowhere would print a defect without its source, severity or system.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterator

from ..faults import Fault, quoted
from ..tables import Steps
from ..tables.shape import CLOSE, suggest
from .walk import Tables, ids, items, listed, records, rulings, said, steps_of_route, texts

RULE = "unknown-reference"


def find(tables: Tables) -> Iterator[Fault]:
    """A fault for each reference to a record that does not exist."""
    yield from _in_catalogue(tables)
    yield from _in_rulebooks(tables)
    yield from _in_limits(tables)
    yield from _in_route(tables)
    yield from _in_jurisdictions(tables)


def _in_catalogue(tables: Tables) -> Iterator[Fault]:
    systems, components = ids(tables, "catalogue.yaml", "systems"), ids(tables, "catalogue.yaml", "components")
    limits = ids(tables, "limits.yaml", "limits")
    file = "catalogue.yaml"
    for at, component in records(tables, file, "components"):
        yield from _each(tables, file, component, at, "system", "system", systems)
    for at, defect in records(tables, file, "defects"):
        yield from _each(tables, file, defect, at, "component", "component", components)
        yield from _each(tables, file, defect, at, "limits", "limit", limits)
    rulebooks = ids(tables, "rulebooks.yaml", "rulebooks")
    known_items: dict[str, set[str]] = {}
    for owner, _, item in items(tables):
        known_items.setdefault(owner, set()).add(str(item.get("id")))
    actions = {str(r.get("id")): {str(a.get("id")) for _, a in listed(tables["rulebooks.yaml"], r, at, "actions")}
               for at, r in records(tables, "rulebooks.yaml", "rulebooks")}  # fmt: skip
    for _, at, ruling in rulings(tables):
        yield from _each(tables, file, ruling, at, "rulebook", "rulebook", rulebooks)
        owner = said(ruling, "rulebook")
        if owner in rulebooks:
            where = f" in rulebook {quoted(owner)}"
            yield from _each(tables, file, ruling, at, "item", "item", known_items.get(owner, set()), where)
            yield from _each(tables, file, ruling, at, "also", "item", known_items.get(owner, set()), where)
            yield from _each(tables, file, ruling, at, "actions", "action", actions.get(owner, set()), where)


def _in_rulebooks(tables: Tables) -> Iterator[Fault]:
    file, table = "rulebooks.yaml", tables["rulebooks.yaml"]
    sources = ids(tables, "sources.yaml", "sources")
    for at, rulebook in records(tables, file, "rulebooks"):
        yield from _each(tables, file, rulebook, at, "source", "source", sources)
        known = {str(a.get("id")) for _, a in listed(table, rulebook, at, "actions")}
        severities = {str(s.get("id")) for _, s in listed(table, rulebook, at, "severities")}
        for severity_at, severity in listed(table, rulebook, at, "severities"):
            yield from _each(tables, file, severity, severity_at, "actions", "action", known, " in this rulebook")
        for key in ("severities", "actions", "duties", "report"):
            for record_at, record in listed(table, rulebook, at, key):
                yield from _standing(tables, file, record, record_at, sources)
        for _, item_at, item in items(tables):
            if item_at[:2] == at:
                yield from _each(tables, file, item, item_at, "severity", "severity", severities,
                                 " in this rulebook")
                yield from _standing(tables, file, item, item_at, sources)


def _in_limits(tables: Tables) -> Iterator[Fault]:
    file, table = "limits.yaml", tables["limits.yaml"]
    sources, rulebooks = ids(tables, "sources.yaml", "sources"), ids(tables, "rulebooks.yaml", "rulebooks")
    for at, limit in records(tables, file, "limits"):
        for row_at, row in listed(table, limit, at, "rows"):
            yield from _standing(tables, file, row, row_at, sources)
            yield from _each(tables, file, row, row_at, "rulebook", "rulebook", rulebooks)


def _in_jurisdictions(tables: Tables) -> Iterator[Fault]:
    file, table = "jurisdictions.yaml", tables["jurisdictions.yaml"]
    sources = ids(tables, "sources.yaml", "sources")
    for at, jurisdiction in records(tables, file, "jurisdictions"):
        for fact_at, fact in listed(table, jurisdiction, at, "facts"):
            yield from _standing(tables, file, fact, fact_at, sources)


def _in_route(tables: Tables) -> Iterator[Fault]:
    defects, limits = ids(tables, "catalogue.yaml", "defects"), ids(tables, "limits.yaml", "limits")
    cautions = ids(tables, "words.yaml", "cautions")
    for at, step in steps_of_route(tables):
        yield from _each(tables, "route.yaml", step, at, "finds", "defect", defects)
        yield from _each(tables, "route.yaml", step, at, "figure", "limit", limits)
        yield from _each(tables, "route.yaml", step, at, "caution", "caution", cautions)


def _standing(tables: Tables, file: str, record: dict, at: Steps, sources: set[str]) -> Iterator[Fault]:
    yield from _each(tables, file, record, at, "source", "source", sources)
    yield from _each(tables, file, record, at, "read_in", "source", sources)


def _each(tables: Tables, file: str, record: dict, at: Steps, key: str, kind: str,
          known: set[str], where: str = "") -> Iterator[Fault]:  # fmt: skip
    for place, value in texts(record, at, key):
        if value not in known:
            meant = difflib.get_close_matches(value, sorted(known), n=1, cutoff=CLOSE)
            yield Fault(tables[file].place(place), RULE, f"there is no {kind} {quoted(value)}{where}",
                        "the record would point to nothing", suggest(value, sorted(known)),
                        subject=value, touches=tuple(meant))  # fmt: skip
