"""What the sheets of "walk and say" say from first word to last: the student's and the instructor's."""

from __future__ import annotations

import re
from collections.abc import Iterator

from ..catalogue import Catalogue, StepRecord
from .facts import reader_of
from .objection import Objection
from .print_recital import figure_of, prove_foot, same_as
from .read_pdf import PdfReading
from .recital import Recital
from .step_rows import MOST_FIGURES, rows_at
from .walk import (
    USUAL,
    Walked,
    filled,
    marks_on,
    page_line,
    pages_of_steps,
    prove_score_sheet,
    prove_walk_sheet,
    said_at,
    steps_of,
    stops,
)


def prove_whole_walk(catalogue: Catalogue, reading: PdfReading, name: str, rulebook_id: str, language: str,
                     unit: Walked = USUAL, kind: str = "walk") -> Iterator[Objection]:  # fmt: skip
    """Objections to the student's sheet, word for word.

    Args:
        unit: whose sheet it is.
        kind: what the sheet calls itself in its foot, before the rulebook and the language.
    """
    yield from prove_walk_sheet(catalogue, reading, name, rulebook_id, language, unit)
    sheet = _Sheet(catalogue, rulebook_id, language, name, unit)
    told = sheet.told
    sheet.head("walk", "walk-student-how")
    sheet.rule()
    told.word("aid-line")
    sheet.hazards()
    columns = [told.reader.word(key) for key in ("walk-hand", "walk-say", "walk-good")]
    shown: set[tuple[str, str | None]] = set()
    for station, steps in sheet.stations:
        told.say(told.text(station.name), told.text(station.begin_when), ".", *columns)
        warned: set[str] = set()
        for number, step in steps:
            told.say(str(number))
            if step.caution and step.caution not in warned:
                warned.add(step.caution)
                caution = catalogue.caution[step.caution]
                told.say(told.reader.word(f"signal-{caution.level}"), told.text(caution.hazard), told.text(caution.avoid))
            told.say(told.text(step.item), sheet.must(step), told.text(step.do), said_at(step, language))
            told.say(told.text(step.good))
            sheet.figures(step, shown)
    yield from prove_foot(told.reader, reading, name, kind, rulebook_id, ("".join(columns),))
    yield from same_as(told, reading, name)


def prove_whole_score(catalogue: Catalogue, reading: PdfReading, name: str, rulebook_id: str, language: str,
                      unit: Walked = USUAL, kind: str = "score") -> Iterator[Objection]:  # fmt: skip
    """Objections to the instructor's sheet, word for word.

    Args:
        unit: whose sheet it is.
        kind: what the sheet calls itself in its foot, before the rulebook and the language.
    """
    yield from prove_score_sheet(catalogue, reading, name, rulebook_id, language, unit)
    sheet = _Sheet(catalogue, rulebook_id, language, name, unit)
    told, word = sheet.told, sheet.told.reader.word
    sheet.head("score", None)
    told.say(*(word(key) for key in ("drill-alias", "walk-instructor", "print-date", "walk-begun", "walk-ended")))
    sheet.counts("walk-score-how")
    sheet.rule()
    to_pass = filled(word("walk-pass"), marks=sheet.marks, percent=catalogue.marking.pass_percent, **{"pass": sheet.least})
    told.say(to_pass, word("walk-own-figures"))
    sheet.hazards(whole=False)
    for station, steps in sheet.stations:
        told.say(told.text(station.name))
        for number, step in steps:
            told.say(str(number), told.text(step.do))
    pages = pages_of_steps(reading, sheet.steps, language)
    sums = [marks_on(catalogue, sheet.steps, pages, page) for page in range(1, len(reading.pages) + 1)]
    told.say(word("walk-result"))
    for page, own in enumerate(sums, 1):
        if own:
            told.say(word("print-page"), str(page), word("print-of"), str(own))
    told.say(word("walk-total"), word("print-of"), str(sheet.marks), word("walk-missed"), to_pass)
    told.say(*(word(key) for key in ("walk-passed", "walk-not-yet", "print-signature", "walk-notes")))
    heads = tuple(told.text(station.name) for station, _ in sheet.stations)
    lines = [page_line(told.reader, own) for own in sums]
    yield from prove_foot(told.reader, reading, name, kind, rulebook_id, heads, lines)
    yield from same_as(told, reading, name)


class _Sheet:
    """What both sheets share: the steps of the unit and their sums."""

    def __init__(self, catalogue: Catalogue, rulebook_id: str, language: str, name: str, unit: Walked) -> None:
        self.catalogue = catalogue
        self.unit = unit
        self.told = Recital(reader_of(catalogue, language), rulebook_id, name)
        wanted = steps_of(catalogue, unit)
        numbers = {step.id: number for number, step in enumerate(wanted, 1)}
        each = [(station, [(numbers[step.id], step) for step in station.steps if step.id in numbers])
                for station in catalogue.stations]  # fmt: skip
        self.stations = [(station, steps) for station, steps in each if steps]
        self.steps = wanted
        self.musts = {step.id for step in wanted if stops(catalogue, step, rulebook_id, unit)}
        self.marks = sum(catalogue.marking.marks_of(step) for step in wanted)
        self.least = next(n for n in range(self.marks + 1) if 100 * n >= self.marks * catalogue.marking.pass_percent)

    def head(self, kind: str, how: str | None) -> None:
        told = self.told
        told.say(told.reader.word("title"), told.reader.word(f"print-title-{kind}"), told.text(told.rulebook.short_name))
        if how:
            self.counts(how)

    def counts(self, how: str) -> None:
        word = self.told.reader.word
        self.told.say(self.unit.name or word("walk-unit-tractor-trailer"), ".")
        self.told.say(filled(word("walk-count"), steps=len(self.steps), musts=len(self.musts), marks=self.marks), word(how))

    def rule(self) -> None:
        forbids = any(severity.may_drive == "no" for severity in self.told.rulebook.severities)
        self.told.word("walk-must-rule" if forbids else "walk-must-none")

    def hazards(self, whole: bool = True) -> None:
        met = {step.caution for step in self.steps}
        for caution in self.catalogue.cautions:
            if caution.id in met:
                self.told.word(f"signal-{caution.level}")
                self.told.say(self.told.text(caution.hazard) if whole else "", self.told.text(caution.avoid))

    def must(self, step: StepRecord) -> str:
        return self.told.reader.word("walk-must") if step.id in self.musts else ""

    def figures(self, step: StepRecord, shown: set[tuple[str, str | None]]) -> None:
        """A limit's own figures where it first comes, those of the step's axle and of the unit, unless what is good tells them."""
        if not step.figure or (step.figure, step.axle) in shown:
            return
        shown.add((step.figure, step.axle))
        limit = self.catalogue.limit[step.figure]
        own = rows_at(self.catalogue, step, self.told.rulebook.id, self.unit.vehicles)
        good = _numbers(self.told.text(step.good))
        new = [row for row in own if row.basis == "from-memory" or not _numbers(self.told.text(row.printed))
               or not _numbers(self.told.text(row.printed)) <= good]  # fmt: skip
        if len(own) <= MOST_FIGURES and new:
            self.told.say(*(f"{figure_of(self.told, limit, row)}." for row in new))
            if any(row.basis == "from-memory" for row in new):
                self.told.say(f"({self.told.reader.word('not-confirmed')})")


def _numbers(text: str) -> set[str]:
    return set(re.findall(r"\d+(?:[.,/]\d+)?", text))
