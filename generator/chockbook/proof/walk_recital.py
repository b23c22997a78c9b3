"""What the sheets of "walk and say" say from first word to last: the student's and the instructor's."""

from __future__ import annotations

from collections.abc import Iterator

from ..catalogue import Catalogue, StepRecord
from .facts import Reader
from .objection import Objection
from .print_recital import MOST_FIGURES, figure_of, prove_foot, same_as
from .read_pdf import PdfReading
from .recital import Recital
from .walk import filled, prove_score_sheet, prove_walk_sheet, said_at, steps_of, stops


def prove_whole_walk(catalogue: Catalogue, reading: PdfReading, name: str, rulebook_id: str,
                     language: str) -> Iterator[Objection]:  # fmt: skip
    """Objections to the student's sheet, word for word."""
    yield from prove_walk_sheet(catalogue, reading, name, rulebook_id, language)
    sheet = _Sheet(catalogue, rulebook_id, language, name)
    told = sheet.told
    sheet.head("walk", "walk-student-how")
    sheet.rule()
    told.word("aid-line")
    sheet.hazards()
    columns = [told.reader.word(key) for key in ("walk-hand", "walk-say", "walk-good")]
    shown: set[str] = set()
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
    yield from prove_foot(told.reader, reading, name, "walk", rulebook_id, ("".join(columns),))
    yield from same_as(told, reading, name)


def prove_whole_score(catalogue: Catalogue, reading: PdfReading, name: str, rulebook_id: str,
                      language: str) -> Iterator[Objection]:  # fmt: skip
    """Objections to the instructor's sheet, word for word."""
    yield from prove_score_sheet(catalogue, reading, name, rulebook_id, language)
    sheet = _Sheet(catalogue, rulebook_id, language, name)
    told, word = sheet.told, sheet.told.reader.word
    sheet.head("score", None)
    told.say(*(word(key) for key in ("drill-alias", "walk-instructor", "print-date", "walk-begun", "walk-ended")))
    sheet.counts("walk-score-how")
    sheet.rule()
    to_pass = filled(word("walk-pass"), marks=sheet.marks, percent=catalogue.marking.pass_percent, **{"pass": sheet.least})
    told.say(to_pass, word("walk-own-figures"))
    sheet.hazards()
    columns = word("walk-marks") + word("walk-notes")
    sums = []
    for station, steps in sheet.stations:
        told.say(told.text(station.name), columns)
        for number, step in steps:
            told.say(str(number), told.text(step.item), sheet.must(step), said_at(step, language))
        own = f"{word('print-of')} {sum(catalogue.marking.marks_of(step) for _, step in steps)}"
        told.say(word("walk-subtotal"), own)
        sums.append((told.text(station.name), own))
    told.say(word("walk-result"), *[word("walk-station"), word("walk-marks")] * 2, *(text for pair in sums for text in pair))
    told.say(word("walk-total"), word("print-of"), str(sheet.marks), word("walk-missed"), to_pass)
    told.say(*(word(key) for key in ("walk-passed", "walk-not-yet", "print-signature")))
    heads = tuple(told.text(station.name) + columns for station, _ in sheet.stations)
    yield from prove_foot(told.reader, reading, name, "score", rulebook_id, heads)
    yield from same_as(told, reading, name)


class _Sheet:
    """What both sheets share: the steps of the usual unit and their sums."""

    def __init__(self, catalogue: Catalogue, rulebook_id: str, language: str, name: str) -> None:
        self.catalogue = catalogue
        self.told = Recital(Reader(catalogue, language), rulebook_id, name)
        wanted = steps_of(catalogue)
        numbers = {step.id: number for number, step in enumerate(wanted, 1)}
        each = [(station, [(numbers[step.id], step) for step in station.steps if step.id in numbers])
                for station in catalogue.stations]  # fmt: skip
        self.stations = [(station, steps) for station, steps in each if steps]
        self.steps = wanted
        self.musts = {step.id for step in wanted if stops(catalogue, step, rulebook_id)}
        self.marks = sum(catalogue.marking.marks_of(step) for step in wanted)
        self.least = next(n for n in range(self.marks + 1) if 100 * n >= self.marks * catalogue.marking.pass_percent)

    def head(self, kind: str, how: str | None) -> None:
        told = self.told
        told.say(told.reader.word("title"), told.reader.word(f"print-title-{kind}"), told.text(told.rulebook.short_name))
        if how:
            self.counts(how)

    def counts(self, how: str) -> None:
        word = self.told.reader.word
        self.told.say(word("walk-unit-tractor-trailer"), ".")
        self.told.say(filled(word("walk-count"), steps=len(self.steps), musts=len(self.musts), marks=self.marks), word(how))

    def rule(self) -> None:
        forbids = any(severity.may_drive == "no" for severity in self.told.rulebook.severities)
        self.told.word("walk-must-rule" if forbids else "walk-must-none")

    def hazards(self) -> None:
        met = {step.caution for step in self.steps}
        for caution in self.catalogue.cautions:
            if caution.id in met:
                self.told.word(f"signal-{caution.level}")
                self.told.say(self.told.text(caution.hazard), self.told.text(caution.avoid))

    def must(self, step: StepRecord) -> str:
        return self.told.reader.word("walk-must") if step.id in self.musts else ""

    def figures(self, step: StepRecord, shown: set[str]) -> None:
        """A limit's own figures, where it first comes and where they are few."""
        if not step.figure:
            return
        limit = self.catalogue.limit[step.figure]
        own = [row for row in limit.rows if row.rulebook == self.told.rulebook.id]
        if 0 < len(own) <= MOST_FIGURES and limit.id not in shown:
            self.told.say(*(f"{figure_of(self.told, limit, row)}." for row in own))
            if any(row.basis == "from-memory" for row in own):
                self.told.say(f"({self.told.reader.word('not-confirmed')})")
        shown.add(limit.id)
