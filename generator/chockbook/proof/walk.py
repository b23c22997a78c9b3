"""The sheets of "walk and say" against the route: every step of a unit, its words, its marks, their sum."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from ..catalogue import Catalogue, StepRecord
from ..catalogue.wording import in_language
from .facts import Reader, reader_of
from .manual import page_furniture
from .objection import Objection
from .read_pdf import PdfReading
from .reading import squash

VEHICLES = ("tractor", "trailer")
EQUIPMENT = {"air-brakes", "fifth-wheel", "air-suspension", "spring-suspension", "def-system", "sleeper", "cargo"}
"""The usual unit, written here again: what the views take it for is on the other side of the proof."""


class Walked(NamedTuple):
    """A unit that is walked round."""

    vehicles: tuple[str, ...]
    """One for each, so that two trailers are two."""
    equipment: frozenset[str]
    name: str | None = None
    """As its sheets call it; None for the usual unit, which has a fixed word."""


USUAL = Walked(VEHICLES, frozenset(EQUIPMENT))


def prove_walk_sheet(catalogue: Catalogue, reading: PdfReading, name: str, rulebook_id: str, language: str,
                     unit: Walked = USUAL) -> Iterator[Objection]:  # fmt: skip
    """Objections to the student's sheet: each step with its hazard, hand, words and what is good, in route order."""
    reader = reader_of(catalogue, language)
    steps = steps_of(catalogue, unit)
    yield from _counts(reader, reading, name, rulebook_id, steps, unit)
    musts = {step.id for step in steps if stops(catalogue, step, rulebook_id, unit)}
    warned = _hazards(reader, steps)
    at = 0
    for number, step in enumerate(steps, 1):
        must = reader.word("walk-must") if step.id in musts else ""
        texts = [in_language(step.do, language), said_at(step, language), in_language(step.good, language)]
        hazard = [warned[step.id]] if step.id in warned else []
        row = squash("".join([str(number), *hazard, in_language(step.item, language), must, *texts]))
        found = reading.text.find(row, at)
        if found < 0:
            yield Objection(name, step.id, f"does not say, in its place: {' '.join([*hazard, *texts])}")
        else:
            at = found + len(row)


def prove_score_sheet(catalogue: Catalogue, reading: PdfReading, name: str, rulebook_id: str, language: str,
                      unit: Walked = USUAL) -> Iterator[Objection]:  # fmt: skip
    """Objections to the instructor's sheet: each step with its hand, the marks of each page, the pass mark."""
    reader, marking = reader_of(catalogue, language), catalogue.marking
    steps = steps_of(catalogue, unit)
    yield from _counts(reader, reading, name, rulebook_id, steps, unit)
    marks = sum(marking.marks_of(step) for step in steps)
    least = next(n for n in range(marks + 1) if 100 * n >= marks * marking.pass_percent)
    line = filled(reader.word("walk-pass"), marks=marks, percent=marking.pass_percent, **{"pass": least})
    if squash(line) not in reading.text:
        yield Objection(name, "pass mark", f"does not say: {line}")
    pages = pages_of_steps(reading, steps, language)
    for step, page in zip(steps, pages, strict=True):
        if page is None:
            yield Objection(name, step.id, f"does not say, in its place: {in_language(step.do, language)}")
    for page in range(1, len(reading.pages) + 1):
        line = page_line(reader, marks_on(catalogue, steps, pages, page))
        if line and squash(line) not in reading.furniture[page - 1]:
            yield Objection(name, f"page {page}", f"does not say: {line}")


def _counts(reader: Reader, reading: PdfReading, name: str, rulebook_id: str, steps: list[StepRecord],
            unit: Walked) -> Iterator[Objection]:  # fmt: skip
    """What is wrong with the foot of each page and with the numbers of steps and marks."""
    yield from page_furniture(reader, reading, name)
    catalogue = reader.catalogue
    musts = sum(stops(catalogue, step, rulebook_id, unit) for step in steps)
    marks = sum(catalogue.marking.marks_of(step) for step in steps)
    line = filled(reader.word("walk-count"), steps=len(steps), musts=musts, marks=marks)
    if squash(line) not in reading.text:
        yield Objection(name, "sum", f"does not say: {line}")


def pages_of_steps(reading: PdfReading, steps: list[StepRecord], language: str) -> list[int | None]:
    """The page of each step of the score sheet, from 1; None where it does not stand in its place."""
    pages: list[int | None] = []
    at = 0
    for number, step in enumerate(steps, 1):
        row = squash(f"{number}{in_language(step.do, language)}")
        found = reading.text.find(row, at)
        pages.append(reading.page_at(found) if found >= 0 else None)
        at = found + len(row) if found >= 0 else at
    return pages


def marks_on(catalogue: Catalogue, steps: list[StepRecord], pages: list[int | None], page: int) -> int:
    """What the steps of a page are worth together."""
    return sum(catalogue.marking.marks_of(step) for step, own in zip(steps, pages, strict=True) if own == page)


def page_line(reader: Reader, marks: int) -> str:
    """The line above the foot of a page of the score sheet; nothing where no step stands on it."""
    return f"{reader.word('walk-page-total')} {reader.word('print-of')} {marks}" if marks else ""


def steps_of(catalogue: Catalogue, unit: Walked = USUAL) -> list[StepRecord]:
    """The steps of a unit: those for what it has, with something on it to find."""
    wanted = []
    for station in catalogue.stations:
        for step in station.steps:
            found = [catalogue.entry[key] for key in step.finds]
            can = [e for e in found if set(e.vehicles) & set(unit.vehicles) and set(e.component.fitted) <= unit.equipment]
            kinds = set(step.vehicles or station.vehicles)
            fits = {*station.fitted, *step.fitted} <= unit.equipment and kinds & set(unit.vehicles)
            alone = set(unit.vehicles) <= {"truck", "tractor"}
            if fits and not (step.towing and alone) and (can or not found):
                wanted.append(step)
    return wanted


def _hazards(reader: Reader, steps: list[StepRecord]) -> dict[str, str]:
    """By id of a step the hazard that stands with it: each once at a station, with the first step that has it."""
    found = {}
    for station in reader.catalogue.stations:
        told = set()
        for step in station.steps:
            if step in steps and step.caution and step.caution not in told:
                told.add(step.caution)
                caution = reader.catalogue.caution[step.caution]
                hazard, avoid = (in_language(text, reader.language) for text in (caution.hazard, caution.avoid))
                found[step.id] = f"{reader.word(f'signal-{caution.level}')}{hazard}{avoid}"
    return found


def stops(catalogue: Catalogue, step: StepRecord, rulebook_id: str, unit: Walked | None = USUAL) -> bool:
    """Whether a step is not to be missed: a matter of life that can stop the unit, or the route's table says so.

    Args:
        unit: None stands for every vehicle there is.
    """
    if step.must:
        return True
    for key in step.finds if step.life else ():
        entry = catalogue.entry[key]
        on_it = unit is None or (set(entry.vehicles) & set(unit.vehicles) and set(entry.component.fitted) <= unit.equipment)
        if on_it and any(ruling.severity.may_drive == "no" for ruling in entry.rulings_under(rulebook_id)):
            return True
    return False


def said_at(step: StepRecord, language: str) -> str:
    """What a student says at a step."""
    if step.say:
        return in_language(step.say, language)
    return f"{in_language(step.item, language)}:{in_language(step.want, language)}."


def filled(text: str, **values: int) -> str:
    """A text with its places filled."""
    for key, value in values.items():
        text = text.replace("{" + key + "}", str(value))
    return text
