"""What a carrier's unit is made up of: something that can leave the yard, with the equipment that its defects go by.

A deck holds the defects of what is fitted. A unit without brakes or without a coupling in its file would get a deck
that is silent about them, and a driver would take the silence for an answer. What the tables never go by is not asked
for.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, get_args

from ..catalogue import Catalogue
from ..catalogue.record import Equipment, Vehicle
from ..faults import Fault, quoted
from ..tables import Table
from .walk import listed, texts

VEHICLES, EQUIPMENT = get_args(Vehicle), get_args(Equipment)
POWERED = ("truck", "tractor")
SERVICE_BRAKES = ("air-brakes", "hydraulic-brakes")
"""Kinds of brakes of a powered vehicle; electric ones are those of a trailer."""
COUPLINGS = ("fifth-wheel", "pintle-hook", "ball-hitch", "saddle-mount")


def find(table: Table, carrier: dict[str, Any], catalogue: Catalogue) -> Iterator[Fault]:
    """What is wrong with the make-up of a carrier's units."""
    fitted = [set(component.fitted) for component in catalogue.components]
    told_by = set().union(*fitted)
    both = any(set(SERVICE_BRAKES) <= one for one in fitted)
    painted: dict[str, str] = {}
    for at, unit in listed(table, carrier, ("carrier",), "units"):
        if isinstance(shown := unit.get("name"), str):
            where = table.place((*at, "name"))
            if shown in painted:
                yield Fault(where, "same-name", f"{quoted(shown)} is painted on two units, the first at {painted[shown]}",
                            "nobody could tell by the name on a card or checklist which of the two it is for",
                            "write what tells them apart", level="warning")  # fmt: skip
            painted.setdefault(shown, str(where))
        vehicles = list(texts(unit, at, "vehicles"))
        equipment: dict[str, Any] = {}
        for place, value in texts(unit, at, "equipment"):
            if value in equipment:
                yield Fault(table.place(place), "duplicate-id", f"{quoted(value)} stands here twice",
                            "a mistake of copying may have taken the place of another part", "remove one of the two")  # fmt: skip
            equipment.setdefault(value, place)
        if not vehicles:
            continue  # told by the shape
        name = quoted(unit.get("name") or unit.get("id"))
        here = table.place((*at, "equipment")) if "equipment" in unit else table.place(at)
        brakes = [kind for kind in SERVICE_BRAKES if kind in equipment]
        # A misspelt word may be the one that is missed here: it is told by itself first.
        misspelt = any(value not in VEHICLES for _, value in vehicles) or any(value not in EQUIPMENT for value in equipment)
        if vehicles[0][1] in VEHICLES and vehicles[0][1] not in POWERED:
            yield Fault(table.place(vehicles[0][0]), "unit-first", f"the unit {name} begins with a {vehicles[0][1]}",
                        "vehicles stand from front to back, and nothing would pull this unit",
                        "write a truck or a tractor first")  # fmt: skip
        if any(kind in POWERED for _, kind in vehicles) and told_by & set(SERVICE_BRAKES) and not brakes and not misspelt:
            yield Fault(here, "unit-brakes", f"the unit {name} has no kind of brakes",
                        "its cards would say nothing of the brakes of its truck or tractor",
                        f"add {' or '.join(SERVICE_BRAKES)} to `equipment`")  # fmt: skip
        if len(brakes) > 1 and not both:
            what = f"the unit {name} has {brakes[0]} and {brakes[1]} at once"
            yield Fault(table.place(equipment[brakes[1]]), "unit-brakes", what,
                        "its cards would name defects of brakes that it does not have",
                        f"keep the kind that it has: {' or '.join(brakes)}")  # fmt: skip
        coupled = any(kind in equipment for kind in COUPLINGS)
        if len(vehicles) > 1 and told_by & set(COUPLINGS) and not coupled and not misspelt:
            yield Fault(here, "unit-coupling", f"the unit {name} has {len(vehicles)} vehicles and no coupling",
                        "its cards would say nothing of what holds them together",
                        f"add {', '.join(COUPLINGS[:-1])} or {COUPLINGS[-1]} to `equipment`")  # fmt: skip
        drawn = {"tractor", "trailer"} <= {kind for _, kind in vehicles}
        if drawn and coupled and "fifth-wheel" in told_by and "fifth-wheel" not in equipment:
            yield Fault(here, "unit-coupling", f"the unit {name} has a tractor and a trailer, and no fifth-wheel",
                        "its cards would say nothing of the fifth wheel, on which a tractor carries a trailer",
                        "add fifth-wheel to `equipment`, or write truck where it is one", level="warning")  # fmt: skip
