"""What a printed sheet says from first word to last, and the foot of each of its pages, from the catalogue alone.

Report forms and checklists are short: they are compared as a whole, so that nothing on them can change unseen.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from ..catalogue import Catalogue, LimitRecord, LimitRow, StationRecord, StepRecord
from .checklist import prove_sheet, prove_whole_route
from .facts import Reader, reader_of
from .objection import Objection
from .read_pdf import PdfReading
from .reading import squash
from .recital import Recital, unlike
from .step_rows import MOST_FIGURES, rows_at
from .walk import EQUIPMENT, VEHICLES

UNITS = ("print-power-unit", "unit-trailer-1", "unit-dolly", "unit-trailer-2", "print-report-trailer-3")
LINES = tuple((front, back) for front in range(12, 0, -1) for back in (22, 20, 18, 16, 14, 12, 10, 8))
"""Lines for defects on the front and on the back of the report: fewer where a language needs the room for words."""
TOGETHER = (("make-safe", "in-cab"), ("walk-round",), ("air-brake-tests", "finish"))
"""Stages below the same cautions."""


def prove_foot(reader: Reader, reading: PdfReading, name: str, kind: str, rulebook_id: str,
               heads: tuple[str, ...] = (), above: Sequence[str] = ()) -> Iterator[Objection]:  # fmt: skip
    """The foot of every page: caution, aid line, edition, the sheet's own name, and the page of how many.

    Args:
        heads: heads of tables that run over a page: they stand again on the next.
        above: what stands above the foot, page by page.
    """
    again = [squash(head) for head in heads]
    edition, pages = reader.catalogue.edition, len(reading.pages)
    pieces = [f"{reader.word('edition')} {edition.code}", f"{reader.word('issued')} {edition.date}",
              f"{reader.word('check-by')} {edition.check_by}", reader.word("uncontrolled"),
              f"{kind}.{rulebook_id}.{reader.language}"]  # fmt: skip
    for number, found in enumerate(reading.furniture, 1):
        place = f"{reader.word('print-page')} {number} {reader.word('print-of')} {pages}"
        line = above[number - 1] if above else ""
        wanted = f"{line} {reader.word('caution-short')} {reader.word('aid-short')} {' · '.join([*pieces, place])}"
        for head in again:
            found = found.removeprefix(head)
        yield from unlike(plain_text(found), plain_text(squash(wanted)), f"{name} page {number}")


def prove_report(catalogue: Catalogue, reading: PdfReading, name: str, rulebook_id: str, language: str) -> Iterator[Objection]:
    """Objections to a report form of no carrier."""
    reader = reader_of(catalogue, language)
    severity = ("print-severity",) if len(catalogue.rulebook[rulebook_id].severities) > 1 else ()
    heads = ("print-row", "print-report-vehicle", "print-defect", *severity, "print-told", "print-report-repaired")
    yield from prove_foot(reader, reading, name, "report", rulebook_id, ("".join(reader.word(key) for key in heads),))
    told = [_report(reader, rulebook_id, name, lines) for lines in LINES]
    found = plain_text(reading.text)
    yield from same_as(next((one for one in told if plain_text(squash("".join(one.told))) == found), told[0]), reading, name)
    yield from prove_sheet(catalogue, reading, name, rulebook_id, language)


def _report(reader: Reader, rulebook_id: str, name: str, lines: tuple[int, int]) -> Recital:
    """The form with so many lines for defects on its front and on its back."""
    told = Recital(reader, rulebook_id, name)
    rulebook = told.rulebook

    def at(*places: str) -> list[str]:
        return [told.text(one.name) + ("" if one.confirmed else "*") for one in rulebook.report if one.on_form in places]

    told.say(reader.word("title"), reader.word("print-title-report"), told.text(rulebook.name), reader.word("print-report-lead"))
    if not all(one.confirmed for one in rulebook.report):
        told.word("print-report-star")
    vehicles = [one for one in rulebook.report if one.on_form == "vehicles"]
    if vehicles:
        told.say(" · ".join(at("vehicles")), *(reader.word(key) for key in UNITS))
    told.say(*at("operator", "head"))
    told.say(reader.word("print-report-inspected"), reader.word("print-report-tick"))
    rows = list(enumerate(_covered(told), 1))
    half = (len(rows) + 1) // 2
    for part in (rows[:half], rows[half:]):
        told.say(*(reader.word(key) for key in ("print-row", "print-report-any", "print-report-no", "print-report-yes")))
        told.say(*(f"{number}{title}" for number, title in part))
    told.say(" · ".join(at("defects")) or reader.word("print-defects-found"))
    told.word("print-report-none")
    worst_first = list(reversed(rulebook.severities))
    told.say(*(f"{told.text(one.name)}: {told.text(one.outcome)}" for one in worst_first))
    _lines(told, lines[0])
    pen = [reader.word(key) for key in ("print-report-name", "print-signature", "print-report-when")]
    told.say(reader.word("print-report-signed"), told.filled("print-report-statement", law=told.text(rulebook.law)))
    one_person = at("inspector")
    for one in at("inspector", "signed"):
        if one not in one_person:
            told.say(one, *pen)
        elif one == one_person[0]:
            told.say(" · ".join(one_person), *pen)
    told.word("print-report-more")
    told.say(" · ".join(told.text(one.name) for one in vehicles) or reader.word("print-unit"), reader.word("print-date"))
    _lines(told, lines[1])
    after = at("repaired")
    told.say(*([reader.word("print-report-after")] if after else []))
    for one in after:
        told.say(one, *pen)
    told.word("aid-line")
    return told


def _covered(told: Recital) -> Iterable[str]:
    schedules = told.rulebook.schedules
    listed = [told.text(item.text) for one in schedules if one.report_rows for part in one.parts for item in part.items]
    return listed or dict.fromkeys(told.text(part.title) for one in schedules for part in one.parts)


def _lines(told: Recital, number: int) -> None:
    """The head of the table of defects, and its empty lines with the severities to tick."""
    names = [told.text(one.name) for one in reversed(told.rulebook.severities)]
    several = len(names) > 1
    keys = ["print-row", "print-report-vehicle", "print-defect", *(["print-severity"] if several else []), "print-told",
            "print-report-repaired"]  # fmt: skip
    told.say(*(told.reader.word(key) for key in keys))
    told.say(*(names * number if several else []))


def prove_usual_checklist(catalogue: Catalogue, reading: PdfReading, name: str, rulebook_id: str,
                          language: str) -> Iterator[Objection]:  # fmt: skip
    """Objections to the checklist of the usual unit."""
    yield from _checklist(catalogue, reading, name, rulebook_id, language, usual=True)
    yield from prove_sheet(catalogue, reading, name, rulebook_id, language)


def prove_every_checklist(catalogue: Catalogue, reading: PdfReading, name: str, rulebook_id: str,
                          language: str) -> Iterator[Objection]:  # fmt: skip
    """Objections to the checklist of every vehicle."""
    yield from _checklist(catalogue, reading, name, rulebook_id, language, usual=False)
    yield from prove_whole_route(catalogue, reading, name, rulebook_id, language)


def _checklist(catalogue: Catalogue, reading: PdfReading, name: str, rulebook_id: str, language: str,
               usual: bool) -> Iterator[Objection]:  # fmt: skip
    reader = reader_of(catalogue, language)
    heads = ("print-row", "print-defect", "print-severity", "print-told")
    yield from prove_foot(reader, reading, name, "checklist", rulebook_id, ("".join(reader.word(key) for key in heads),))
    told = Recital(reader, rulebook_id, name)
    stations = [(station, [step for step in station.steps if not usual or _on_usual(catalogue, station, step)])
                for station in catalogue.stations]  # fmt: skip
    stations = [(station, steps) for station, steps in stations if steps]
    seconds = sum(_seconds(steps) for station, steps in stations)
    told.say(reader.word("title"), reader.word("print-title-checklist"), told.text(told.rulebook.short_name))
    told.say(reader.word("print-checklist-mode"), reader.word("print-checklist-defect"))
    if usual:
        told.say(reader.word("print-checklist-for"), _listed(reader, "vehicle", VEHICLES), ".")
        told.say(reader.word("print-unit-fitted"), ":", _listed(reader, "fitted", USUAL_ORDER), ".")
    else:
        told.word("print-checklist-all")
    number = sum(len(steps) for _, steps in stations)
    told.say(reader.word("print-checklist-time"), time_of(reader, seconds), ",", str(number), reader.word("print-checklist-rows"), ".")
    told.say(*(reader.word(f"print-{key}") for key in ("unit", "trailers", "odometer", "place", "date", "time", "driver", "signature")))
    figured: set[tuple[str | None, str | None]] = set()
    at = 0
    for stages in TOGETHER:
        here = [(station, steps) for station, steps in stations if station.stage in stages]
        _hazards(told, [step for _, steps in here for step in steps])
        for stage in stages:
            inside = [(station, steps) for station, steps in here if station.stage == stage]
            if inside:
                told.say(reader.word(f"stage-{stage}"), time_of(reader, sum(_seconds(steps) for _, steps in inside)))
            for station, steps in inside:
                told.say(told.text(station.name), time_of(reader, _seconds(steps), "unit-short"))
                only = "" if usual else only_for(reader, list(station.vehicles), list(station.fitted))
                if only:
                    told.say(told.text(station.begin_when), ".", only[0].upper() + only[1:], ".")
                for step in steps:
                    at += 1
                    _row(told, station, step, at, figured, usual)
    _end(told)
    yield from same_as(told, reading, name)


USUAL_ORDER = ("air-brakes", "fifth-wheel", "air-suspension", "spring-suspension", "def-system", "sleeper", "cargo")


def _on_usual(catalogue: Catalogue, station: StationRecord, step: StepRecord) -> bool:
    if not {*station.fitted, *step.fitted} <= EQUIPMENT or not set(step.vehicles or station.vehicles) & {*VEHICLES}:
        return False
    found = [catalogue.entry[key] for key in step.finds]
    return not found or any(set(e.vehicles) & {*VEHICLES} and set(e.component.fitted) <= EQUIPMENT for e in found)


def _seconds(steps: list[StepRecord]) -> int:
    """Seconds for one vehicle; the usual unit has one trailer, and so one box in every row."""
    return sum(step.seconds for step in steps)


def _hazards(told: Recital, steps: list[StepRecord]) -> None:
    met = {step.caution for step in steps}
    before = None
    for caution in told.catalogue.cautions:
        if caution.id in met:
            signal = told.reader.word(f"signal-{caution.level}")
            told.say(signal if signal != before else "", told.text(caution.avoid))
            before = signal


def _row(told: Recital, station: StationRecord, step: StepRecord, number: int,
         figured: set[tuple[str | None, str | None]], usual: bool) -> None:  # fmt: skip
    told.say(str(number), told.text(step.item), told.text(step.want))
    own = rows_at(told.catalogue, step, told.rulebook.id, VEHICLES if usual else None)
    told.say(figures_in_row(told, step, own, (step.figure, step.axle) not in figured))
    figured.add((step.figure, step.axle))
    vehicles = list(step.vehicles) if set(step.vehicles) != set(station.vehicles) else []
    only = "" if usual else only_for(told.reader, vehicles, list(step.fitted))
    if only:
        told.say(f"({only})")


def figures_in_row(told: Recital, step: StepRecord, own: list[LimitRow], new: bool) -> str:
    """What a checklist's row says of figures: those that are new, where they are few, and that some are unconfirmed."""
    if not step.figure:
        return ""
    limit = told.catalogue.limit[step.figure]
    shown = own if new and len(own) <= MOST_FIGURES else []
    unsure = f"({told.reader.word('not-confirmed')})" if any(row.basis == "from-memory" for row in own) else ""
    return "".join([*(f". {figure_of(told, limit, row)}" for row in shown), unsure])


def figure_of(told: Recital, limit: LimitRecord, row: LimitRow) -> str:
    """A figure in a row, with what it applies to."""
    compares = "" if limit.compare == "between" else told.reader.word(f"compare-{limit.compare}")
    return f"{told.text(row.label)}: {compares} {told.text(row.printed)}"


def only_for(reader: Reader, vehicles: list[str], fitted: list[str]) -> str:
    """For which vehicles and equipment something is; nothing where it is for all."""
    parts = []
    if 0 < len(vehicles) < 4:
        parts.append(_listed(reader, "vehicle", vehicles))
    if fitted:
        parts.append(f"{reader.word('print-if-fitted')}: {', '.join(reader.word(f'fitted-{one}') for one in fitted)}")
    return "; ".join(parts)


def _listed(reader: Reader, prefix: str, keys: Iterable[str]) -> str:
    """Names with commas between, only the first with a capital."""
    names = [reader.word(f"{prefix}-{key}") for key in keys]
    return ", ".join(name if not at else name[:1].lower() + name[1:] for at, name in enumerate(names))


def time_of(reader: Reader, seconds: int, unit: str = "unit") -> str:
    """Seconds below two minutes; half minutes below ten; whole minutes above."""
    if seconds < 120:
        return f"{seconds} {reader.word(f'{unit}-seconds')}"
    halves = round(seconds / 30)
    minutes = f"{halves // 2} 1/2" if halves % 2 and seconds < 600 else str(round(seconds / 60))
    return f"{minutes} {reader.word(f'{unit}-minutes')}"


def _end(told: Recital) -> None:
    told.say(*(told.reader.word(f"print-{key}") for key in ("defects-found", "defects-lead", "row", "defect", "severity", "told")))
    if told.rulebook.report:
        told.say(told.reader.word("print-checklist-report"), told.reader.word("print-checklist-report-lead"))
    for field in told.rulebook.report:
        told.say(told.text(field.name), "" if field.confirmed else f"({told.reader.word('not-confirmed')})")
    told.word("print-complete")


def same_as(told: Recital, reading: PdfReading, name: str) -> Iterator[Objection]:
    """Where a document's text departs from its recital."""
    found = plain_text(reading.text)
    yield from unlike(found, plain_text(squash("".join(told.told))), name)


def plain_text(text: str) -> str:
    """A text without white space and hyphens: at the end of a line they come and go."""
    return squash(text).replace("-", "").replace("\u2010", "")
