"""The plan of a class: how many questions of each kind, outcome and level every sheet has, so that all are equally hard.

Outcomes take turns within a kind, so that no kind can be answered without reading it. Within the plan a sheet
spreads its questions over systems: each place takes the question whose system was asked least so far, first on the
sheet, then in the class. The seed settles ties only.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from .question import Question, order_by_seed

Cell = tuple[str, str, int]
"""A kind of question, an outcome and a level."""
FEW_ANSWERS = 6
"""Up to so many different right answers of a kind are its outcomes; with more, the severities are."""
TO_SPARE = 5
"""A sheet asks at most one in so many of what a kind, or a cell, has, while others have room: neighbours differ."""


class TooFewQuestions(ValueError):
    """The bank has too few questions for a sheet of the length that was asked for."""


@dataclass(frozen=True, slots=True)
class Plan:
    """How many questions of each kind, outcome and level a sheet has, in the order of the kinds."""

    cells: tuple[tuple[Cell, int], ...]

    @property
    def kinds(self) -> dict[str, int]:
        """Questions by kind."""
        found: Counter[str] = Counter()
        for (kind, _, _), number in self.cells:
            found[kind] += number
        return dict(found)

    @property
    def levels(self) -> dict[int, int]:
        """Questions by level, 1 to 3."""
        found: Counter[int] = Counter()
        for (_, _, level), number in self.cells:
            found[level] += number
        return dict(sorted(found.items()))


def make_plan(bank: Sequence[Question], questions: int) -> Plan:
    """A plan that shares a sheet evenly among the kinds of the bank, and each kind evenly among outcomes and levels.

    A kind gets no more places than it has defects to ask about, so that a sheet never asks twice about one; and
    where the bank is rich enough, far fewer, so that sheets differ.

    Args:
        bank: what there is to ask.
        questions: places on a sheet.

    Raises:
        TooFewQuestions: the bank has too few questions about different defects.
    """
    by_kind: dict[str, list[Question]] = {}
    for question in bank:
        by_kind.setdefault(question.kind, []).append(question)
    room = {kind: len({q.entry_ids[0] for q in asked}) for kind, asked in by_kind.items()}
    # Two at least: with one place, a kind would come out the same on every sheet.
    ample = {kind: min(room[kind], max(2, len(asked) // TO_SPARE)) for kind, asked in by_kind.items()}
    shares = share_out(questions, ample if sum(ample.values()) >= questions else room)
    cells = [cell for kind, asked in by_kind.items() for cell in _cells_of_kind(kind, asked, shares[kind])]
    return Plan(tuple(cells))


def outcomes_of(bank: Sequence[Question]) -> dict[str, str]:
    """What each question of a bank comes out at, by its id: its answer where its kind has few of them, its severity
    where it has many."""
    answers: dict[str, set[str]] = {}
    for question in bank:
        answers.setdefault(question.kind, set()).add(question.answer.text)
    few = {kind for kind, texts in answers.items() if len(texts) <= FEW_ANSWERS}
    return {q.id: q.answer.text if q.kind in few else q.severity_id for q in bank}


def _cells_of_kind(kind: str, asked: Sequence[Question], places: int) -> list[tuple[Cell, int]]:
    """The places of a kind: each goes to the outcome, then to the level, that has the fewest so far.

    Cells in which the sheets of a class would soon repeat each other come last.
    """
    outcomes = outcomes_of(asked)
    cells: dict[Cell, list[Question]] = {}
    for question in asked:
        cells.setdefault((kind, outcomes[question.id], question.level), []).append(question)
    room = {cell: len({question.entry_ids[0] for question in held}) for cell, held in cells.items()}
    taken: Counter[Cell] = Counter()
    by_outcome: Counter[str] = Counter()
    by_level: Counter[int] = Counter()
    for _ in range(places):
        free = [cell for cell in cells if taken[cell] < room[cell]]
        best = min(free, key=lambda cell: (len(cells[cell]) < TO_SPARE * (taken[cell] + 1), by_outcome[cell[1]],
                                           by_level[cell[2]], order_by_seed("plan", *cell)))  # fmt: skip
        taken[best] += 1
        by_outcome[best[1]] += 1
        by_level[best[2]] += 1
    return sorted(taken.items())


def share_out(total: int, room: Mapping[str, int]) -> dict[str, int]:
    """A total shared evenly, the first taking what is over; none gets more than its room.

    Raises:
        TooFewQuestions: the rooms together are too small.
    """
    if total > sum(room.values()):
        raise TooFewQuestions(f"{total} questions were asked for, and {sum(room.values())} can be made")
    shares = dict.fromkeys(room, 0)
    while total:
        open_names = [name for name in room if shares[name] < room[name]]
        for name in sorted(open_names, key=lambda name: shares[name])[:total]:
            shares[name] += 1
            total -= 1
    return shares


def fill(
    plan: Plan, bank: Sequence[Question], seed: str, used: Counter[str], weights: Mapping[str, float] | None = None,
    again: bool = False,
) -> list[Question]:  # fmt: skip
    """The questions of one sheet, by the plan.

    Args:
        plan: how many of each kind, outcome and level.
        bank: what there is to ask.
        seed: settles ties.
        used: how often each question, and each system as "system:<id>", was used in the class; it is
            added to.
        weights: how much more often than others a system is to be asked, by id; 1 where it is not named.
        again: asks another question about a defect that the sheet asks about already, where there is nothing else.

    Raises:
        TooFewQuestions: the rest of the bank asks only about defects that the sheet already asks about.
    """
    weights = weights or {}
    taken: list[Question] = []
    systems: Counter[str] = Counter()
    about: set[str] = set()
    outcomes = outcomes_of(bank)
    by_cell: dict[Cell, list[Question]] = {}
    for question in bank:
        by_cell.setdefault((question.kind, outcomes[question.id], question.level), []).append(question)
    # Cells that ask about few defects choose first: the others can give way.
    room = {cell: len({q.entry_ids[0] for q in by_cell[cell]}) for cell, _ in plan.cells}
    for cell, number in sorted(plan.cells, key=lambda pair: (room[pair[0]], len(by_cell[pair[0]]), pair[0])):
        for _ in range(number):
            fitting = [q for q in by_cell[cell] if q.entry_ids[0] not in about]
            if not fitting and again:
                fitting = [q for q in by_cell[cell] if q not in taken]
            if not fitting:
                raise TooFewQuestions(f"too few questions of the kind {cell[0]} about different defects")
            best = min(fitting, key=lambda q: (
                systems[q.system_id] / weights.get(q.system_id, 1.0),
                used[f"system:{q.system_id}"] / weights.get(q.system_id, 1.0),
                used[q.id], order_by_seed(seed, q.id)))  # fmt: skip
            taken.append(best)
            about.add(best.entry_ids[0])
            systems[best.system_id] += 1
            used[best.id] += 1
            used[f"system:{best.system_id}"] += 1
    return taken
