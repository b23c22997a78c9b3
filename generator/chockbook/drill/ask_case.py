"""A short written case: several findings on one usual unit, and the decision. The decision rule gives the truth.

A rulebook whose severities cannot be told apart (posed.answers_apart) is not asked so: with one severity every case
would have the same answer, and no wrong one of its own.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from ..catalogue import UNITS, Catalogue, Finding, RulebookRecord, SeverityRecord, decide
from ..catalogue.usual_units import USUAL_UNITS, UsualUnit
from .choosing import Told, choices, part_by_seed
from .posed import Posed, answers_apart, posed
from .question import Question, order_by_seed, question_id
from .wording import Words, told

KIND = "case"
FINDINGS = (2, 3, 4)
"""How many findings a case has, in turn; so many choices make it easy, middling or hard."""
CASES = 500
"""Cases that are tried, from confirmed rulings and again from all."""
LONE = ("tractor",)
"""A tractor alone is left out: what can be wrong with its fifth wheel is said of vehicles that are coupled."""
STOP = "no"


class _Found(NamedTuple):
    unit: str
    posed: Posed


def ask(
    catalogue: Catalogue, rulebook_id: str, languages: Sequence[Words], vehicle: str | None
) -> Iterator[Question]:
    """Cases with no finding that stops, with one and with two, in turn."""
    if not answers_apart(catalogue, rulebook_id):
        return
    every = list(posed(catalogue, rulebook_id, vehicle))
    usual = [unit for unit in USUAL_UNITS.values() if unit.vehicles != LONE and vehicle in (None, *unit.vehicles)]
    seen = set()
    for series, found in enumerate(([one for one in every if one.confirmed], every)):
        for number in range(CASES):
            seed = f"{KIND}|{rulebook_id}|{vehicle}|{series}|{number}"
            unit = usual[number % len(usual)]
            findings = _findings(seed, found, unit, vehicle, FINDINGS[number // len(usual) % len(FINDINGS)], number % 3)
            question = _question(catalogue, rulebook_id, tuple(unit.fitted), findings, languages) if findings else None
            if question and question.id not in seen:
                seen.add(question.id)
                yield question


def _findings(
    seed: str, found: Sequence[Posed], unit: UsualUnit, vehicle: str | None, number: int, stopping: int
) -> tuple[_Found, ...]:
    """Findings of what is fitted to the unit, of different components, so many of which stop; empty where too few."""
    ordered = sorted(part_by_seed(found, seed), key=lambda one: order_by_seed(seed, one.entry.id, one.ruling.item.id))
    taken: list[_Found] = []
    for one in ordered:
        stops = one.ruling.severity.may_drive == STOP
        n_stops = sum(other.posed.ruling.severity.may_drive == STOP for other in taken)
        full = n_stops >= stopping if stops else len(taken) - n_stops >= number - stopping
        places = [place for place, fitted in unit.fitted.items()
                  if UNITS[place] in one.entry.vehicles and vehicle in (None, UNITS[place])
                  and set(one.entry.component.fitted) <= set(fitted)]  # fmt: skip
        if full or not places or any(other.posed.entry.component.id == one.entry.component.id for other in taken):
            continue
        place = min(places, key=lambda name: (sum(other.unit == name for other in taken), order_by_seed(seed, name)))
        taken.append(_Found(place, one))
    if len(taken) < 2:
        return ()
    order = list(UNITS)
    taken.sort(key=lambda one: (order.index(one.unit), order_by_seed(seed, "told", one.posed.entry.id)))
    return tuple(taken)


def _question(
    catalogue: Catalogue, rulebook_id: str, units: Sequence[str], findings: Sequence[_Found], languages: Sequence[Words]
) -> Question | None:
    words, rulebook = languages[0], catalogue.rulebook[rulebook_id]
    told_of = [Finding(one.posed.entry.id, one.unit, one.posed.answer) for one in findings]
    governing = decide(catalogue, told_of, rulebook_id).governing
    if governing is None:
        return None
    name = question_id(KIND, rulebook_id, units, [(one.unit, one.posed.entry.id, one.posed.answer) for one in findings],
                       governing.severity.id)  # fmt: skip
    numbers = [n for n, one in enumerate(findings, 1) if one.posed.ruling.severity.may_drive == STOP]

    def text(words: Words) -> str:
        listed = "; ".join(
            words.fixed("drill-case-finding", number=n, unit=words.fixed(f"unit-{one.unit}"),
                        finding=words.finding(one.posed.entry, one.posed.circumstance))
            for n, one in enumerate(findings, 1)
        )  # fmt: skip
        made_up = ", ".join(words.fixed(f"unit-{unit}") for unit in units)
        return words.fixed("drill-ask-case", rulebook=words.of(rulebook.short_name), units=made_up, findings=listed)

    right = _because(rulebook, numbers) if numbers else told(governing.severity.outcome)
    wrong = _wrong(rulebook, governing.severity, numbers, len(findings), name)
    offered = choices(name, text, right, wrong, languages)
    if offered is None:
        return None
    first = [one for one in findings if one.posed.ruling.rank == governing.rank]
    entries = [one.posed.entry for one in sorted(findings, key=lambda one: one not in first)]
    said = (words.fixed("drill-reason-case", number=n, reason=words.reason(one.posed.ruling))
            for n, one in enumerate(findings, 1))  # fmt: skip
    conditional = any(one.posed.circumstance for one in findings)
    return Question(
        id=name, kind=KIND, entry_ids=tuple(entry.id for entry in entries), system_id=entries[0].system.id,
        severity_id=governing.severity.id, text=text(words), choices=offered, reason=" ".join(said),
        source="; ".join(dict.fromkeys(words.source(one.posed.ruling) for one in first)),
        confirmed=all(one.posed.confirmed and one.posed.ruling.severity.confirmed for one in findings),
        level=3 if len(findings) == 4 or conditional else len(findings) - 1,
    )  # fmt: skip


def _because(rulebook: RulebookRecord, numbers: Sequence[int]) -> Told:
    """The outcome that forbids driving, and the findings that it rests on: all of them and no other."""
    severity = next(s for s in reversed(rulebook.severities) if s.may_drive == STOP)

    def outcome(words: Words) -> str:
        listed = ", ".join(map(str, numbers))
        return words.fixed("drill-case-because", outcome=words.of(severity.outcome), numbers=listed)

    return outcome


def _wrong(rulebook: RulebookRecord, governing: SeverityRecord, numbers: list[int], n_findings: int, seed: str) -> Iterator[Told]:
    """Other decisions of the rulebook: another severity's outcome, or not to drive, for findings that do not stop.

    Part of the findings that stop is never offered: that one of them stops the vehicle is true as well.
    """
    for severity in rulebook.severities:
        if severity.may_drive not in (governing.may_drive, STOP):
            yield told(severity.outcome)
    if not any(severity.may_drive == STOP for severity in rulebook.severities):
        return
    every = range(1, n_findings + 1)
    sets = [[n] for n in every] + [[n, m] for n in every for m in every if n < m]
    # Single findings first where none or one stops, pairs first where two do: the nearest mistakes.
    sets.sort(key=lambda one: (len(one) != max(len(numbers), 1), order_by_seed(seed, one)))
    yield from (_because(rulebook, one) for one in sets if not set(one) <= set(numbers))
