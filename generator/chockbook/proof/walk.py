"""The sheets of "walk and say" against the route: every step of the usual unit, its words, its marks, their sum."""

from __future__ import annotations

from collections.abc import Iterator

from ..catalogue import Catalogue, StepRecord
from ..catalogue.wording import in_language
from .facts import Reader
from .manual import page_furniture
from .objection import Objection
from .read_pdf import PdfReading
from .reading import squash

VEHICLES = {"tractor", "trailer"}
EQUIPMENT = {"air-brakes", "fifth-wheel", "air-suspension", "spring-suspension", "def-system", "sleeper", "cargo"}
"""The usual unit, written here again: what the views take it for is on the other side of the proof."""


def prove_walk_sheet(catalogue: Catalogue, reading: PdfReading, name: str, rulebook_id: str,
                     language: str) -> Iterator[Objection]:  # fmt: skip
    """Objections to the student's sheet: each step with its hazard, hand, words and what is good, in route order."""
    yield from _prove(catalogue, reading, name, rulebook_id, language, ("do", "say", "good"), hazards=True)


def prove_score_sheet(catalogue: Catalogue, reading: PdfReading, name: str, rulebook_id: str,
                      language: str) -> Iterator[Objection]:  # fmt: skip
    """Objections to the instructor's sheet: each step with its words, the sum of the marks and the pass mark."""
    yield from _prove(catalogue, reading, name, rulebook_id, language, ("say",))
    steps = steps_of(catalogue)
    reader, marking = Reader(catalogue, language), catalogue.marking
    marks = sum(marking.marks_of(step) for step in steps)
    least = next(n for n in range(marks + 1) if 100 * n >= marks * marking.pass_percent)
    line = filled(reader.word("walk-pass"), marks=marks, percent=marking.pass_percent, **{"pass": least})
    if squash(line) not in reading.text:
        yield Objection(name, "pass mark", f"does not say: {line}")
    for station in catalogue.stations:
        own = sum(marking.marks_of(step) for step in station.steps if step in steps)
        line = f"{reader.word('walk-subtotal')}{reader.word('print-of')}{own}"
        if own and squash(line) not in reading.text:
            yield Objection(name, station.id, f"does not say: {line}")


def _prove(catalogue: Catalogue, reading: PdfReading, name: str, rulebook_id: str, language: str,
           fields: tuple[str, ...], hazards: bool = False) -> Iterator[Objection]:  # fmt: skip
    reader = Reader(catalogue, language)
    yield from page_furniture(reader, reading, name)
    steps = steps_of(catalogue)
    musts = {step.id for step in steps if stops(catalogue, step, rulebook_id)}
    marks = sum(catalogue.marking.marks_of(step) for step in steps)
    line = filled(reader.word("walk-count"), steps=len(steps), musts=len(musts), marks=marks)
    if squash(line) not in reading.text:
        yield Objection(name, "sum", f"does not say: {line}")
    warned = _hazards(reader, steps)
    at = 0
    for number, step in enumerate(steps, 1):
        must = reader.word("walk-must") if step.id in musts else ""
        texts = [said_at(step, language) if field == "say" else in_language(getattr(step, field), language)
                 for field in fields]  # fmt: skip
        hazard = [warned[step.id]] if hazards and step.id in warned else []
        row = squash("".join([str(number), *hazard, in_language(step.item, language), must, *texts]))
        found = reading.text.find(row, at)
        if found < 0:
            yield Objection(name, step.id, f"does not say, in its place: {' '.join([*hazard, *texts])}")
        else:
            at = found + len(row)


def steps_of(catalogue: Catalogue) -> list[StepRecord]:
    """The steps of the usual unit: those for what it has, with something on it to find."""
    wanted = []
    for station in catalogue.stations:
        for step in station.steps:
            found = [catalogue.entry[key] for key in step.finds]
            can = [e for e in found if set(e.vehicles) & VEHICLES and set(e.component.fitted) <= EQUIPMENT]
            fits = {*station.fitted, *step.fitted} <= EQUIPMENT and set(step.vehicles or station.vehicles) & VEHICLES
            if fits and (can or not found):
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


def stops(catalogue: Catalogue, step: StepRecord, rulebook_id: str) -> bool:
    """Whether a step is not to be missed: what it can find stops the vehicle, or the route's table says so."""
    for key in step.finds:
        entry = catalogue.entry[key]
        on_it = set(entry.vehicles) & VEHICLES and set(entry.component.fitted) <= EQUIPMENT
        if on_it and any(ruling.severity.may_drive == "no" for ruling in entry.rulings_under(rulebook_id)):
            return True
    return bool(step.must)


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
