"""The printed sheet of pairs to tell apart."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from ..catalogue import Catalogue
from ..views.pairs import Marked, Pair, PairSide, view_pairs
from ..views.sides import FigureLine
from ..views.wording import fixed_word
from .document_data import document_data
from .places import set_with_places
from .printed import Printed

PAIRS_ON_A_PAGE = 8
"""Near enough to guess how many digits the number of pages has."""


def render_pairs(catalogue: Catalogue, rulebook_id: str, language: str, out_path: Path) -> Printed:
    """Write the pairs of a rulebook, system by system. Where there are none, there is nothing to print: see has_pairs.

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
        MissingWording: a text has not been written in the language.
        SettingFailed: the compiler objects.
    """
    systems = view_pairs(catalogue, rulebook_id, language)
    number = str(sum(system.number for system in systems))

    def line_of(line: FigureLine) -> str:
        more = fixed_word(catalogue, "across-more-figures", language).replace("{number}", str(line.more))
        return f"{line.quantity}: {more if line.more else '; '.join(line.figures)}"

    def pair_of(pair: Pair) -> dict[str, Any]:
        return {
            "component": pair.component_name,
            "difference": pair.difference,
            "goes_on": side_of(pair.goes_on),
            "stops": side_of(pair.stops),
            "figures": [line_of(line) for line in pair.figures],
        }

    def side_of(one: PairSide) -> dict[str, Any]:
        return {
            "may_drive": one.ruling.may_drive,
            "outcome": one.ruling.outcome,
            "severity": one.ruling.severity_name,
            "confirmed": one.ruling.confirmed,
            "condition": _pieces(one.condition),
            "applies_when": _pieces(one.applies_when),
            "figures": [line_of(line) for line in one.figures],
            "locator": one.ruling.locator,
        }

    data = document_data("pairs", catalogue, rulebook_id, language) | {
        "systems": [{"name": system.name, "pairs": [pair_of(pair) for pair in system.pairs]} for system in systems],
        "count": fixed_word(catalogue, "pairs-count", language).replace("{number}", number),
    }
    pages = set_with_places("pairs.typ", data, catalogue.edition.date, out_path, small=True,
                            about=1 + int(number) // PAIRS_ON_A_PAGE)  # fmt: skip
    return Printed(path=out_path, pages=pages, cards=0)


def _pieces(text: Marked) -> list[dict[str, Any]]:
    return [{"text": words, "differs": differs} for words, differs in text]
