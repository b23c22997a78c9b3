"""The daily inspection report form: what the rulebook wants in the report, laid out to be filled in."""

from __future__ import annotations

from dataclasses import dataclass

from ..catalogue import Catalogue, RulebookRecord
from ..catalogue.carrier import CarrierRecord
from .grouping import rulebook_named
from .wording import fixed_word, in_language

HEAD_FIELDS = ("operator", "date-time", "place", "odometer")
"""Fields of the report that are filled in before the inspection, in the order of the form. The field of the
vehicles has a box for each unit, the field of the defects is a table, and all others are signed at the end."""
LISTED_IN = {"us-fmcsr": "us-396-11"}
"""The schedule that lists what a report covers, where that is not the schedules of defects: 49 CFR 396.11(a)(1)."""
SIGNED_AS_ONE = ("inspector", "statement")
"""Fields that the same person fills in at the same time: one line holds name and signature for both."""
AFTER_REPAIRS = ("repair-certificate", "next-driver-signature")
"""Fields that are signed once the repairs are done, by others than the driver of the report."""
UNIT_KEYS = ("print-power-unit", "unit-trailer-1", "unit-dolly", "unit-trailer-2", "print-report-trailer-3")


@dataclass(frozen=True, slots=True)
class FieldView:
    """Something to fill in."""

    id: str
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
class ContactLine:
    """Whom the driver can call."""

    role: str
    name: str | None
    phone: str
    hours: str


@dataclass(frozen=True, slots=True)
class ReportFormView:
    """The form."""

    rulebook_name: str
    law: str
    vehicle: FieldView | None
    """The field of the vehicles; None where the rulebook names none."""
    unit_names: tuple[str, ...]
    """The boxes for vehicles, from front to back."""
    head: tuple[FieldView, ...]
    systems: tuple[str, ...]
    """What is inspected, each with its own row to tick."""
    defects: FieldView | None
    severities: tuple[SeverityBox, ...]
    """Worst first."""
    signed: tuple[tuple[FieldView, ...], ...]
    """Statements and signatures; those of a group share a line."""
    after: tuple[FieldView, ...]
    """Signatures that follow the repairs."""
    statement: str
    carrier: str | None
    """Where no field of the report holds its name."""
    contacts: tuple[ContactLine, ...]
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
    fields = {
        field.id: FieldView(
            id=field.id,
            name=in_language(field.name, language),
            confirmed=field.confirmed,
            filled=carrier.name if carrier and field.id == "operator" else None,
        )
        for field in rulebook.report
    }
    apart = {"vehicle", "defects", *HEAD_FIELDS, *AFTER_REPAIRS}
    return ReportFormView(
        rulebook_name=in_language(rulebook.name, language),
        law=law,
        vehicle=fields.get("vehicle"),
        unit_names=tuple(fixed_word(catalogue, key, language) for key in UNIT_KEYS),
        head=tuple(fields[key] for key in HEAD_FIELDS if key in fields),
        systems=_systems(rulebook, language),
        defects=fields.get("defects"),
        severities=tuple(
            SeverityBox(
                in_language(severity.name, language),
                in_language(severity.outcome, language),
                severity.may_drive,
            )
            for severity in reversed(rulebook.severities)
        ),
        signed=_signed([field for key, field in fields.items() if key not in apart]),
        after=tuple(fields[key] for key in AFTER_REPAIRS if key in fields),
        statement=fixed_word(catalogue, "print-report-statement", language).replace("{law}", law),
        carrier=carrier.name if carrier and "operator" not in fields else None,
        contacts=tuple(
            ContactLine(
                fixed_word(catalogue, f"role-{contact.role}", language),
                contact.name_in(language),
                contact.phone,
                contact.hours_in(language),
            )
            for contact in (carrier.contacts if carrier else ())
        ),
        all_confirmed=all(field.confirmed for field in rulebook.report),
    )


def _signed(fields: list[FieldView]) -> tuple[tuple[FieldView, ...], ...]:
    """The fields in their order; those that are signed as one stand where the first of them does."""
    as_one = tuple(field for field in fields if field.id in SIGNED_AS_ONE)
    return tuple(as_one if field in as_one else (field,) for field in fields if field not in as_one[1:])


def _systems(rulebook: RulebookRecord, language: str) -> tuple[str, ...]:
    """The titles of the schedules' parts, each once, or the items of the list that the report is to cover."""
    listed = LISTED_IN.get(rulebook.id)
    if listed:
        parts = [part for schedule in rulebook.schedules if schedule.id == listed for part in schedule.parts]
        return tuple(in_language(item.text, language) for part in parts for item in part.items)
    titles = (in_language(part.title, language) for schedule in rulebook.schedules for part in schedule.parts)
    return tuple(dict.fromkeys(titles))
