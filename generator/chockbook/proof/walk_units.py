"""The printed sheets of "walk and say" of one vehicle, read back and compared word for word with the route."""

from __future__ import annotations

from pathlib import Path

from pypdfium2 import PdfiumError

from ..catalogue import Catalogue
from .facts import reader_of
from .objection import Objection
from .read_pdf import read_pdf
from .walk import EQUIPMENT, VEHICLES, Walked
from .walk_recital import prove_whole_score, prove_whole_walk

_ON_LEAF_SPRINGS = {"spring-suspension", "cargo"}
_TRACTOR = EQUIPMENT - {"cargo"}
_DRAWBAR = {"pintle-hook", "safety-chains"}
UNITS: dict[str, tuple[tuple[str, ...], set[str]]] = {
    "tractor-trailer": (VEHICLES, EQUIPMENT),
    "tractor": (("tractor",), _TRACTOR),
    "truck": (("truck",), _ON_LEAF_SPRINGS | {"air-brakes", "def-system"}),
    "truck-hydraulic": (("truck",), _ON_LEAF_SPRINGS | {"hydraulic-brakes"}),
    "truck-trailer": (("truck", "trailer"), _ON_LEAF_SPRINGS | {"air-brakes", "def-system"} | _DRAWBAR),
    "truck-electric": (("truck", "trailer"),
                       _ON_LEAF_SPRINGS | {"hydraulic-brakes", "electric-brakes", "safety-chains", "ball-hitch"}),
    "two-trailers": (("tractor", "trailer", "converter-dolly", "trailer"), EQUIPMENT | _DRAWBAR),
}
"""Vehicles and equipment by the name that a unit is asked for, written here again: the views have their own."""


def prove_walk_prints(catalogue: Catalogue, folder: Path, asked: str, rulebook_id: str, language: str,
                      made_up: Walked | None = None) -> list[Objection]:  # fmt: skip
    """Objections to the finished sheets of a unit; a file that is missing or cannot be read is one.

    Args:
        catalogue: what the sheets are to say.
        folder: where walk-<asked>.<rulebook>.<language>.pdf and score-<asked>.<rulebook>.<language>.pdf stand.
        asked: the unit as their names have it.
        rulebook_id: the rulebook of the sheets.
        language: code of their language.
        made_up: what a carrier's unit is made up of, with its name; None for a unit of UNITS.

    Raises:
        KeyError: UNITS has no such unit, and made_up is None.
    """
    if made_up is None:
        vehicles, equipment = UNITS[asked]
        made_up = Walked(vehicles, frozenset(equipment), reader_of(catalogue, language).word(f"walk-unit-{asked}"))
    found: list[Objection] = []
    for kind, prove in (("walk", prove_whole_walk), ("score", prove_whole_score)):
        name = f"{kind}-{asked}.{rulebook_id}.{language}.pdf"
        try:
            reading = read_pdf(folder / name)
        except (OSError, PdfiumError) as error:
            found.append(Objection(name, "file", f"cannot be read: {error}"))
            continue
        found += prove(catalogue, reading, name, rulebook_id, language, made_up, f"{kind}-{asked}")
    return found
