"""Every question that can be made of a rulebook."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Collection, Iterator, Sequence

from ..catalogue import Catalogue
from ..catalogue.record import VEHICLES
from . import ask_action, ask_case, ask_figure, ask_place, ask_severity, ask_which
from .question import Question
from .wording import Words

_ASKERS: dict[str, Callable[..., Iterator[Question]]] = {
    ask_severity.KIND: ask_severity.ask,
    ask_action.KIND: ask_action.ask,
    "which": ask_which.ask,
    "stops": ask_which.ask,
    "figure": ask_figure.ask,
    "measured": ask_figure.ask,
    ask_case.KIND: ask_case.ask,
    ask_place.KIND: ask_place.ask,
}
KINDS: tuple[str, ...] = tuple(_ASKERS)
"""Kinds of question, in the order in which the bank gives them."""
MANY = 10
"""So many questions with the same choices and the same right one are soon ticked without reading."""


def question_bank(
    catalogue: Catalogue,
    rulebook_id: str,
    language: str,
    *,
    kinds: Collection[str] | None = None,
    vehicle: str | None = None,
    unconfirmed: bool = False,
) -> list[Question]:
    """Every question that can be made of a rulebook, the same list every time.

    Args:
        catalogue: the checked catalogue.
        rulebook_id: the rulebook that decides what is right.
        language: code of the questions' language.
        kinds: of KINDS; all of them where left out.
        vehicle: truck, tractor, trailer or converter-dolly: only defects that it can have.
        unconfirmed: keeps questions whose answer rests on something from memory.

    Raises:
        KeyError: the catalogue has no such rulebook or lacks a fixed word.
        ValueError: a kind of question or of vehicle is not known.
    """
    wanted = KINDS if kinds is None else tuple(kinds)
    unknown = [kind for kind in wanted if kind not in KINDS]
    if unknown:
        raise ValueError(f"{unknown[0]!r} is not a kind of question; the kinds are {', '.join(KINDS)}")
    if vehicle is not None and vehicle not in VEHICLES:
        raise ValueError(f"{vehicle!r} is not a kind of vehicle; the kinds are {', '.join(VEHICLES)}")
    codes = [language, *(other.code for other in catalogue.languages if other.code != language)]
    languages = [Words(catalogue, code) for code in codes]
    found: list[Question] = []
    for asker in dict.fromkeys(_ASKERS[kind] for kind in KINDS if kind in wanted):
        found += [question for question in asker(catalogue, rulebook_id, languages, vehicle) if question.kind in wanted]
    found.sort(key=lambda question: KINDS.index(question.kind))
    elsewhere = tuple(f"[{code}] " for code in codes)
    return [question for question in found if (question.confirmed or unconfirmed) and not _half(question, elsewhere)]


def telling(bank: Sequence[Question]) -> list[Question]:
    """The questions of a bank without those that can be answered unread: from these nobody learns.

    They are the questions of a kind that always has the same right answer, and those that offer the same choices as
    MANY others of their kind of which the same choice is always right. A rulebook with one severity has such kinds.
    Where nothing would be left, all are.
    """
    answers: dict[object, set[str]] = {}
    alike: Counter[object] = Counter()
    for question in bank:
        for group in (question.kind, _offered(question)):
            answers.setdefault(group, set()).add(question.answer.text)
            alike[group] += 1
    return [
        question for question in bank
        if len(answers[question.kind]) > 1
        and (len(answers[_offered(question)]) > 1 or alike[_offered(question)] < MANY)
    ] or list(bank)  # fmt: skip


def _offered(question: Question) -> tuple[str, frozenset[str]]:
    return question.kind, frozenset(choice.text for choice in question.choices)


def _half(question: Question, elsewhere: Collection[str]) -> bool:
    """Whether a question holds a text that is not written in its language yet."""
    said = (question.text, question.reason, question.source, *(choice.text for choice in question.choices))
    return any(mark in text for text in said for mark in elsewhere)
