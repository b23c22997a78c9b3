"""The printed daily inspection report form."""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path
from typing import Any

from ..catalogue import Catalogue
from ..catalogue.carrier import CarrierRecord
from ..views.report_form import view_report_form
from .carrier_cover import contact_part
from .document_data import document_data
from .long_words import breakable
from .places import set_settled, set_with_places
from .printed import Printed

FRONT_LINES = (12, 11, 10, 9, 8, 7, 6, 5, 4, 3, 2, 1)
"""Lines for defects on the front, above the signatures: the first number that leaves these there."""
BACK_LINES = (22, 20, 18, 16, 14, 12, 10, 8)
"""Lines on the back: the first number that leaves the form on one sheet."""
SIDES = 2


def render_report_form(
    catalogue: Catalogue,
    rulebook_id: str,
    language: str,
    out_path: Path,
    carrier: CarrierRecord | None = None,
    name: str | None = None,
) -> Printed:
    """Write the report form of a rulebook: one sheet, both sides, that prints unscaled on letter and on A4.

    Args:
        catalogue: the checked catalogue.
        rulebook_id: the rulebook whose report it is.
        language: code of its language.
        out_path: the PDF to write.
        carrier: puts its name and contacts on the form.
        name: by which the document calls itself.

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
        MissingWording: a text has not been written in the language.
        SettingFailed: the compiler objects.
    """
    form = view_report_form(catalogue, rulebook_id, language, carrier)
    view = asdict(form) | {"contacts": [contact_part(one) for one in form.contacts]}
    data = document_data("report", catalogue, rulebook_id, language, name) | {"view": _with_breaks(view)}
    day = catalogue.edition.date
    front, pages = FRONT_LINES[-1], 0
    for fewer in FRONT_LINES:
        lines = {"defect_lines": (fewer, BACK_LINES[-1])}
        if set_settled("report_form.typ", data | lines, day, small=True, most=SIDES)[1] <= SIDES:
            front = fewer
            break
    for back in BACK_LINES:
        lines = {"defect_lines": (front, back)}
        pages = set_with_places("report_form.typ", data | lines, day, out_path, small=True,
                                most=None if back == BACK_LINES[-1] else SIDES)  # fmt: skip
        if pages <= SIDES:
            break
    return Printed(path=out_path, pages=pages, cards=0)


def _with_breaks(view: dict[str, Any]) -> dict[str, Any]:
    """The view with names of the carrier that may be broken where they are too long for a line."""

    def broken(record: dict[str, Any], *keys: str) -> dict[str, Any]:
        return record | {key: record[key] and breakable(record[key]) for key in keys}

    return broken(view, "carrier") | {
        "head": [broken(field, "filled") for field in view["head"]],
    }
