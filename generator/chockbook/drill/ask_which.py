"""Which of several defects has a severity, stops the vehicle, or lets it go on."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import islice

from ..catalogue import Catalogue, Entry, SeverityRecord
from .choosing import Crowd, Told, choices, nearest
from .posed import Posed, answers_apart, plain_rulings
from .question import Question, question_id
from .wording import Words

STOP = "no"
"""The value of may_drive that stops the vehicle."""
MOST_NEAR = 12
"""Defects from which the wrong choices are taken: some fall away because they read alike."""


@dataclass(frozen=True, slots=True)
class _Asking:
    """A form of the question, and what is a right answer to it."""

    kind: str
    word: str
    fits: Callable[[SeverityRecord], bool]
    severity: SeverityRecord | None = None
    """The severity that is asked for; None where the question is what may be driven."""


def ask(
    catalogue: Catalogue, rulebook_id: str, languages: Sequence[Words], vehicle: str | None
) -> Iterator[Question]:
    """For each defect: it alone among defects near it has a severity, stops the vehicle or lets it go on."""
    if not answers_apart(catalogue, rulebook_id):
        return
    found = list(plain_rulings(catalogue, rulebook_id, vehicle))
    for asking in _forms(catalogue, rulebook_id):
        wrong = {one.entry.id: one for one in found if not asking.fits(one.ruling.severity)}
        crowd = Crowd(other.entry for other in wrong.values())
        for one in found:
            if asking.fits(one.ruling.severity) and (question := _question(asking, one, wrong, crowd, languages)):
                yield question


def _forms(catalogue: Catalogue, rulebook_id: str) -> Iterator[_Asking]:
    severities = catalogue.rulebook[rulebook_id].severities
    for severity in severities:
        yield _Asking("which", "drill-ask-which", lambda s, wanted=severity.id: s.id == wanted, severity)
    if len({severity.may_drive == STOP for severity in severities}) > 1:
        yield _Asking("stops", "drill-ask-stops", lambda s: s.may_drive == STOP)
        yield _Asking("stops", "drill-ask-goes-on", lambda s: s.may_drive != STOP)


def _question(
    asking: _Asking, one: Posed, wrong: dict[str, Posed], crowd: Crowd, languages: Sequence[Words]
) -> Question | None:
    words, severity = languages[0], one.ruling.severity
    name = question_id(asking.kind, asking.word, one.ruling.rulebook.id, one.entry.id, one.ruling.item.id, severity.id)
    text = _text(asking, one)
    near = list(islice(nearest(name, one.entry, crowd.near(name, one.entry)), MOST_NEAR))
    offered = choices(name, text, _finding(one.entry), [_finding(entry) for entry in near], languages, least_wrong=3)
    if offered is None:
        return None
    told_by = {words.finding(entry): entry for entry in near}
    beside = [told_by[choice.text] for choice in offered if not choice.right]
    of_component = sum(entry.component.id == one.entry.component.id for entry in beside)
    of_system = sum(entry.system.id == one.entry.system.id for entry in beside)
    rests_on = [one, *(wrong[entry.id] for entry in beside)]
    on_meaning = asking.severity is None
    return Question(
        id=name, kind=asking.kind, entry_ids=(one.entry.id, *(entry.id for entry in beside)),
        system_id=one.entry.system.id, severity_id=severity.id, text=text(words), choices=offered,
        reason=words.reason(one.ruling, on_meaning), source=words.source(one.ruling),
        confirmed=all(each.confirmed and (each.ruling.severity.confirmed or not on_meaning) for each in rests_on),
        level=3 if of_component else 2 if of_system >= 2 else 1,
    )  # fmt: skip


def _text(asking: _Asking, one: Posed) -> Told:
    def text(words: Words) -> str:
        severity = words.of(asking.severity.name) if asking.severity else ""
        return words.fixed(asking.word, rulebook=words.of(one.ruling.rulebook.short_name), severity=severity)

    return text


def _finding(entry: Entry) -> Told:
    return lambda words: words.finding(entry)
