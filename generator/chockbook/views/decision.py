"""A verdict in words: what each unit and the whole combination may do, the steps, and the report's text."""

from __future__ import annotations

from dataclasses import dataclass

from ..catalogue import Catalogue, FindingVerdict, Ruling, Verdict
from ..catalogue.locator import locator_in
from .entry import entry_name
from .wording import fixed_word, in_language, joined

BLANK = "____"
"""What stands in the report for a thing that the driver fills in."""


@dataclass(frozen=True, slots=True)
class OutcomeView:
    """What a ruling lets the driver do, or that nothing is settled."""

    severity_id: str | None
    """None where nothing is settled."""
    severity_name: str
    """The severity's name; where nothing is settled, that."""
    may_drive: str
    outcome: str


@dataclass(frozen=True, slots=True)
class FoundView:
    """One finding with what it means."""

    entry_id: str
    unit_id: str
    unit_name: str
    component_name: str
    condition: str
    heading: str
    concern: str
    """Where it is and what it is, in a few words."""
    outcome: OutcomeView
    item_id: str | None
    """None where nothing is settled."""
    locator: str
    """Empty where nothing is settled."""
    applies_when: str | None
    confirmed: bool
    question: str | None
    """The circumstance to settle; None where there is none."""
    answer: str
    otherwise: OutcomeView | None
    otherwise_when: str | None


@dataclass(frozen=True, slots=True)
class UnitOutcomeView:
    """What the findings on one unit mean."""

    unit_id: str
    unit_name: str
    outcome: OutcomeView
    findings: tuple[FoundView, ...]


@dataclass(frozen=True, slots=True)
class StepView:
    """A step: what to do, who does it, and for which findings."""

    action_id: str
    kind: str
    text: str
    by_name: str
    confirmed: bool
    concerns: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class DecisionView:
    """A verdict in one language."""

    outcome: OutcomeView | None
    """For the whole combination; None where nothing was found."""
    units: tuple[UnitOutcomeView, ...]
    steps: tuple[StepView, ...]
    report: tuple[str, ...]
    """Lines to copy into the report."""


def view_outcome(catalogue: Catalogue, ruling: Ruling | None, language: str) -> OutcomeView:
    """What a ruling lets the driver do in one language; without one, that nothing is settled and the driver stays.

    Raises:
        MissingWording: a text has not been written in the language.
    """
    if ruling is None:
        name = fixed_word(catalogue, "lookup-unsettled-name", language)
        return OutcomeView(None, name, "no", fixed_word(catalogue, "lookup-unsettled", language))
    severity = ruling.severity
    return OutcomeView(
        severity.id,
        in_language(severity.name, language),
        severity.may_drive,
        in_language(severity.outcome, language),
    )


def _found(catalogue: Catalogue, one: FindingVerdict, language: str) -> FoundView:
    ruling = one.ruling
    applies = ruling.applies_when if ruling and one.question else None
    unit_name = fixed_word(catalogue, f"unit-{one.finding.unit}", language)
    other_applies = one.other.applies_when if one.other else None
    return FoundView(
        entry_id=one.entry.id,
        unit_id=one.finding.unit,
        unit_name=unit_name,
        component_name=in_language(one.entry.component.name, language),
        condition=in_language(one.entry.condition, language),
        heading=entry_name(catalogue, one.entry, language),
        concern=joined(catalogue, unit_name, in_language(one.entry.component.name, language), language),
        outcome=view_outcome(catalogue, ruling, language),
        item_id=ruling.item.id if ruling else None,
        locator=locator_in(catalogue, ruling.locator, language) if ruling else "",
        applies_when=in_language(applies, language) if applies else None,
        confirmed=ruling is None or ruling.confirmed,
        question=in_language(one.question.condition, language) if one.question else None,
        answer=one.finding.answer,
        otherwise=view_outcome(catalogue, one.other, language) if one.question else None,
        otherwise_when=in_language(other_applies, language) if other_applies else None,
    )


def view_decision(catalogue: Catalogue, verdict: Verdict, language: str) -> DecisionView:
    """A verdict in one language.

    Raises:
        MissingWording: a text has not been written in the language.
    """
    units = tuple(
        UnitOutcomeView(
            unit.unit,
            fixed_word(catalogue, f"unit-{unit.unit}", language),
            view_outcome(catalogue, unit.governing, language),
            tuple(_found(catalogue, one, language) for one in unit.findings),
        )
        for unit in verdict.units
    )
    steps = tuple(
        StepView(
            step.action.id,
            step.action.kind,
            in_language(step.action.text, language),
            fixed_word(catalogue, f"by-{step.action.by}", language),
            step.action.confirmed,
            tuple(_found(catalogue, one, language).concern for one in step.findings),
        )
        for step in verdict.steps
    )
    outcome = view_outcome(catalogue, verdict.governing, language) if verdict.units else None
    report = _report(catalogue, verdict, units, outcome, language) if outcome else ()
    return DecisionView(outcome, units, steps, report)


def _report(catalogue: Catalogue, verdict: Verdict, units: tuple[UnitOutcomeView, ...], outcome: OutcomeView,
            language: str) -> tuple[str, ...]:  # fmt: skip
    def word(key: str) -> str:
        return fixed_word(catalogue, key, language)

    lines = [
        f"{word('title')}, {word('edition')} {catalogue.edition.code}, "
        f"{in_language(verdict.rulebook.short_name, language)}"
    ]
    found = [report_line(one, word("not-confirmed")) for unit in units for one in unit.findings]
    written = False
    for field in verdict.rulebook.report:
        name = in_language(field.name, language)
        if field.on_form == "defects" and not written:
            lines += [joined(catalogue, name, "", language).rstrip(), *found]
            written = True
        else:
            lines.append(joined(catalogue, name, BLANK, language))
    if not written:
        lines += found
    return (*lines, joined(catalogue, word("lookup-result"), outcome.outcome, language), word("aid-short"))


def report_line(found: FoundView, not_confirmed: str) -> str:
    """A finding as it is written in the report."""
    parts = [
        f"- {found.unit_name}",
        found.heading,
        found.outcome.severity_name,
        found.locator,
        found.applies_when or "",
        "" if found.confirmed else not_confirmed,
    ]
    return " | ".join(part for part in parts if part)
