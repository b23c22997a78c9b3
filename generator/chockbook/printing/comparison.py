"""The printed border sheet: what changes from one rulebook to another, on two sheets at most."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import asdict
from pathlib import Path

from ..catalogue import Catalogue
from ..output import put_whole
from ..views.border_sheet import view_border_sheet
from ..views.wording import fixed_word, in_language
from .document_data import document_data
from .places import set_settled
from .printed import Printed

MOST_SIDES = 4
"""Two sheets, both sides."""


def render_comparison(
    catalogue: Catalogue, rulebook_id: str, other_id: str, language: str, out_path: Path
) -> Printed:
    """Write the sheet for a driver who knows one rulebook and crosses into another; it prints on letter and on A4.

    Where the lists do not fit on two sheets, their lines are cut to the defect and its mark; where that is not enough,
    lists are left out from the end, where the mildest news stands, and the sheet says how much they hold.

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
    figures_title = fixed_word(catalogue, "across-other-figure", language)

    def set_with(kept: int, brief: bool, figures: bool = True, most: int | None = MOST_SIDES) -> tuple[bytes, int]:
        """The sheet with so many of its lists, in brief or not; no bytes where it has more sides than wanted."""
        left = [(section.title, section.number) for section in view.sections[kept:]]
        if view.figures and not figures:
            left.append((figures_title, len(view.figures)))
        shown = {
            "sections": [asdict(section) for section in view.sections[:kept]],
            "left": [f"{title}. {more.replace('{number}', str(number))}" for title, number in left],
            "brief": brief,
        }
        if not figures:
            shown["figures"] = []
        whole = data | {"view": asdict(view) | shown}
        return set_settled("comparison.typ", whole, catalogue.edition.date, small=True, most=most)

    pdf, pages = _fullest(set_with, len(view.sections))
    put_whole(out_path, pdf)
    return Printed(path=out_path, pages=pages, cards=0)


def _fullest(set_with: Callable[..., tuple[bytes, int]], sections: int) -> tuple[bytes, int]:
    """The sheet with the most lists that fit, in full where so many fit in full too.

    Lists are added one by one: a short sheet takes less time to set than a long one that does not fit. The worst
    list is worth more than the figures, which have a page and a chapter of their own.
    """
    found, pages = b"", 0
    for kept in range(1, sections + 1):
        pdf, sides = set_with(kept, brief=True)
        if not pdf:
            break
        found, pages, most_kept = pdf, sides, kept
    if found:
        pdf, sides = set_with(most_kept, brief=False)
        return (pdf, sides) if pdf else (found, pages)
    if sections:
        found, pages = set_with(1, brief=True, figures=False)
    return (found, pages) if found else set_with(0, brief=False, most=None)
