"""Whether the findings of a written case can be met on one vehicle or combination."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from ..catalogue import UNITS, Entry
from .facts import Reader

_LEAVES_AND_LOAD = {"spring-suspension", "cargo"}
_TRACTOR = {"air-brakes", "fifth-wheel", "air-suspension", "spring-suspension", "def-system", "sleeper"}
_SEMITRAILER = {"air-brakes", "fifth-wheel", *_LEAVES_AND_LOAD}
CASE_UNITS: tuple[Mapping[str, set[str]], ...] = (
    {"tractor": _TRACTOR, "trailer-1": _SEMITRAILER},
    {"tractor": _TRACTOR, "trailer-1": {*_SEMITRAILER, "pintle-hook"}, "trailer-2": _SEMITRAILER,
     "dolly": {"air-brakes", "fifth-wheel", "spring-suspension", "safety-chains"}},
    {"truck": {"air-brakes", "def-system", *_LEAVES_AND_LOAD}},
    {"truck": {"hydraulic-brakes", *_LEAVES_AND_LOAD}},
    {"truck": {"air-brakes", "def-system", "pintle-hook", *_LEAVES_AND_LOAD},
     "trailer-1": {"air-brakes", "safety-chains", *_LEAVES_AND_LOAD}},
    {"truck": {"hydraulic-brakes", "electric-brakes", "ball-hitch", *_LEAVES_AND_LOAD},
     "trailer-1": {"electric-brakes", "ball-hitch", "safety-chains", *_LEAVES_AND_LOAD}},
)  # fmt: skip
"""What a case can be about, with what is fitted where; written here again: the drill has its own."""


def places_of(unit: Mapping[str, set[str]]) -> tuple[str, ...]:
    """The vehicles of a unit from front to back."""
    return tuple(place for place in UNITS if place in unit)


def can_be_met(reader: Reader, before: str, findings: Sequence[tuple[str, Entry]]) -> bool:
    """Whether one unit that a case names has all that is found on it.

    Args:
        reader: the catalogue in the language of the case.
        before: the wording in front of the findings, where the vehicles are named.
        findings: each as the case tells it, "Truck, ...", with the defect that it is.
    """

    def met(unit: Mapping[str, set[str]], told: str, entry: Entry) -> bool:
        return any(
            told.startswith(f"{reader.word(f'unit-{place}')}, ")
            and UNITS[place] in entry.vehicles and set(entry.component.fitted) <= fitted
            for place, fitted in unit.items()
        )  # fmt: skip

    return any(
        f" {', '.join(reader.word(f'unit-{place}') for place in places_of(unit))}." in before.replace("\u00a0", " ")
        and all(met(unit, told, entry) for told, entry in findings)
        for unit in CASE_UNITS
    )  # fmt: skip
