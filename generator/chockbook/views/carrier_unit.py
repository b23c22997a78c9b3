"""What a unit can have wrong with it: the defects of its vehicles and of what is fitted to them."""

from __future__ import annotations

from typing import Protocol

from ..catalogue import ComponentRecord, Entry


class MadeUp(Protocol):
    """Anything that says what a unit is made up of."""

    @property
    def vehicles(self) -> list[str]:
        """Kinds of vehicle in the unit."""

    @property
    def equipment(self) -> list[str]:
        """What is fitted to it."""


def has_component(unit: MadeUp | None, component: ComponentRecord) -> bool:
    """Whether the unit has the component: all of the equipment that the component belongs to. None has all."""
    return unit is None or set(component.fitted) <= set(unit.equipment)


def can_have(unit: MadeUp | None, entry: Entry) -> bool:
    """Whether a defect can be found on the unit. None stands for every unit there is."""
    if unit is None:
        return True
    return bool(set(entry.vehicles) & set(unit.vehicles)) and has_component(unit, entry.component)
