"""Checklists and report forms of carriers: every step that the unit has and none that it lacks; no one else's name."""

from __future__ import annotations

from collections.abc import Iterator

from ..catalogue import Catalogue, StationRecord, StepRecord
from ..catalogue.carrier import CarrierRecord, UnitRecord
from ..catalogue.wording import in_language
from .carrier_cards import every_wording, has, wording
from .checklist import prove_sheet
from .facts import Reader, reader_of
from .objection import Objection
from .print_recital import figures_in_row, plain_text
from .read_pdf import PdfReading
from .reading import squash
from .recital import Recital, unlike
from .step_rows import rows_at
from .texts import all_texts


def prove_unit_checklist(
    catalogue: Catalogue, carrier: CarrierRecord, unit: UnitRecord, reading: PdfReading, name: str, rulebook_id: str,
    language: str, big: bool, code: str,
) -> Iterator[Objection]:
    """Objections to the checklist of a unit.

    Args:
        catalogue: what is true.
        carrier: whose name and contacts stand on it.
        unit: whose checklist it is.
        reading: the finished file.
        name: of the file.
        rulebook_id: the rulebook that report and figures come from.
        language: of the checklist.
        big: whether it has room to write, and with it the fields of the report.
        code: of what it takes from the carrier's file.
    """
    found = prove_sheet(catalogue, reading, name, rulebook_id, language)
    fields = {field.id for field in catalogue.rulebook[rulebook_id].report}
    yield from (one for one in found if big or one.about not in fields)
    yield from _owner(Reader(catalogue, language), carrier, unit, reading, name, code)
    own = squash(f"checklist.{rulebook_id}.{language}.{unit.make_up}")
    if own not in reading.text + "".join(reading.furniture):
        yield Objection(name, "name", f"does not call itself {own}")
    told = Recital(reader_of(catalogue, language), rulebook_id, name)
    figured: set[tuple[str | None, str | None]] = set()
    rows: list[str] = []
    others: dict[str, str] = {}
    for station in catalogue.stations:
        for step in station.steps:
            line = squash(f"{in_language(step.item, language)}{in_language(step.want, language)}")
            if _is_on(catalogue, unit, station, step):
                own = rows_at(catalogue, step, rulebook_id, unit.vehicles)
                figures = figures_in_row(told, step, own, (step.figure, step.axle) not in figured)
                figured.add((step.figure, step.axle))
                rows.append(squash(f"{len(rows) + 1}{line}{figures}"))
            else:
                others[step.id] = line
    at = 0
    for row in rows:
        found_at = reading.text.find(row, at)
        if found_at < 0:
            yield Objection(name, "step", f"does not say, in its place: {row}")
        at = max(at, found_at)
    said = "\n".join(rows)
    for step_id, line in others.items():
        if line in reading.text and line not in said:
            yield Objection(name, step_id, "stands on the checklist of a unit that lacks it")


def _owner(
    reader: Reader, carrier: CarrierRecord, unit: UnitRecord, reading: PdfReading, name: str, code: str
) -> Iterator[Objection]:
    """A checklist begins with whose unit it is for and whom to call; each of its pages ends with whose it is and with the
    code of what it took from the carrier's file."""
    told = [f"{carrier.name} · {reader.word('print-unit')} {unit.name}. {reader.word('print-call')} ", _people(reader, carrier), "."]
    told += [f" {reader.word('print-demo-carrier')}" if carrier.demo else ""]
    # At the foot a name that is too long for the line is left out, and the unit's stays.
    own = f"{reader.word('print-unit')} {unit.name} · {reader.word('print-code')} {code}"
    feet = {squash(f"{whose}{own}") for whose in (f"{carrier.name} · ", "")}
    for number, foot in enumerate(reading.furniture, 1):
        if not any(foot.endswith(one) for one in feet):
            yield Objection(f"{name} page {number}", "foot", f"does not end with whose it is: {max(feet, key=len)}")
    wanted = plain_text(squash("".join([*told, reader.word("title"), reader.word("print-title-checklist")])))
    yield from unlike(plain_text(reading.text)[: len(wanted)], wanted, name)


def _people(reader: Reader, carrier: CarrierRecord) -> str:
    """Whom to call on a sheet."""
    people = []
    for one in carrier.contacts:
        role, called = reader.word(f"role-{one.role}"), wording(one.name, reader.language) if one.name else ""
        # Nobody asks for "other": whoever has no role of these is asked for by name. Nobody is named twice.
        asked = called if called and one.role == "other" else role
        beside = f", {called}" if called and called != asked else ""
        people.append(f"{asked}: {one.phone}{beside} ({wording(one.hours, reader.language)})")
    return "; ".join(people)


def _is_on(catalogue: Catalogue, unit: UnitRecord, station: StationRecord, step: StepRecord) -> bool:
    """Whether the unit has the vehicle and the equipment of a step, and anything that the step can turn up."""
    fitted = {*station.fitted, *step.fitted} <= set(unit.equipment)
    there = bool(set(step.vehicles or station.vehicles) & set(unit.vehicles))
    draws = not step.towing or any(kind not in ("truck", "tractor") for kind in unit.vehicles)
    return fitted and there and draws and (not step.finds or any(has(unit, catalogue.entry[one]) for one in step.finds))


def prove_carrier_report(
    catalogue: Catalogue, carrier: CarrierRecord, reading: PdfReading, name: str, rulebook_id: str, language: str, code: str
) -> Iterator[Objection]:
    """Objections to a carrier's report form: what the law has it hold, and what it takes from the carrier's file, whose code
    ends its own name at every foot."""
    yield from prove_sheet(catalogue, reading, name, rulebook_id, language)
    reader = Reader(catalogue, language)
    own_name = squash(f"{carrier.id}.report.{rulebook_id}.{language}.{code}")
    for number, foot in enumerate(reading.furniture, 1):
        if own_name not in foot:
            yield Objection(f"{name} page {number}", "name", f"does not call itself {own_name}")
    fields = {field.id for field in catalogue.rulebook[rulebook_id].report}
    whose = "" if "operator" in fields else f"{carrier.name.removesuffix('.')}. "
    invented = f" {reader.word('print-demo-carrier')}" if carrier.demo else ""
    call = f"{whose}{reader.word('print-call')} {_people(reader, carrier)}.{invented}{reader.word('print-report-inspected')}"
    for text in (carrier.name, call):
        if squash(text) not in reading.text:
            yield Objection(name, "carrier", f"does not say: {text}")


class Strangers:
    """Names and numbers of all carriers, to be found where they do not belong.

    A name that the tables themselves use, or that is part of the own carrier's texts, tells nothing and is left out.
    """

    def __init__(self, catalogue: Catalogue, carriers: tuple[CarrierRecord, ...]) -> None:
        own = squash(" ".join(text for language in catalogue.languages for text in all_texts(catalogue, language.code)))
        self._texts: dict[str, set[str]] = {}
        for carrier in carriers:
            people = [text for one in carrier.contacts for text in (one.phone, *every_wording(one.name))]
            for text in map(squash, (carrier.name, *people)):
                if len(text) > 3 and text not in own:
                    self._texts.setdefault(text, set()).add(carrier.id)

    def in_text(self, text: str, carrier: CarrierRecord | None, name: str) -> Iterator[Objection]:
        """Objections to other carriers' names and numbers in a squashed text of one carrier, or of none."""
        people = [one for c in carrier.contacts for one in (c.phone, *every_wording(c.name))] if carrier else []
        own = squash("\n".join([carrier.name, *people])) if carrier else ""
        for stranger, carriers in self._texts.items():
            if stranger in text and (carrier is None or (carrier.id not in carriers and stranger not in own)):
                yield Objection(name, "contacts", f"says {stranger}, which is another carrier's: {min(carriers)}")
