"""The decision rule: what several findings on a combination mean together. The worst finding governs.

site_templates/web/lookup/js/decision.js does the same; tests/lookup/verdicts.yaml holds the two together.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Literal

from .entry import Entry, Ruling
from .rulebook import ActionRecord, RulebookRecord
from .step_order import merged
from .whole import Catalogue

Answer = Literal["yes", "no", "unknown"]
ANSWERS: tuple[Answer, ...] = ("yes", "no", "unknown")
UNITS: Mapping[str, str] = {
    "truck": "truck",
    "tractor": "tractor",
    "trailer-1": "trailer",
    "dolly": "converter-dolly",
    "trailer-2": "trailer",
}
"""The units of a combination from front to back, each with the kind of vehicle that it is."""
STEP_ORDER = ("stop", "record", "tell", "go-on", "repair")
"""Kinds of action in the order in which they are done where the rulings leave it open. Going on comes after recording
and telling, since the driver may go on only then."""


class UnfitFinding(ValueError):
    """A finding that cannot be decided: no such defect, unit or answer, or the defect is not of that unit."""


@dataclass(frozen=True, slots=True)
class Finding:
    """A defect found on a unit."""

    entry_id: str
    unit: str
    """A key of UNITS."""
    answer: Answer = "unknown"
    """Whether the circumstance that the defect's rulings turn on holds; of no effect where there is none."""


@dataclass(frozen=True, slots=True)
class Question:
    """What the driver can say that settles which of two rulings governs."""

    condition: Mapping[str, str]
    """The circumstance, in each language."""
    yes: Ruling
    no: Ruling


@dataclass(frozen=True, slots=True)
class FindingVerdict:
    """What one finding means."""

    finding: Finding
    entry: Entry
    ruling: Ruling
    """The ruling that governs."""
    other: Ruling | None
    """The ruling that would govern otherwise; None where circumstances play no part."""
    question: Question | None


@dataclass(frozen=True, slots=True)
class UnitVerdict:
    """What the findings on one unit mean: the worst of them governs."""

    unit: str
    findings: tuple[FindingVerdict, ...]
    governing: Ruling


@dataclass(frozen=True, slots=True)
class Step:
    """An action, and the findings that call for it."""

    action: ActionRecord
    findings: tuple[FindingVerdict, ...]


@dataclass(frozen=True, slots=True)
class Verdict:
    """What the findings mean for the whole combination."""

    rulebook: RulebookRecord
    units: tuple[UnitVerdict, ...]
    """Units with findings, from front to back."""
    governing: Ruling | None
    """The worst ruling; None where nothing was found."""
    steps: tuple[Step, ...]


def question_of(rulings: tuple[Ruling, ...]) -> Question | None:
    """What decides between a defect's worst ruling and the next; None where there is one ruling only.

    The worse ruling's own circumstance is asked for; where it has none, that of the milder ruling.
    """
    if len(rulings) < 2:
        return None
    worse, milder = rulings[0], rulings[1]
    if worse.applies_when:
        return Question(worse.applies_when, yes=worse, no=milder)
    if milder.applies_when:
        return Question(milder.applies_when, yes=milder, no=worse)
    return None


def decide_finding(catalogue: Catalogue, rulebook_id: str, finding: Finding) -> FindingVerdict:
    """What one finding means. Where the circumstance is not known, the worse ruling governs.

    Raises:
        UnfitFinding: no such defect, unit or answer, the rulebook does not speak of the defect, or the
            defect is not one of that kind of vehicle.
    """
    entry = catalogue.entry.get(finding.entry_id)
    if entry is None:
        raise UnfitFinding(f"the catalogue has no defect {finding.entry_id!r}")
    if finding.unit not in UNITS:
        raise UnfitFinding(f"{finding.unit!r} is not a unit; the units are {', '.join(UNITS)}")
    if finding.answer not in ANSWERS:
        raise UnfitFinding(f"{finding.answer!r} is not an answer; the answers are {', '.join(ANSWERS)}")
    if UNITS[finding.unit] not in entry.vehicles:
        raise UnfitFinding(f"{finding.entry_id} is not a defect of a {UNITS[finding.unit]}")
    rulings = entry.rulings_under(rulebook_id)
    if not rulings:
        raise UnfitFinding(f"the rulebook {rulebook_id!r} does not speak of {finding.entry_id}")
    question = question_of(rulings)
    ruling = rulings[0]
    if question and finding.answer != "unknown":
        ruling = question.yes if finding.answer == "yes" else question.no
    other = None
    if question:
        other = question.no if ruling is question.yes else question.yes
    return FindingVerdict(finding, entry, ruling, other, question)


def decide(catalogue: Catalogue, findings: Iterable[Finding], rulebook_id: str) -> Verdict:
    """What findings on the units of a combination mean together under one rulebook.

    Units come from front to back, a unit's findings worst first, then in the order of the catalogue. Steps
    keep the order that each ruling has; where two rulings disagree, that of the worse. Nothing tells the driver to
    go on while any finding forbids driving.

    Raises:
        UnfitFinding: a finding cannot be decided, or the catalogue has no such rulebook.
    """
    rulebook = catalogue.rulebook.get(rulebook_id)
    if rulebook is None:
        raise UnfitFinding(f"the catalogue has no rulebook {rulebook_id!r}")
    place = {entry.id: n for n, entry in enumerate(catalogue.entries)}
    unique = {(finding.unit, finding.entry_id): finding for finding in findings}
    decided = [decide_finding(catalogue, rulebook_id, finding) for finding in unique.values()]
    units = []
    for unit in UNITS:
        here = sorted(
            (one for one in decided if one.finding.unit == unit),
            key=lambda one: (-one.ruling.rank, place[one.entry.id]),
        )
        if here:
            units.append(UnitVerdict(unit, tuple(here), here[0].ruling))
    governing = max((unit.governing for unit in units), key=lambda ruling: ruling.rank, default=None)
    return Verdict(rulebook, tuple(units), governing, _steps(rulebook, units, governing))


def _steps(rulebook: RulebookRecord, units: list[UnitVerdict], governing: Ruling | None) -> tuple[Step, ...]:
    if governing is None:
        return ()
    stopped = governing.severity.may_drive == "no"
    found = [one for unit in units for one in unit.findings]
    wanted: dict[str, list[FindingVerdict]] = {}
    for one in found:
        for action in _actions(one, stopped):
            wanted.setdefault(action.id, []).append(one)
    action = {one.id: one for one in rulebook.actions}
    written = {name: n for n, name in enumerate(action)}

    def place(name: str) -> tuple[int, int, int]:
        worst = max(one.ruling.rank for one in wanted[name])
        return STEP_ORDER.index(action[name].kind), -worst, written[name]

    weightiest_first = sorted(found, key=lambda one: -one.ruling.rank)
    ordered = merged([[step.id for step in _actions(one, stopped)] for one in weightiest_first], place)
    return tuple(Step(action[name], tuple(wanted[name])) for name in ordered)


def _actions(one: FindingVerdict, stopped: bool) -> list[ActionRecord]:
    """What a finding calls for, without going on where something forbids it."""
    return [action for action in one.ruling.actions if not (stopped and action.kind == "go-on")]
