"""Vehicles and combinations as most are (common practice), with what is fitted to each vehicle of them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from .verdict import UNITS


@dataclass(frozen=True, slots=True)
class UsualUnit:
    """What a unit is made up of, where no carrier says so."""

    fitted: Mapping[str, tuple[str, ...]]
    """Equipment by place in the combination, keys of verdict.UNITS from front to back: a hook at the back of the
    first trailer is none on the tractor."""

    @property
    def vehicles(self) -> tuple[str, ...]:
        """Kinds of vehicle, from front to back."""
        return tuple(UNITS[place] for place in self.fitted)

    @property
    def equipment(self) -> tuple[str, ...]:
        """All that is fitted to any of its vehicles, each once."""
        return tuple(dict.fromkeys(kind for kinds in self.fitted.values() for kind in kinds))


_TRACTOR = ("air-brakes", "fifth-wheel", "air-suspension", "spring-suspension", "def-system", "sleeper")
_SEMITRAILER = ("air-brakes", "fifth-wheel", "spring-suspension", "cargo")
_AIR_TRUCK = ("air-brakes", "def-system", "spring-suspension", "cargo")
_HYDRAULIC_TRUCK = ("hydraulic-brakes", "spring-suspension", "cargo")
USUAL = "tractor-trailer"
USUAL_UNITS: Mapping[str, UsualUnit] = {
    USUAL: UsualUnit({"tractor": _TRACTOR, "trailer-1": _SEMITRAILER}),
    "tractor": UsualUnit({"tractor": _TRACTOR}),
    "truck": UsualUnit({"truck": _AIR_TRUCK}),
    "truck-hydraulic": UsualUnit({"truck": _HYDRAULIC_TRUCK}),
    "truck-trailer": UsualUnit({
        "truck": (*_AIR_TRUCK, "pintle-hook"),
        "trailer-1": ("air-brakes", "spring-suspension", "cargo", "safety-chains"),
    }),
    "truck-electric": UsualUnit({
        "truck": (*_HYDRAULIC_TRUCK, "electric-brakes", "ball-hitch"),
        "trailer-1": ("electric-brakes", "spring-suspension", "cargo", "ball-hitch", "safety-chains"),
    }),
    "two-trailers": UsualUnit({
        "tractor": _TRACTOR,
        "trailer-1": (*_SEMITRAILER, "pintle-hook"),
        "dolly": ("air-brakes", "fifth-wheel", "spring-suspension", "safety-chains"),
        "trailer-2": _SEMITRAILER,
    }),
}  # fmt: skip
"""By a name that a walk can be asked for; the usual one comes first."""
