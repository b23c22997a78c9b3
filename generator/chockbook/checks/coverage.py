"""Nothing is left out: the law's items, the entries and the records that they rest on.

An item of a schedule that no defect covers would be missing from every card; a defect that no step of
the route turns up would never be looked for.
"""

from __future__ import annotations

from collections.abc import Iterator

from ..catalogue.record import VEHICLES
from ..faults import Fault, quoted
from .walk import Tables, items, listed, named, records, rulings, said, texts


def find(tables: Tables) -> Iterator[Fault]:
    """A fault for each item without a defect, defect without a step, and record that nothing uses."""
    yield from _items_covered(tables)
    yield from _entries_reached(tables)
    yield from _records_used(tables)


def _items_covered(tables: Tables) -> Iterator[Fault]:
    if not isinstance(tables["catalogue.yaml"].data, dict):
        return
    covered = {(said(r, "rulebook"), said(r, "item")) for _, _, r in rulings(tables)}
    covered |= {(said(r, "rulebook"), v) for _, at, r in rulings(tables) for _, v in texts(r, at, "also")}
    for owner, at, item in items(tables):
        if said(item, "id") is not None and (owner, item["id"]) not in covered:
            yield Fault(tables["rulebooks.yaml"].place((*at, "id")), "uncovered-item",
                        f"no defect covers item {quoted(named(item))} of rulebook {quoted(owner)}",
                        "the item would be missing from the reference, the cards and the checklist",
                        "write a defect whose ruling names the item", subject=named(item))  # fmt: skip


def _entries_reached(tables: Tables) -> Iterator[Fault]:
    """Each defect is turned up for each kind of vehicle that it names."""
    if not isinstance(tables["route.yaml"].data, dict):
        return
    reached: dict[str, set[str]] = {}
    for at, station in records(tables, "route.yaml", "stations"):
        around = {vehicle for _, vehicle in texts(station, at, "vehicles")}
        for step_at, step in listed(tables["route.yaml"], station, at, "steps"):
            vehicles = {vehicle for _, vehicle in texts(step, step_at, "vehicles")} or around
            for _, defect_id in texts(step, step_at, "finds"):
                reached.setdefault(defect_id, set()).update(vehicles)
    table = tables["catalogue.yaml"]
    for at, defect in records(tables, "catalogue.yaml", "defects"):
        name = defect.get("id")
        if not isinstance(name, str):
            continue
        named_vehicles = {vehicle for _, vehicle in texts(defect, at, "vehicles")} & set(VEHICLES)
        missed = sorted(named_vehicles - reached.get(name, set()))
        if name not in reached or missed:
            on = "" if name not in reached else f" on a {' or a '.join(missed)}"
            yield Fault(table.place((*at, "id")), "unreached-entry", f"no step of the route turns up {quoted(name)}{on}",
                        "a driver who follows the checklist would never look for it",
                        "add the id to `finds` of a step for that vehicle (route.yaml)", subject=name)  # fmt: skip


def _records_used(tables: Tables) -> Iterator[Fault]:
    table = tables["catalogue.yaml"]
    if not isinstance(table.data, dict):
        return
    used_components = {said(d, "component") for _, d in records(tables, "catalogue.yaml", "defects")}
    used_systems = {said(c, "system") for _, c in records(tables, "catalogue.yaml", "components")}
    for key, kind, used in (("components", "defect", used_components), ("systems", "component", used_systems)):
        for at, record in records(tables, "catalogue.yaml", key):
            if isinstance(record.get("id"), str) and record["id"] not in used:
                yield Fault(table.place((*at, "id")), "unused-record",
                            f"no {kind} belongs to {quoted(record['id'])}",
                            "it would make an empty page or heading",
                            f"write a {kind} for it, or remove it", subject=record["id"])  # fmt: skip
    cited = _cited_sources(tables)
    for at, record in records(tables, "sources.yaml", "sources"):
        if isinstance(record.get("id"), str) and record["id"] not in cited:
            yield Fault(tables["sources.yaml"].place((*at, "id")), "unused-record",
                        f"nothing rests on the source {quoted(record['id'])}",
                        "the list of sources would claim more than was used",
                        "cite it where it was used, or remove it", "warning")  # fmt: skip


def _cited_sources(tables: Tables) -> set[str]:
    """Every source that any record names, wherever it stands."""
    found: set[str] = set()

    def look(value: object) -> None:
        if isinstance(value, dict):
            for key, inner in value.items():
                if key == "source" and isinstance(inner, str):
                    found.add(inner)
                elif key == "read_in" and isinstance(inner, list):
                    found.update(text for text in inner if isinstance(text, str))
                else:
                    look(inner)
        elif isinstance(value, list):
            for inner in value:
                look(inner)

    look(tables["rulebooks.yaml"].data)
    look(tables["limits.yaml"].data)
    look(tables["jurisdictions.yaml"].data)
    return found
