"""The questions of a practice page: a part of the bank, balanced, the same on every build and in every language."""

from __future__ import annotations

from collections.abc import Iterable

from ..catalogue import Catalogue
from .bank import question_bank, telling
from .question import Question, order_by_seed

MOST = 600
"""Questions of a page; with more, its data would be slow to load on an old phone."""
MOST_CONFIRMED = 450
"""Of them at most so many are confirmed where others fill the rest: those are asked only on demand."""


def practice_questions(catalogue: Catalogue, rulebook_id: str, language: str, most: int = MOST) -> list[Question]:
    """Questions to practise with: confirmed ones first, then some that are not, each marked by its own field.

    Kinds take turns, and within a kind systems take turns, so that none is asked much more than another while
    all still have questions. The order is the one in which they are asked at first.

    Raises:
        KeyError: the catalogue has no such rulebook or lacks a fixed word.
    """
    bank = telling(question_bank(catalogue, rulebook_id, language, unconfirmed=True))
    sure = taking_turns(question for question in bank if question.confirmed)
    unsure = taking_turns(question for question in bank if not question.confirmed)
    first = sure[: max(most * MOST_CONFIRMED // MOST, most - len(unsure))]
    return [*first, *unsure[: most - len(first)]]


def taking_turns(questions: Iterable[Question]) -> list[Question]:
    """Questions in an order in which kinds take turns, and within each kind systems do."""
    kinds: dict[str, dict[str, list[Question]]] = {}
    for question in questions:
        kinds.setdefault(question.kind, {}).setdefault(question.system_id, []).append(question)
    return _in_turn([_in_turn([_mixed(of_system) for of_system in systems.values()]) for systems in kinds.values()])


def _mixed(questions: list[Question]) -> list[Question]:
    return sorted(questions, key=lambda question: order_by_seed("practice", question.id))


def _in_turn(lists: list[list[Question]]) -> list[Question]:
    longest = max(map(len, lists), default=0)
    return [one[place] for place in range(longest) for one in lists if place < len(one)]
