"""The printed checklist of a unit: normal, in big print, or to be laminated and wiped."""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path
from typing import Any

from ..catalogue import Catalogue
from ..views.carrier_unit import MadeUp
from ..views.checklist import TRAILERS, USUAL_UNIT, view_checklist
from ..views.wording import fixed_word
from .document_data import document_data
from .places import set_with_places
from .printed import Printed

FOOT_STRIP = 5.1
"""Height of the line at the foot of a carrier's checklist that says whose it is, millimetres."""
WHOLE_ROUTE = "whole-route"
"""In place of a unit: every step of the route, each with the vehicles and equipment that it is for."""
VARIANTS: dict[str, dict[str, Any]] = {
    "normal": {"size": 10.0, "box": 5.1, "columns": 3, "sides": True, "fields": True, "defect_lines": 8},
    "big": {"size": 16.0, "box": 8.0, "columns": 1, "sides": False, "fields": True, "defect_lines": 6},
    "laminated": {"size": 10.0, "box": 5.6, "columns": 3, "sides": True, "fields": False, "defect_lines": 0},
}
"""Type in points, boxes in millimetres; whether each part of the route begins a side; whether one writes."""
MOST_SIDES = 4
"""Two sheets, both sides. A longer checklist is not kept to a side for each part, which would leave sides empty."""
FIELDS = (
    "print-unit", "print-trailers", "print-odometer", "print-place",
    "print-date", "print-time", "print-driver", "print-signature",
)  # fmt: skip


class UnknownVariant(ValueError):
    """A checklist is wanted in a variant that there is not."""


def render_checklist(
    catalogue: Catalogue,
    rulebook_id: str,
    language: str,
    out_path: Path,
    unit: MadeUp | str | None = None,
    variant: str = "normal",
    name: str | None = None,
    strip: float = 0.0,
) -> Printed:
    """Write the walk-round and in-cab checklist, on a page that prints unscaled on letter and on A4.

    Args:
        catalogue: the checked catalogue.
        rulebook_id: the rulebook that figures and report come from.
        language: code of its language.
        out_path: the PDF to write.
        unit: leaves out what the unit does not have; WHOLE_ROUTE leaves out nothing; without it a loaded
            tractor with one trailer is taken, and the sheet says so.
        variant: normal, big (16 pt) or laminated (nothing to write in).
        name: by which the document calls itself.
        strip: room above the title for whose it is (owner_strip), millimetres.

    Raises:
        UnknownVariant: there is no such variant.
        UnknownRulebook: the catalogue has no such rulebook.
        MissingWording: a text has not been written in the language.
        SettingFailed: the compiler objects.
    """
    if variant not in VARIANTS:
        raise UnknownVariant(f"{variant!r} is not a variant; the variants are {', '.join(VARIANTS)}")
    style = VARIANTS[variant]
    made_up = None if unit == WHOLE_ROUTE else unit or USUAL_UNIT
    view = view_checklist(catalogue, rulebook_id, language, made_up)
    last = "print-complete" if style["defect_lines"] else "print-complete-laminated"
    data = document_data("checklist", catalogue, rulebook_id, language, name) | {
        "view": asdict(view),
        "style": style,
        "strip": strip,
        "foot_strip": FOOT_STRIP if strip else 0,
        "fields": [fixed_word(catalogue, key, language) for key in _fields(made_up)] if style["fields"] else [],
        "last_line": fixed_word(catalogue, last, language),
    }
    most = MOST_SIDES if style["sides"] else None
    pages = set_with_places("checklist.typ", data, catalogue.edition.date, out_path, small=True, most=most)
    if most and pages > most:
        flowing = data | {"style": style | {"sides": False}}
        pages = set_with_places("checklist.typ", flowing, catalogue.edition.date, out_path, small=True)
    return Printed(path=out_path, pages=pages, cards=0)


def _fields(unit: MadeUp | None) -> tuple[str, ...]:
    """What is written in at the top. A unit that tows nothing has no trailers to name."""
    if unit is None or set(unit.vehicles) & TRAILERS:
        return FIELDS
    return tuple(key for key in FIELDS if key != "print-trailers")
