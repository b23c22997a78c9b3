"""The walk-round and in-cab checklist: the steps of a unit in route order, and what the report holds."""

from __future__ import annotations

from dataclasses import replace

from ..catalogue import Catalogue, StationRecord, StepRecord
from ..catalogue.usual_units import USUAL, USUAL_UNITS
from .carrier_unit import MadeUp, can_have
from .cautions import view_caution
from .checklist_records import ChecklistView, ReportFieldView, SideView, StageView, StationView, StepView
from .grouping import rulebook_named
from .step_figures import figure_lines, own_figures
from .wording import fixed_word, in_language

TRAILERS = {"trailer", "converter-dolly"}
"""Kinds of vehicle of which a unit can have several."""
SIDES = (("make-safe", "in-cab"), ("walk-round",), ("air-brake-tests", "finish"))
"""Stages that share a side of paper, so that no page has to be turned in the middle of one."""
USUAL_UNIT = USUAL_UNITS[USUAL]
"""A loaded tractor and trailer as most are: the checklist of nobody in particular is for this one."""


def view_stations(
    catalogue: Catalogue, rulebook_id: str, language: str, unit: MadeUp | None = None
) -> tuple[StationView, ...]:
    """The route in one language: of one unit, or of every vehicle where there is none.

    Raises:
        MissingWording: a text has not been written in the language.
    """
    stations: list[StationView] = []
    number = 0
    told: set[tuple[str | None, str | None]] = set()
    for station in catalogue.stations:
        steps: list[StepView] = []
        warned: set[str] = set()
        seconds = 0
        for step in station.steps:
            if not _is_done(catalogue, station, step, unit):
                continue
            number += 1
            caution = step.caution if step.caution not in warned else None
            warned.update({caution} if caution else ())
            view = _view_step(catalogue, station, step, caution, number, rulebook_id, language, unit)
            figured = (step.figure, step.axle)
            view = replace(view, new_figures=bool(view.figures) and figured not in told)
            told.add(figured)
            seconds += step.seconds * view.boxes
            steps.append(view)
        if not steps:
            continue
        only = None if unit else _only(catalogue, list(station.vehicles), list(station.fitted), language)
        stations.append(
            StationView(
                id=station.id,
                name=in_language(station.name, language),
                stage=station.stage,
                stage_name=fixed_word(catalogue, f"stage-{station.stage}", language),
                begin_when=in_language(station.begin_when, language),
                time=_time(catalogue, seconds, language),
                short_time=_time(catalogue, seconds, language, short=True),
                seconds=seconds,
                only=only,
                boxes=max(step.boxes for step in steps),
                steps=tuple(steps),
            )
        )
    return tuple(stations)


def view_checklist(
    catalogue: Catalogue, rulebook_id: str, language: str, unit: MadeUp | None = None
) -> ChecklistView:
    """The checklist of a unit under a rulebook, or of every vehicle where there is no unit.

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
        MissingWording: a text has not been written in the language.
    """
    rulebook = rulebook_named(catalogue, rulebook_id)
    stations = view_stations(catalogue, rulebook_id, language, unit)
    sides = []
    for stages in SIDES:
        side = [_stage(catalogue, stage, stations, language) for stage in stages]
        if any(stage.stations for stage in side):
            sides.append(_side(catalogue, tuple(stage for stage in side if stage.stations), language))
    return ChecklistView(
        rulebook_short_name=in_language(rulebook.short_name, language),
        vehicles=_listed(
            [fixed_word(catalogue, f"vehicle-{v}", language) for v in unit.vehicles] if unit else []
        ),
        equipment=_listed(
            [fixed_word(catalogue, f"fitted-{e}", language) for e in unit.equipment] if unit else []
        ),
        n_steps=sum(len(station.steps) for station in stations),
        time=_time(catalogue, sum(station.seconds for station in stations), language),
        sides=tuple(sides),
        report=view_report_fields(catalogue, rulebook_id, language),
    )


def view_report_fields(catalogue: Catalogue, rulebook_id: str, language: str) -> tuple[ReportFieldView, ...]:
    """What the report holds under a rulebook."""
    return tuple(
        ReportFieldView(field.id, in_language(field.name, language), field.confirmed)
        for field in rulebook_named(catalogue, rulebook_id).report
    )


def _stage(catalogue: Catalogue, stage: str, stations: tuple[StationView, ...], language: str) -> StageView:
    here = tuple(station for station in stations if station.stage == stage)
    return StageView(
        name=fixed_word(catalogue, f"stage-{stage}", language),
        time=_time(catalogue, sum(station.seconds for station in here), language),
        stations=here,
    )


def _side(catalogue: Catalogue, stages: tuple[StageView, ...], language: str) -> SideView:
    done = {step.id for stage in stages for station in stage.stations for step in station.steps}
    met = {step.caution for station in catalogue.stations for step in station.steps if step.id in done}
    hazards = [caution for caution in catalogue.cautions if caution.id in met]
    return SideView(tuple(view_caution(catalogue, caution, language) for caution in hazards), stages)


def _is_done(catalogue: Catalogue, station: StationRecord, step: StepRecord, unit: MadeUp | None) -> bool:
    """Whether a unit has what the step is about: the vehicle, what is fitted, and something to find."""
    if unit is None:
        return True
    if not {*station.fitted, *step.fitted} <= set(unit.equipment):
        return False
    if not set(step.vehicles or station.vehicles) & set(unit.vehicles):
        return False
    if step.towing and not TRAILERS & set(unit.vehicles):
        return False
    return not step.finds or any(can_have(unit, catalogue.entry[key]) for key in step.finds)


def _view_step(
    catalogue: Catalogue,
    station: StationRecord,
    step: StepRecord,
    caution_id: str | None,
    number: int,
    rulebook_id: str,
    language: str,
    unit: MadeUp | None,
) -> StepView:
    figures = own_figures(catalogue, step, rulebook_id, language, unit)
    caution = view_caution(catalogue, catalogue.caution[caution_id], language) if caution_id else None
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
        figures=figure_lines(catalogue, step, figures, language),
        new_figures=False,
        figures_confirmed=all(figure.confirmed for figure in figures),
        limit_id=step.figure,
        only=None if unit else _only(catalogue, vehicles, list(step.fitted), language),
        caution=f"{caution.hazard} {caution.avoid}" if caution else None,
        caution_word=caution.signal_word if caution else None,
        boxes=_boxes(set(step.vehicles or station.vehicles), unit),
        finds=tuple(key for key in step.finds if catalogue.entry[key].rulings_under(rulebook_id)),
    )


def _boxes(vehicles: set[str], unit: MadeUp | None) -> int:
    """One box, or one for each trailer and dolly where the step is for those alone."""
    if unit is None or not vehicles <= TRAILERS:
        return 1
    return sum(vehicle in vehicles for vehicle in unit.vehicles)


def _only(catalogue: Catalogue, vehicles: list[str], fitted: list[str], language: str) -> str | None:
    """ "Tractor, trailer; if fitted: tarp" or None."""
    parts = []
    if vehicles and len(vehicles) < 4:
        parts.append(_listed([fixed_word(catalogue, f"vehicle-{vehicle}", language) for vehicle in vehicles]))
    if fitted:
        names = [fixed_word(catalogue, f"fitted-{item}", language) for item in fitted]
        parts.append(f"{fixed_word(catalogue, 'print-if-fitted', language)}: {', '.join(names)}")
    return "; ".join(parts) or None


def _listed(names: list[str]) -> str:
    """ "Tractor, trailer", with a capital at the beginning only."""
    return ", ".join([*names[:1], *(name[:1].lower() + name[1:] for name in names[1:])])


def _time(catalogue: Catalogue, seconds: int, language: str, short: bool = False) -> str:
    """Seconds under two minutes, minutes to the nearest half under ten, else whole minutes."""
    kind = "unit-short" if short else "unit"
    if seconds < 120:
        return f"{seconds}\u00a0{fixed_word(catalogue, f'{kind}-seconds', language)}"
    halves = round(seconds / 30)
    half = halves % 2 and seconds < 600
    whole = f"{halves // 2} 1/2" if half else f"{round(seconds / 60)}"
    return f"{whole}\u00a0{fixed_word(catalogue, f'{kind}-minutes', language)}"
