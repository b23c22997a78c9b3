"""The report of a class on one page: what was missed, two plots, and what the next drill asks more about."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from pathlib import Path

from ..catalogue import Catalogue
from ..views.results import ResultsView
from ..views.wording import fixed_word
from .document_data import document_data
from .places import set_with_places
from .plot_labels import axis_of, placed_labels
from .printed import Printed

PLOT_WIDTH, PLOT_HEIGHT = 62.0, 39.0
"""Millimetres, inside the axes."""
MOST_ROWS = ((6, 6, True), (5, 4, True), (4, 4, True), (4, 3, True), (3, 3, True), (3, 2, True), (2, 2, True), (2, 1, True),
             (1, 1, True), (1, 1, False), (1, 0, False), (0, 0, False))  # fmt: skip
"""Questions, pairs, and whether it is said where pairs were confused: tried until all goes on one page."""


def render_results(
    catalogue: Catalogue, view: ResultsView, rulebook_id: str, language: str, classes: Sequence[str], out_path: Path
) -> Printed:
    """Write the report; as many questions and pairs as go on the page, the most missed first.

    Students' scores are not on it, so that a class can be shown its own report.

    Args:
        catalogue: the checked catalogue.
        view: the results in the language.
        rulebook_id: the rulebook of the sheets.
        language: code of its language.
        classes: codes of the classes, by which the report calls itself.
        out_path: the PDF to write.

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
        MissingWording: a text has not been written in the language.
        SettingFailed: the compiler objects.
        OSError: the file cannot be written.
    """
    name = f"results.{'+'.join(classes[:3])}.{rulebook_id}.{language}"
    data = document_data("results", catalogue, rulebook_id, language, name)
    shown = asdict(view)
    del shown["students"]
    mean_says = fixed_word(catalogue, "results-class-mean", language).replace("{mean}", view.mean_percent)
    pages = 0
    for questions, pairs, where in MOST_ROWS:
        told = [pair if where else pair | {"where": ""} for pair in shown["pairs"][:pairs]]
        rows = {"questions": shown["questions"][:questions], "pairs": told}
        plot = _plot(view, questions, fixed_word(catalogue, "results-decimal", language))
        filled = data | {"view": shown | rows, "plot": plot, "mean_says": mean_says}
        pages = set_with_places("results.typ", filled, catalogue.edition.date, out_path)
        if pages == 1:
            break
    return Printed(path=out_path, pages=pages, cards=0)


def _plot(view: ResultsView, questions: int, comma: str) -> dict:
    """The points in millimetres from the lower left corner, their labels, and the ticks of both axes."""
    across = axis_of([point.share for point in view.points], 0.0, 1.0)
    upward = axis_of([0.0, *(point.discrimination for point in view.points)], -1.0, 1.0)
    points = [
        {"x": round(across.at(point.share) * PLOT_WIDTH, 2),
         "y": round(upward.at(point.discrimination) * PLOT_HEIGHT, 2),
         "number": point.number if view.points_of == "systems" or point.number <= questions else 0}
        for point in view.points
    ]  # fmt: skip
    return {
        "width": PLOT_WIDTH, "height": PLOT_HEIGHT, "points": points,
        "labels": placed_labels(points, PLOT_WIDTH, PLOT_HEIGHT),
        "across": [{"at": round(across.at(tick) * PLOT_WIDTH, 2), "says": f"{100 * tick:.0f}"}
                   for tick in across.ticks],
        "upward": [{"at": round(upward.at(tick) * PLOT_HEIGHT, 2), "zero": abs(tick) < 1e-9,
                    "says": f"{tick:.1f}".replace("-0.0", "0.0").replace(".", comma).replace("-", "\u2212")}
                   for tick in upward.ticks],
    }  # fmt: skip
