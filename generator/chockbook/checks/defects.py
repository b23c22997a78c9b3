"""A defect hangs together: its id, its vehicles, its wording and the order of its rulings."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from ..catalogue.record import VEHICLES
from ..faults import Fault, quoted
from ..tables import Steps, Table
from .walk import Tables, ids, items, listed, named, records, said, texts


def find(tables: Tables) -> Iterator[Fault]:
    """A fault for each defect that contradicts itself or repeats another."""
    yield from _id_begins_with_component(tables)
    yield from _said_once(tables)
    yield from _rulings_in_order(tables)
    yield from _vehicles_of_rulebook(tables)


def _id_begins_with_component(tables: Tables) -> Iterator[Fault]:
    known = ids(tables, "catalogue.yaml", "components")
    for at, defect in records(tables, "catalogue.yaml", "defects"):
        name, component = said(defect, "id"), said(defect, "component")
        if name is not None and component in known and not name.startswith(f"{component}."):
            yield Fault(tables["catalogue.yaml"].place((*at, "id")), "id-prefix",
                        f"the id {quoted(name)} does not begin with its component {quoted(component)}",
                        "the id is the address of the defect on its component's page",
                        f"write {component}. and a short name, or mend the component",
                        subject=name)  # fmt: skip


def _said_once(tables: Tables) -> Iterator[Fault]:
    table = tables["catalogue.yaml"]
    first: dict[tuple[str, str, str], str] = {}
    for at, defect in records(tables, "catalogue.yaml", "defects"):
        condition = defect.get("condition")
        if isinstance(condition, dict):
            for language, words in condition.items():
                key = (str(defect.get("component")), language, str(words).casefold())
                place = table.place((*at, "condition", language))
                if key in first:
                    yield Fault(place, "same-condition", f"{quoted(named(defect))} repeats the condition at {first[key]}",
                                "two defects that read alike cannot be told apart on a card",
                                "write what makes the difference, or remove one")  # fmt: skip
                first.setdefault(key, str(place))
        aliases = defect.get("aliases")
        if isinstance(aliases, dict):
            for language in aliases:
                seen: set[str] = set()
                for place_steps, word in texts(aliases, (*at, "aliases"), language):
                    if word.casefold() in seen:
                        yield Fault(table.place(place_steps), "same-alias", f"the alias {quoted(word)} stands twice",
                                    "a repeated alias adds nothing", "remove it")  # fmt: skip
                    seen.add(word.casefold())


def _rulings_in_order(tables: Tables) -> Iterator[Fault]:
    ranks = _severity_ranks(tables)
    table = tables["catalogue.yaml"]
    for at, defect in records(tables, "catalogue.yaml", "defects"):
        before: dict[str, int] = {}
        for ruling_at, ruling in listed(table, defect, at, "rulings"):
            rulebook = str(ruling.get("rulebook"))
            rank = ranks.get((rulebook, str(ruling.get("item"))))
            if rulebook in before:
                yield from _second(table, ruling_at, ruling, rank, before[rulebook], named(defect))
            if rank is not None:
                before[rulebook] = rank


def _second(table: Table, at: Steps, ruling: dict[str, Any], rank: int | None, before: int,
            name: str) -> Iterator[Fault]:  # fmt: skip
    if not ruling.get("applies_when"):
        yield Fault(table.place(at), "second-ruling",
                    f"the second ruling of {quoted(name)} does not say when it applies",
                    "with two rulings of one rulebook, a driver has to know which holds",
                    "add applies_when, or remove one of the rulings")  # fmt: skip
    if rank is not None and rank > before:
        yield Fault(table.place(at), "ruling-order", f"a worse ruling of {quoted(name)} follows a milder one",
                    "the first ruling leads wherever the defect is shown, and the worst governs",
                    "put the worst ruling first")  # fmt: skip


def _severity_ranks(tables: Tables) -> dict[tuple[str, str], int]:
    table, order = tables["rulebooks.yaml"], {}
    for at, rulebook in records(tables, "rulebooks.yaml", "rulebooks"):
        for rank, (_, severity) in enumerate(listed(table, rulebook, at, "severities")):
            order[str(rulebook.get("id")), str(severity.get("id"))] = rank
    return {(owner, str(item.get("id"))): order[owner, str(item.get("severity"))]
            for owner, _, item in items(tables) if (owner, str(item.get("severity"))) in order}  # fmt: skip


def _vehicles_of_rulebook(tables: Tables) -> Iterator[Fault]:
    table = tables["rulebooks.yaml"]
    bound: dict[str, set[str]] = {}
    for at, rulebook in records(tables, "rulebooks.yaml", "rulebooks"):
        for schedule_at, schedule in listed(table, rulebook, at, "schedules"):
            bound.setdefault(str(rulebook.get("id")), set()).update(
                v for _, v in texts(schedule, schedule_at, "vehicles")
            )
    for at, defect in records(tables, "catalogue.yaml", "defects"):
        owners = [r.get("rulebook") for _, r in listed(tables["catalogue.yaml"], defect, at, "rulings")]
        known = set().union(*(bound.get(str(owner), set()) for owner in owners))
        for place_steps, vehicle in texts(defect, at, "vehicles"):
            if known and vehicle in VEHICLES and vehicle not in known:
                yield Fault(tables["catalogue.yaml"].place(place_steps), "vehicle-not-bound",
                            f"no rulebook of {quoted(named(defect))} speaks of {quoted(vehicle)}",
                            "the severity would be claimed for a vehicle that the schedule does not cover",
                            "remove the vehicle, or add the ruling that covers it")  # fmt: skip
