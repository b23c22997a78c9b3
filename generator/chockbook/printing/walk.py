"""The two sheets of "walk and say": the student's to practise with, and the instructor's to mark on."""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path
from typing import Any

from ..catalogue import Catalogue
from ..catalogue.usual_units import USUAL, USUAL_UNITS
from ..views.carrier_unit import MadeUp
from ..views.walk import unit_to_walk_name, view_walk
from ..views.wording import fixed_word
from .document_data import document_data
from .places import Place, no_heads, set_with_places
from .printed import Printed

ABOUT = {"walk": 20, "score": 6}
"""Pages of a sheet of the usual unit, near enough to have as many digits."""


def render_walk_sheet(
    catalogue: Catalogue, rulebook_id: str, language: str, out_path: Path, unit: MadeUp | None = None, vehicle: str = ""
) -> Printed:
    """Write the student's practice sheet: for each step of the route the hand, the words, and what good looks like.

    Args:
        catalogue: the checked catalogue.
        rulebook_id: the rulebook that figures and steps not to be missed come from.
        language: code of its language.
        out_path: the PDF to write.
        unit: leaves out what the unit does not have; without it the usual tractor and trailer are taken.
        vehicle: what the unit is called on the sheet.

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
        MissingWording: a text has not been written in the language.
        SettingFailed: the compiler objects.
    """
    return _render("walk", "walk_sheet.typ", catalogue, rulebook_id, language, out_path, unit, vehicle)


def render_score_sheet(
    catalogue: Catalogue, rulebook_id: str, language: str, out_path: Path, unit: MadeUp | None = None, vehicle: str = ""
) -> Printed:
    """Write the instructor's score sheet: a line a step, a box a mark, what each page and all of them are worth.

    Args and errors as for render_walk_sheet.
    """
    return _render("score", "score_sheet.typ", catalogue, rulebook_id, language, out_path, unit, vehicle)


def _render(kind: str, template: str, catalogue: Catalogue, rulebook_id: str, language: str, out_path: Path,
            unit: MadeUp | None, vehicle: str) -> Printed:  # fmt: skip
    if unit is None:
        unit, vehicle = USUAL_UNITS[USUAL], unit_to_walk_name(catalogue, USUAL, language)
    view = view_walk(catalogue, rulebook_id, language, unit, vehicle)
    stops = any(severity.may_drive == "no" for severity in catalogue.rulebook[rulebook_id].severities)
    name = out_path.stem if "." in out_path.stem else f"{out_path.stem}.{rulebook_id}.{language}"
    data = document_data(kind, catalogue, rulebook_id, language, name) | {
        "view": asdict(view),
        "rule": fixed_word(catalogue, "walk-must-rule" if stops else "walk-must-none", language),
        "count": _filled(catalogue, "walk-count", language, steps=view.n_steps, musts=view.n_must, marks=view.marks),
        "pass": _filled(catalogue, "walk-pass", language, marks=view.marks, percent=view.pass_percent,
                        **{"pass": view.pass_marks}),
    }  # fmt: skip
    marks = {f"step-{step.number}": step.marks for station in view.stations for step in station.steps}

    data["most"] = max(marks.values(), default=1)

    def worth(places: list[Place], pages: int) -> list[dict[str, Any]]:
        """What the steps of each page are worth together, from where they came to stand."""
        sums = dict.fromkeys(range(1, pages + 1), 0)
        for key, page, _ in places:
            sums[page] += marks[key]
        return [{"marks": own} for own in sums.values()]

    heads = worth if kind == "score" else no_heads
    pages = set_with_places(template, data, catalogue.edition.date, out_path, heads=heads, small=True, about=ABOUT[kind])
    return Printed(path=out_path, pages=pages, cards=0)


def _filled(catalogue: Catalogue, key: str, language: str, **values: int) -> str:
    text = fixed_word(catalogue, key, language)
    for name, value in values.items():
        text = text.replace("{" + name + "}", str(value))
    return text
