"""The printed daily inspection report form."""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path

from ..catalogue import Catalogue
from ..catalogue.carrier import CarrierRecord
from ..views.report_form import view_report_form
from .document_data import document_data
from .places import set_with_places
from .printed import Printed

DEFECT_LINES = (7, 12)
"""Lines for defects on the front and on the back."""


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
    data = document_data("report", catalogue, rulebook_id, language, name) | {
        "view": asdict(view_report_form(catalogue, rulebook_id, language, carrier)),
        "defect_lines": DEFECT_LINES,
    }
    pages = set_with_places("report_form.typ", data, catalogue.edition.date, out_path, small=True)
    return Printed(path=out_path, pages=pages, cards=0)
