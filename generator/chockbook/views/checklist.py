"""The walk-round and in-cab checklist: every step in route order, and what the report holds."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby

from ..catalogue import Catalogue, StationRecord, StepRecord
from .entry import LimitView, view_limit
from .figure_tables import figure_line
from .grouping import rulebook_named
from .wording import fixed_word, in_language


@dataclass(frozen=True, slots=True)
class StepView:
    """A step: what to do, what good looks like, the figure beside it, and where it applies."""

    id: str
    number: int
    """Counts on from station to station, so that a driver who was called away finds the row again."""
    act: str
    act_name: str
    item: str
    """What is looked at, in a few words; with `want` it makes a row of the checklist."""
    want: str
    """The state or value wanted, in a few words."""
    do: str
    good: str
    figures: tuple[str, ...]
    """The rulebook's own figures for the step as printed, each with its label where there are several."""
    figure_note: str | None
    """Where the figures stand if there are too many for a row."""
    figures_confirmed: bool
    limit_id: str | None
    only: str | None
    """For which vehicles or equipment the row is, where it is not for every unit of the station."""
    caution: str | None
    """The hazard and how to avoid it, before the first step of the station that has it."""
    caution_word: str | None
    finds: tuple[str, ...]
    """Ids of the entries that the step can turn up and of which the rulebook speaks."""


@dataclass(frozen=True, slots=True)
class StationView:
    """A place to stand."""

    id: str
    name: str
    stage: str
    stage_name: str
    begin_when: str
    time: str
    """Usual time for its steps together, in words."""
    only: str | None
    steps: tuple[StepView, ...]


@dataclass(frozen=True, slots=True)
class StageView:
    """Stations that follow one another and belong together, such as all in the cab."""

    name: str
    stations: tuple[StationView, ...]


@dataclass(frozen=True, slots=True)
class ReportFieldView:
    """A thing that the report holds under the rulebook."""

    id: str
    name: str
    confirmed: bool


@dataclass(frozen=True, slots=True)
class ChecklistView:
    """The checklist."""

    rulebook_short_name: str
    stages: tuple[StageView, ...]
    report: tuple[ReportFieldView, ...]


MOST_FIGURES_IN_A_ROW = 2
"""More figures than this turn a checklist row into a table; the row then says where they are."""


def view_stations(catalogue: Catalogue, rulebook_id: str, language: str) -> tuple[StationView, ...]:
    """The route in one language.

    Raises:
        MissingWording: a text has not been written in the language.
    """
    stations = []
    number = 0
    for station in catalogue.stations:
        steps = []
        warned: set[str] = set()
        for step in station.steps:
            number += 1
            caution = step.caution if step.caution not in warned else None
            warned.update({caution} if caution else ())
            steps.append(_view_step(catalogue, station, step, caution, number, rulebook_id, language))
        stations.append(
            StationView(
                id=station.id,
                name=in_language(station.name, language),
                stage=station.stage,
                stage_name=fixed_word(catalogue, f"stage-{station.stage}", language),
                begin_when=in_language(station.begin_when, language),
                time=_time(catalogue, sum(step.seconds for step in station.steps), language),
                only=_only(catalogue, list(station.vehicles), list(station.fitted), language),
                steps=tuple(steps),
            )
        )
    return tuple(stations)


def view_checklist(catalogue: Catalogue, rulebook_id: str, language: str) -> ChecklistView:
    """The checklist of one rulebook.

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
        MissingWording: a text has not been written in the language.
    """
    rulebook = rulebook_named(catalogue, rulebook_id)
    stations = view_stations(catalogue, rulebook_id, language)
    return ChecklistView(
        rulebook_short_name=in_language(rulebook.short_name, language),
        stages=tuple(
            StageView(name, tuple(group))
            for name, group in groupby(stations, key=lambda station: station.stage_name)
        ),
        report=tuple(
            ReportFieldView(field.id, in_language(field.name, language), field.confirmed)
            for field in rulebook.report
        ),
    )


def _view_step(
    catalogue: Catalogue,
    station: StationRecord,
    step: StepRecord,
    caution_id: str | None,
    number: int,
    rulebook_id: str,
    language: str,
) -> StepView:
    limit = view_limit(catalogue, catalogue.limit[step.figure], language) if step.figure else None
    figures, note, confirmed = _figures(catalogue, limit, rulebook_id, language)
    caution = catalogue.caution[caution_id] if caution_id else None
    vehicles = [vehicle for vehicle in step.vehicles if set(step.vehicles) != set(station.vehicles)]
    return StepView(
        id=step.id,
        number=number,
        act=step.act,
        act_name=fixed_word(catalogue, f"act-{step.act}", language),
        item=in_language(step.item, language),
        want=in_language(step.want, language),
        do=in_language(step.do, language),
        good=in_language(step.good, language),
        figures=figures,
        figure_note=note,
        figures_confirmed=confirmed,
        limit_id=step.figure,
        only=_only(catalogue, vehicles, list(step.fitted), language),
        caution=" ".join(in_language(text, language) for text in (caution.hazard, caution.avoid))
        if caution
        else None,
        caution_word=fixed_word(catalogue, f"signal-{caution.level}", language) if caution else None,
        finds=tuple(key for key in step.finds if catalogue.entry[key].rulings_under(rulebook_id)),
    )


def _figures(
    catalogue: Catalogue, limit: LimitView | None, rulebook_id: str, language: str
) -> tuple[tuple[str, ...], str | None, bool]:
    """The figures for a row, a note where they do not go in it, and whether all are confirmed."""
    if limit is None:
        return (), None, True
    own = [figure for figure in limit.figures if figure.rulebook_id == rulebook_id]
    confirmed = all(figure.confirmed for figure in own)
    if not own or len(own) > MOST_FIGURES_IN_A_ROW:
        return (), fixed_word(catalogue, "figures-in-manual", language), confirmed
    return tuple(figure_line(limit, figure) for figure in own), None, confirmed


def _only(catalogue: Catalogue, vehicles: list[str], fitted: list[str], language: str) -> str | None:
    """ "Tractor, trailer; if fitted: tarp" or None."""
    parts = []
    if vehicles and len(vehicles) < 4:
        names = [fixed_word(catalogue, f"vehicle-{vehicle}", language) for vehicle in vehicles]
        parts.append(", ".join([names[0], *(name.lower() for name in names[1:])]))
    if fitted:
        names = [fixed_word(catalogue, f"fitted-{item}", language) for item in fitted]
        parts.append(f"{fixed_word(catalogue, 'print-if-fitted', language)}: {', '.join(names)}")
    return "; ".join(parts) or None


def _time(catalogue: Catalogue, seconds: int, language: str) -> str:
    """Seconds under two minutes, else minutes to the nearest half."""
    if seconds < 120:
        return f"{seconds} {fixed_word(catalogue, 'unit-seconds', language)}"
    halves = round(seconds / 30)
    whole = f"{halves // 2}" + (" 1/2" if halves % 2 else "")
    return f"{whole} {fixed_word(catalogue, 'unit-minutes', language)}"
