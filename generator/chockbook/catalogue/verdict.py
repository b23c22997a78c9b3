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

ALWAYS = "lookup-always"
"""Key of the fixed word for a ruling that holds in all circumstances."""


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
    """What the driver can say that settles which of two rulings governs, or whether the only one does."""

    condition: Mapping[str, str]
    """The circumstance, in each language."""
    yes: Ruling
    no: Ruling | None
    """None where the rulebook says nothing of what holds otherwise."""


@dataclass(frozen=True, slots=True)
class FindingVerdict:
    """What one finding means."""

    finding: Finding
    entry: Entry
    ruling: Ruling | None
    """The ruling that governs; None where the only ruling does not fit: what it means is not settled here."""
    other: Ruling | None
    """The ruling that would govern otherwise; None where circumstances play no part, or nothing would be settled."""
    question: Question | None
    """None where circumstances play no part."""


@dataclass(frozen=True, slots=True)
class UnitVerdict:
    """What the findings on one unit mean: the worst of them governs."""

    unit: str
    findings: tuple[FindingVerdict, ...]
    governing: Ruling | None
    """None where a finding is not settled and none forbids driving."""


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
    """The worst ruling; None where nothing was found, or a finding is not settled and none forbids driving."""
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


def only_question(catalogue: Catalogue, rulings: tuple[Ruling, ...]) -> Question | None:
    """Whether a defect's only ruling fits; None where there are several, or it holds in all circumstances.

    Some schedules say of an item that it holds at all times, beside items that do not: that is nothing to ask.
    """
    if len(rulings) != 1 or not rulings[0].applies_when:
        return None
    when, always = rulings[0].applies_when, catalogue.words.get(ALWAYS, {})
    if any(always.get(language) == text for language, text in when.items()):
        return None
    return Question(when, yes=rulings[0], no=None)


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
    question = question_of(rulings) or only_question(catalogue, rulings)
    if question is None:
        return FindingVerdict(finding, entry, rulings[0], None, None)
    ruling = {"yes": question.yes, "no": question.no, "unknown": rulings[0]}[finding.answer]
    other = question.no if ruling is question.yes else question.yes
    return FindingVerdict(finding, entry, ruling, other, question)


def decide(catalogue: Catalogue, findings: Iterable[Finding], rulebook_id: str) -> Verdict:
    """What findings on the units of a combination mean together under one rulebook.

    Units come from front to back, a unit's findings worst first, then in the order of the catalogue. Steps
    keep the order that each ruling has; where two rulings disagree, that of the worse. Nothing tells the driver to
    go on while any finding forbids driving or is not settled; one that is not settled counts for more than all but
    those that forbid driving.

    Raises:
        UnfitFinding: a finding cannot be decided, or the catalogue has no such rulebook.
    """
    rulebook = catalogue.rulebook.get(rulebook_id)
    if rulebook is None:
        raise UnfitFinding(f"the catalogue has no rulebook {rulebook_id!r}")
    place = {entry.id: n for n, entry in enumerate(catalogue.entries)}
    unique = {(finding.unit, finding.entry_id): finding for finding in findings}
    decided = [decide_finding(catalogue, rulebook_id, finding) for finding in unique.values()]
    stopping = sum(severity.may_drive != "no" for severity in rulebook.severities)

    def weight(ruling: Ruling | None) -> float:
        return ruling.rank if ruling else stopping - 0.5

    units = []
    for unit in UNITS:
        here = sorted(
            (one for one in decided if one.finding.unit == unit),
            key=lambda one: (-weight(one.ruling), place[one.entry.id]),
        )
        if here:
            units.append(UnitVerdict(unit, tuple(here), here[0].ruling))
    governing = max((unit.governing for unit in units), key=weight, default=None)
    return Verdict(rulebook, tuple(units), governing, _steps(rulebook, units, governing))


def _steps(rulebook: RulebookRecord, units: list[UnitVerdict], governing: Ruling | None) -> tuple[Step, ...]:
    stopped = governing is None or governing.severity.may_drive == "no"
    found = [(one, one.ruling) for unit in units for one in unit.findings if one.ruling]
    wanted: dict[str, list[tuple[FindingVerdict, Ruling]]] = {}
    for one, ruling in found:
        for action in _actions(ruling, stopped):
            wanted.setdefault(action.id, []).append((one, ruling))
    action = {one.id: one for one in rulebook.actions}
    written = {name: n for n, name in enumerate(action)}

    def place(name: str) -> tuple[int, int, int]:
        worst = max(ruling.rank for _, ruling in wanted[name])
        return STEP_ORDER.index(action[name].kind), -worst, written[name]

    weightiest_first = sorted((ruling for _, ruling in found), key=lambda ruling: -ruling.rank)
    ordered = merged([[step.id for step in _actions(ruling, stopped)] for ruling in weightiest_first], place)
    return tuple(Step(action[name], tuple(one for one, _ in wanted[name])) for name in ordered)


def _actions(ruling: Ruling, stopped: bool) -> list[ActionRecord]:
    """What a ruling calls for, without going on where the driver has to stay."""
    return [action for action in ruling.actions if not (stopped and action.kind == "go-on")]
