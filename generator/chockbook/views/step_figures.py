"""The rulebook's own figures for a step of the route: those of its wheels, and of the unit that is inspected."""

from __future__ import annotations

from ..catalogue import Catalogue, LimitRow, StepRecord
from .carrier_unit import MadeUp
from .entry import FigureView, view_limit
from .figure_tables import figure_line

MOST_FIGURES_IN_A_ROW = 2
"""More figures than this would turn a row into a table; they stand in the manual and on the site."""
_BY_TRAILERS = ("tractor-alone", "one-trailer", "two-or-more-trailers")


def own_figures(
    catalogue: Catalogue, step: StepRecord, rulebook_id: str, language: str, unit: MadeUp | None
) -> tuple[FigureView, ...]:
    """The figures of the rulebook that hold at a step; of every unit where there is none.

    Raises:
        MissingWording: a text has not been written in the language.
    """
    if not step.figure:
        return ()
    record = catalogue.limit[step.figure]
    told = _told_by_unit(unit)
    figures = view_limit(catalogue, record, language).figures
    return tuple(
        figure
        for row, figure in zip(record.rows, figures, strict=True)
        if row.rulebook == rulebook_id
        and _fits_axle(step, row)
        and all(row.when.get(condition, answer) == answer for condition, answer in told.items())
    )


def figure_lines(
    catalogue: Catalogue, step: StepRecord, figures: tuple[FigureView, ...], language: str
) -> tuple[str, ...]:
    """A step's figures as they stand in its row; none where there are many.

    Raises:
        MissingWording: a text has not been written in the language.
    """
    if not step.figure or len(figures) > MOST_FIGURES_IN_A_ROW:
        return ()
    limit = view_limit(catalogue, catalogue.limit[step.figure], language)
    return tuple(figure_line(limit, figure) for figure in figures)


def _fits_axle(step: StepRecord, row: LimitRow) -> bool:
    """Whether a figure is for the wheels that a step is about; one that names no axle is for all."""
    axle = row.when.get("axle")
    return step.axle is None or axle is None or (axle == "front") == (step.axle == "front")


def _told_by_unit(unit: MadeUp | None) -> dict[str, str]:
    """What a unit answers of the conditions of figures: how many vehicles it has, and what draws what.

    A converter dolly is not counted as a vehicle: the fewer there are, the stricter the figures. Of a truck with a
    trailer no rulebook names the combination, so that condition stays open.
    """
    if unit is None:
        return {}
    trailers = sum(vehicle == "trailer" for vehicle in unit.vehicles)
    told = {"units": str(min(1 + trailers, 3))}
    if "tractor" in unit.vehicles:
        told["combination"] = _BY_TRAILERS[min(trailers, 2)]
    elif not trailers:
        told["combination"] = "straight-truck"
    return told
