"""The printed border sheet: what changes from one rulebook to another, on two sheets at most."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict
from pathlib import Path
from typing import Any

from ..catalogue import Catalogue
from ..views.border_sheet import view_border_sheet
from ..views.wording import fixed_word, in_language
from .document_data import document_data
from .places import set_with_places
from .printed import Printed

MOST_SIDES = 4
"""Two sheets, both sides."""
FULL_SIDE = 5000
"""Letters that no side has held yet (4,750 at most): a way with more for each of the sides is not tried, since setting
takes long."""


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
    figures_title = fixed_word(catalogue, "across-other-figure", language)
    ways = list(_ways(len(view.sections)))
    for kept, brief, figures in ways:
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
        last = (kept, brief, figures) == ways[-1]
        if _letters(shown, asdict(view)) > MOST_SIDES * FULL_SIDE and not last:
            continue
        pages = set_with_places(
            "comparison.typ", data | {"view": asdict(view) | shown}, catalogue.edition.date, out_path, small=True,
            most=None if last else MOST_SIDES,
        )  # fmt: skip
        if pages <= MOST_SIDES:
            break
    return Printed(path=out_path, pages=pages, cards=0)


def _ways(sections: int) -> Iterator[tuple[int, bool, bool]]:
    """How many lists to keep, whether in brief, and whether with the figures: from the fullest sheet to the
    emptiest. The worst list is worth more than the figures, which have a page and a chapter of their own."""
    for kept in range(sections, 0, -1):
        yield kept, False, True
        yield kept, True, True
    if sections:
        yield 1, True, False
    yield 0, False, True


def _letters(shown: dict[str, Any], view: dict[str, Any]) -> int:
    """About how much a way has to set: the letters of its lines and figures, and a line's worth for each mark."""
    lines = [line for section in shown["sections"] for group in section["groups"] for line in group["lines"]]
    figures = shown.get("figures", view["figures"])
    return sum(len(line["name"]) + (0 if shown["brief"] else len(line["detail"])) + 12 for line in lines) + sum(
        2 * len("".join([figure["quantity"], *figure["here"], *figure["there"]])) for figure in figures
    )
