"""From a condition to its severity, in the rulebook's own words, where these can be told apart (posed.answers_apart)."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..catalogue import Catalogue
from .choosing import Told, choices
from .posed import Posed, answers_apart, posed
from .question import Question, question_id
from .wording import Words, told

KIND = "severity"


def ask(
    catalogue: Catalogue, rulebook_id: str, languages: Sequence[Words], vehicle: str | None
) -> Iterator[Question]:
    """For each defect: which severity the rulebook gives it."""
    if not answers_apart(catalogue, rulebook_id):
        return
    words, rulebook = languages[0], catalogue.rulebook[rulebook_id]
    for one in posed(catalogue, rulebook_id, vehicle):
        severity = one.ruling.severity
        name = question_id(KIND, rulebook_id, one.entry.id, one.ruling.item.id, severity.id)
        text = _text(one)
        others = [told(other.name) for other in rulebook.severities if other.id != severity.id]
        offered = choices(name, text, told(severity.name), others, languages)
        if offered is None:
            continue
        yield Question(
            id=name, kind=KIND, entry_ids=(one.entry.id,), system_id=one.entry.system.id, severity_id=severity.id,
            text=text(words), choices=offered, reason=words.reason(one.ruling), source=words.source(one.ruling),
            confirmed=one.confirmed, level=3 if one.circumstance else 2 if one.ruling.fit == "general" else 1,
        )  # fmt: skip


def _text(one: Posed) -> Told:
    return lambda words: words.fixed("drill-ask-severity", rulebook=words.of(one.ruling.rulebook.short_name),
                                     finding=words.finding(one.entry, one.circumstance))  # fmt: skip

