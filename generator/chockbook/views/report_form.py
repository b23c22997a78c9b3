"""The daily inspection report form: what the rulebook wants in the report, laid out to be filled in."""

from __future__ import annotations

from dataclasses import dataclass

from ..catalogue import Catalogue, RulebookRecord
from ..catalogue.carrier import CarrierRecord
from .carrier import ContactView, view_contacts
from .grouping import rulebook_named
from .wording import fixed_word, in_language

UNIT_KEYS = ("print-power-unit", "unit-trailer-1", "unit-dolly", "unit-trailer-2", "print-report-trailer-3")


@dataclass(frozen=True, slots=True)
class FieldView:
    """Something to fill in."""

    name: str
    confirmed: bool
    filled: str | None
    """What is known before, such as the carrier's name."""


@dataclass(frozen=True, slots=True)
class SeverityBox:
    """A severity, to be ticked for a defect."""

    name: str
    outcome: str
    may_drive: str


@dataclass(frozen=True, slots=True)
class ReportFormView:
    """The form."""

    rulebook_name: str
    law: str
    vehicle: tuple[FieldView, ...]
    """What names the vehicles; empty where the rulebook asks for none."""
    unit_names: tuple[str, ...]
    """The boxes for vehicles, from front to back."""
    head: tuple[FieldView, ...]
    systems: tuple[str, ...]
    """What is inspected, each with its own row to tick."""
    defects: tuple[FieldView, ...]
    """What the table of defects is to hold; empty where the rulebook does not say."""
    severities: tuple[SeverityBox, ...]
    """Worst first."""
    signed: tuple[tuple[FieldView, ...], ...]
    """Statements and signatures; those of a group share a line."""
    after: tuple[FieldView, ...]
    """Signatures that follow the repairs."""
    statement: str
    carrier: str | None
    """Where no field of the report holds its name."""
    contacts: tuple[ContactView, ...]
    demo: bool
    """Whether the carrier is invented."""
    all_confirmed: bool


def view_report_form(
    catalogue: Catalogue, rulebook_id: str, language: str, carrier: CarrierRecord | None = None
) -> ReportFormView:
    """The form of a rulebook, with the carrier's name and contacts where there is one.

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
        MissingWording: a text has not been written in the language.
    """
    rulebook = rulebook_named(catalogue, rulebook_id)
    law = in_language(rulebook.law, language)
    placed: dict[str, list[FieldView]] = {}
    signed: dict[str, tuple[FieldView, ...]] = {}
    for field in rulebook.report:
        filled = carrier.name if carrier and field.on_form == "operator" else None
        view = FieldView(in_language(field.name, language), field.confirmed, filled)
        if field.on_form in ("inspector", "signed"):
            line = "" if field.on_form == "inspector" else field.id  # what one person signs shares a line
            signed[line] = (*signed.get(line, ()), view)
        else:
            placed.setdefault("head" if field.on_form == "operator" else field.on_form, []).append(view)
    return ReportFormView(
        rulebook_name=in_language(rulebook.name, language),
        law=law,
        vehicle=tuple(placed.get("vehicles", ())),
        unit_names=tuple(fixed_word(catalogue, key, language) for key in UNIT_KEYS),
        head=tuple(placed.get("head", ())),
        systems=_systems(rulebook, language),
        defects=tuple(placed.get("defects", ())),
        severities=tuple(
            SeverityBox(
                in_language(severity.name, language),
                in_language(severity.outcome, language),
                severity.may_drive,
            )
            for severity in reversed(rulebook.severities)
        ),
        signed=tuple(signed.values()),
        after=tuple(placed.get("repaired", ())),
        statement=fixed_word(catalogue, "print-report-statement", language).replace("{law}", law),
        carrier=carrier.name if carrier and not any(field.on_form == "operator" for field in rulebook.report) else None,
        contacts=view_contacts(catalogue, carrier, language) if carrier else (),
        demo=bool(carrier and carrier.demo),
        all_confirmed=all(field.confirmed for field in rulebook.report),
    )


def _systems(rulebook: RulebookRecord, language: str) -> tuple[str, ...]:
    """The titles of the schedules' parts, each once, or the items of the schedules that say what the report covers."""
    listed = [part for schedule in rulebook.schedules if schedule.report_rows for part in schedule.parts]
    if listed:
        return tuple(in_language(item.text, language) for part in listed for item in part.items)
    titles = (in_language(part.title, language) for schedule in rulebook.schedules for part in schedule.parts)
    return tuple(dict.fromkeys(titles))
