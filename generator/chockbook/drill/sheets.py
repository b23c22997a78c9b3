"""Different sheets for a class from one seed: the same seed gives the same sheets."""

from __future__ import annotations

import hashlib
import json
from collections import Counter
from collections.abc import Collection, Mapping, Sequence
from dataclasses import asdict, dataclass, replace

from ..catalogue import Catalogue
from .bank import question_bank, telling
from .plan import Plan, fill, make_plan
from .question import Choice, Question, order_by_seed

LETTERS = "ABCDEF"
CODE_LENGTH = 6


@dataclass(frozen=True, slots=True)
class Setting:
    """What decides a class's sheets, beside the catalogue."""

    rulebook_id: str
    language: str
    sheets: int = 1
    questions: int = 20
    seed: str = "1"
    kinds: tuple[str, ...] | None = None
    vehicle: str | None = None
    unconfirmed: bool = False
    weights: tuple[tuple[str, float], ...] = ()
    """How much more often a system is asked, by id."""
    systems: tuple[str, ...] | None = None
    """Only questions about these systems, by id; None for all."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """One student's questions, in the order in which they are printed."""

    code: str
    """Code of the class and number of the sheet, such as "4f09ac-07"."""
    questions: tuple[Question, ...]

    @property
    def letters(self) -> str:
        """The right answers in order, such as "BADC"."""
        return "".join(right_letter(question) for question in self.questions)


@dataclass(frozen=True, slots=True)
class ClassSheets:
    """All sheets of a class."""

    setting: Setting
    code: str
    edition: str
    plan: Plan
    bank_size: int
    sheets: tuple[Sheet, ...]


def right_letter(question: Question) -> str:
    """The letter of the right choice."""
    return LETTERS[next(n for n, choice in enumerate(question.choices) if choice.right)]


def make_sheets(catalogue: Catalogue, setting: Setting) -> ClassSheets:
    """The sheets of a class: as many of each kind and level on every sheet, and no two neighbours in one order.

    Where a question stands on two neighbouring sheets, it stands in another place, with its choices in another order.

    Raises:
        TooFewQuestions: fewer questions can be made than a sheet is to have.
        KeyError: the catalogue has no such rulebook or lacks a fixed word.
        ValueError: a kind of question or of vehicle is not known.
    """
    bank = question_bank(catalogue, setting.rulebook_id, setting.language, kinds=setting.kinds,
                         vehicle=setting.vehicle, unconfirmed=setting.unconfirmed)  # fmt: skip
    if setting.systems is not None:
        bank = [question for question in bank if about(catalogue, question, setting.systems)]
    told = telling(bank)
    if setting.kinds is None and len({question.entry_ids[0] for question in told}) >= setting.questions:
        bank = told
    plan = make_plan(bank, setting.questions)
    code = class_code(catalogue, setting)
    used: Counter[str] = Counter()
    sheets: list[Sheet] = []
    for number in range(1, setting.sheets + 1):
        seed = f"{setting.seed}|{number}"
        taken = fill(plan, bank, seed, used, dict(setting.weights), setting.systems is not None)
        before = sheets[-1].questions if sheets else ()
        ordered = _in_another_order(taken, seed, before)
        sheets.append(Sheet(f"{code}-{number:02}", tuple(ordered)))
    return ClassSheets(setting, code, catalogue.edition.code, plan, len(bank), tuple(sheets))


def about(catalogue: Catalogue, question: Question, systems: Collection[str]) -> bool:
    """Whether every defect that a question is about, or offers, belongs to one of the systems."""
    return all(catalogue.entry[entry].system.id in systems for entry in question.entry_ids)


def class_code(catalogue: Catalogue, setting: Setting) -> str:
    """A short code of edition and setting: it stands on every sheet of the class."""
    told = json.dumps([catalogue.edition.code, asdict(setting)], sort_keys=True)
    return hashlib.sha256(told.encode("utf-8")).hexdigest()[:CODE_LENGTH]


def _in_another_order(taken: Sequence[Question], seed: str, before: Sequence[Question]) -> list[Question]:
    place = {question.id: n for n, question in enumerate(before)}
    ordered = sorted(taken, key=lambda question: order_by_seed(seed, "place", question.id))
    for n in range(len(ordered)):
        if place.get(ordered[n].id) == n:
            # Exchange with the first that then stands in no former place of either.
            swap = next((m for m in range(len(ordered)) if m != n and place.get(ordered[m].id) != n
                         and place.get(ordered[n].id) != m), None)  # fmt: skip
            if swap is not None:
                ordered[n], ordered[swap] = ordered[swap], ordered[n]
    former: Mapping[str, Question] = {question.id: question for question in before}
    return [_shuffled(question, seed, former.get(question.id)) for question in ordered]


def _shuffled(question: Question, seed: str, former: Question | None) -> Question:
    choices: list[Choice] = sorted(question.choices, key=lambda choice: order_by_seed(seed, question.id, choice.text))
    if former is not None and former.choices == tuple(choices):
        choices = [*choices[1:], choices[0]]
    return replace(question, choices=tuple(choices))
