"""The printed border sheet: what changes from one rulebook to another, on two sheets at most."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict
from pathlib import Path

from ..catalogue import Catalogue
from ..views.border_sheet import view_border_sheet
from ..views.wording import fixed_word, in_language
from .document_data import document_data
from .places import set_with_places
from .printed import Printed

MOST_SIDES = 4
"""Two sheets, both sides."""


def render_comparison(
    catalogue: Catalogue, rulebook_id: str, other_id: str, language: str, out_path: Path
) -> Printed:
    """Write the sheet for a driver who knows one rulebook and crosses into another; it prints on letter and
    on A4.

    Where the lists do not fit on two sheets, their lines are cut to the defect and its mark; where that is
    not
    enough, lists are left out from the end, where the mildest news stands, and the sheet says how much they
    hold.

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
        MissingWording: a text has not been written in the language.
        SettingFailed: the compiler objects.
    """
    view = view_border_sheet(catalogue, rulebook_id, other_id, language)
    name = f"comparison.{rulebook_id}.{other_id}.{language}"
    data = document_data("comparison", catalogue, rulebook_id, language, name)
    # A word that has not been written in the language comes marked, and never stops the printing.
    data["words"] = {key: in_language(text, language) for key, text in catalogue.words.items()}
    more = fixed_word(catalogue, "across-sheet-more", language)
    pages = 0
    for kept, brief in _ways(len(view.sections)):
        left = view.sections[kept:]
        told = [f"{section.title}. {more.replace('{number}', str(section.number))}" for section in left]
        shown = {
            "sections": [asdict(section) for section in view.sections[:kept]],
            "left": told,
            "brief": brief,
        }
        pages = set_with_places(
            "comparison.typ", data | {"view": asdict(view) | shown}, catalogue.edition.date, out_path
        )
        if pages <= MOST_SIDES:
            break
    return Printed(path=out_path, pages=pages, cards=0)


def _ways(sections: int) -> Iterator[tuple[int, bool]]:
    """How many lists to keep and whether in brief, from the fullest sheet to the emptiest."""
    for kept in range(sections, 0, -1):
        yield kept, False
        yield kept, True
    yield 0, False
