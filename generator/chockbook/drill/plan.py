"""The plan of a class: how many questions of each kind and level every sheet has, so that all are equally hard.

Within the plan a sheet spreads its questions over systems and severities: each place takes the question whose
system and severity were asked least so far, first on the sheet, then in the class. The seed settles ties only.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TypeVar

from .question import Question, order_by_seed

Name = TypeVar("Name", str, int)
Cell = tuple[str, int]
"""A kind of question and a level."""


class TooFewQuestions(ValueError):
    """The bank has too few questions for a sheet of the length that was asked for."""


@dataclass(frozen=True, slots=True)
class Plan:
    """How many questions of each kind and level a sheet has, in the order of the kinds."""

    cells: tuple[tuple[Cell, int], ...]

    @property
    def kinds(self) -> dict[str, int]:
        """Questions by kind."""
        found: Counter[str] = Counter()
        for (kind, _), number in self.cells:
            found[kind] += number
        return dict(found)

    @property
    def levels(self) -> dict[int, int]:
        """Questions by level, 1 to 3."""
        found: Counter[int] = Counter()
        for (_, level), number in self.cells:
            found[level] += number
        return dict(sorted(found.items()))


def make_plan(bank: Sequence[Question], questions: int) -> Plan:
    """A plan that shares a sheet evenly among the kinds of the bank, and each kind evenly among its levels.

    A kind gets no more places than it has defects to ask about, so that a sheet never asks twice about one.

    Args:
        bank: what there is to ask.
        questions: places on a sheet.

    Raises:
        TooFewQuestions: the bank has too few questions about different defects.
    """
    kinds = list(dict.fromkeys(question.kind for question in bank))
    room = {kind: len({q.entry_ids[0] for q in bank if q.kind == kind}) for kind in kinds}
    shares = share_out(questions, room)
    cells: list[tuple[Cell, int]] = []
    for kind in kinds:
        of_kind = [q for q in bank if q.kind == kind]
        levels = {level: len({q.entry_ids[0] for q in of_kind if q.level == level}) for level in (2, 1, 3)}
        by_level = share_out(shares[kind], {level: number for level, number in levels.items() if number})
        cells += [((kind, level), number) for level, number in sorted(by_level.items()) if number]
    return Plan(tuple(cells))


def share_out(total: int, room: Mapping[Name, int]) -> dict[Name, int]:
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
    plan: Plan, bank: Sequence[Question], seed: str, used: Counter[str], weights: Mapping[str, float] | None = None
) -> list[Question]:
    """The questions of one sheet, by the plan.

    Args:
        plan: how many of each kind and level.
        bank: what there is to ask.
        seed: settles ties.
        used: how often each question, and each system as "system:<id>", was used in the class; it is
            added to.
        weights: how much more often than others a system is to be asked, by id; 1 where it is not named.

    Raises:
        TooFewQuestions: the rest of the bank asks only about defects that the sheet already asks about.
    """
    weights = weights or {}
    taken: list[Question] = []
    systems: Counter[str] = Counter()
    severities: Counter[str] = Counter()
    about: set[str] = set()
    by_cell: dict[Cell, list[Question]] = {}
    for question in bank:
        by_cell.setdefault((question.kind, question.level), []).append(question)
    # Cells that ask about few defects choose first: the others can give way.
    room = {cell: len({q.entry_ids[0] for q in by_cell[cell]}) for cell, _ in plan.cells}
    for cell, number in sorted(plan.cells, key=lambda pair: (room[pair[0]], len(by_cell[pair[0]]), pair[0])):
        for _ in range(number):
            fitting = [q for q in by_cell[cell] if q.entry_ids[0] not in about]
            if not fitting:
                raise TooFewQuestions(f"too few questions of the kind {cell[0]} about different defects")
            best = min(fitting, key=lambda q: (
                systems[q.system_id] / weights.get(q.system_id, 1.0),
                used[f"system:{q.system_id}"] / weights.get(q.system_id, 1.0),
                severities[q.severity_id] if q.severity_id else 0, used[q.id], order_by_seed(seed, q.id)))  # fmt: skip
            taken.append(best)
            about.add(best.entry_ids[0])
            systems[best.system_id] += 1
            used[best.id] += 1
            used[f"system:{best.system_id}"] += 1
            if best.severity_id:
                severities[best.severity_id] += 1
    return taken
