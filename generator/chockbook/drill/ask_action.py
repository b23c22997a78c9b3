"""From a condition to the rule: about driving, and about the repair.

Wrong choices are what the same rulebook says of its other severities, and nothing else: what another rulebook says
stands there without its name, and can be true here as well. A rulebook whose severities cannot be told apart is not
asked so (posed.answers_apart).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..catalogue import ActionRecord, Catalogue, SeverityRecord
from .choosing import Told, choices
from .posed import Posed, answers_apart, posed
from .question import Question, question_id
from .wording import Words, told

KIND = "action"
ASPECTS = {"drive": ("stop", "go-on"), "repair": ("repair",)}
"""What is asked, and the kinds of action that answer it. Recording and telling overlap, so they are not asked."""
MOVES_FIRST = ("yes", "once-reported")
"""Values of may_drive under which the vehicle may move before it is repaired or looked at again."""


def ask(
    catalogue: Catalogue, rulebook_id: str, languages: Sequence[Words], vehicle: str | None
) -> Iterator[Question]:
    """For each defect: what the rulebook says of driving, and of the repair."""
    if not answers_apart(catalogue, rulebook_id):
        return
    words = languages[0]
    for one in posed(catalogue, rulebook_id, vehicle):
        severity, actions = one.ruling.severity, one.ruling.actions
        for aspect in ASPECTS:
            right = _first(actions, aspect)
            if right is None:
                continue
            name = question_id(KIND, aspect, rulebook_id, one.entry.id, one.ruling.item.id, right.id)
            text = _text(one, aspect)
            held = {action.id for action in actions}
            others = [other for other in _others(one, aspect) if other.id not in held]
            offered = choices(name, text, told(right.text), [told(other.text) for other in others], languages)
            if offered is None:
                continue
            place = words.place(catalogue.source[right.source].title, right.locator)
            yield Question(
                id=name, kind=KIND, entry_ids=(one.entry.id,), system_id=one.entry.system.id,
                severity_id=severity.id, text=text(words), choices=offered, reason=words.reason(one.ruling),
                source=f"{words.source(one.ruling)}; {place}",
                confirmed=one.confirmed and right.confirmed and severity.confirmed,
                level=3 if one.circumstance else 2,
            )  # fmt: skip


def _text(one: Posed, aspect: str) -> Told:
    return lambda words: words.fixed(f"drill-ask-{aspect}", rulebook=words.of(one.ruling.rulebook.short_name),
                                     finding=words.finding(one.entry, one.circumstance))  # fmt: skip


def _first(actions: Sequence[ActionRecord], aspect: str) -> ActionRecord | None:
    return next((action for action in actions if action.kind in ASPECTS[aspect]), None)


def _others(one: Posed, aspect: str) -> Iterator[ActionRecord]:
    """What the rulebook says of the aspect for its severities that differ."""
    rulebook = one.ruling.rulebook
    written = {action.id: action for action in rulebook.actions}
    for other in rulebook.severities:
        action = _first([written[name] for name in other.actions if name in written], aspect)
        if action is not None and _differs(one.ruling.severity, other, aspect):
            yield action


def _differs(severity: SeverityRecord, other: SeverityRecord, aspect: str) -> bool:
    if aspect == "repair":
        return (severity.may_drive in MOVES_FIRST) != (other.may_drive in MOVES_FIRST)
    return severity.may_drive != other.may_drive
