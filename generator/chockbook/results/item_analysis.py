"""Each question over all sheets that asked it: how hard it was, and whether those who know more got it right.

A question is known by its id, not by its number: every sheet has it in another place with its choices in another order.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from ..drill.keys import Asked
from ..drill.sheets import LETTERS
from .marking import Marked, MarkedSheet
from .statistics import alpha, correlation, upper_lower

FEWEST = 10
"""Students below which no discrimination is given: one of them would move it by more than it tells. Our own choice."""
FEWEST_SHEETS = 20
"""Sheets below which no reliability is given: one student more or less would turn it over. Our own choice."""
HELD_BACK = 5
"""Answers at the class's own share that a question or system is credited with, so that two misses are not yet a
weakness. Our own choice."""


@dataclass(frozen=True, slots=True)
class Item:
    """A question, and how the class answered it."""

    asked: Asked
    students: int
    right: int
    blank: int
    wrong: tuple[tuple[str, int], ...]
    """Wrong choices that were ticked, with how often; the most frequent first."""
    point_biserial: float | None
    """Correlation of right or wrong with the share right of the rest of the sheet (see statistics.correlation)."""
    upper_lower: float | None
    """See statistics.upper_lower; the score is the share right of the whole sheet."""

    @property
    def right_text(self) -> str:
        """The text of the right choice."""
        return self.asked.choices[LETTERS.index(self.asked.answer)]

    @property
    def difficulty(self) -> float:
        """Share right, 0 to 1: the usual name, though a high one means an easy question."""
        return self.right / self.students


@dataclass(frozen=True, slots=True)
class Reliability:
    """How far the scores would come out the same on other sheets of the plan."""

    formula: str
    """kr20: all sheets ask the same questions, each a part. alpha: each kind of question is a part."""
    value: float
    parts: int


def items_of(sheets: Sequence[MarkedSheet]) -> list[Item]:
    """Every question that was asked, those that were missed most first, those that nobody missed last.

    Sheets of a class are equally hard by their plan, so that scores of different sheets are compared. For the order
    each question is credited with HELD_BACK answers at the class's own share right: 4 of 20 is then worse than 0 of 1.
    """
    found: dict[str, list[tuple[MarkedSheet, Marked]]] = {}
    for sheet in sheets:
        for one in sheet.answers:
            found.setdefault(one.asked.question_id, []).append((sheet, one))
    items = [_item(pairs) for pairs in found.values()]
    usual = sum(item.right for item in items) / max(1, sum(item.students for item in items))

    def order(item: Item) -> tuple[bool, float, float, str]:
        credited = (item.right + HELD_BACK * usual) / (item.students + HELD_BACK)
        return item.right == item.students, credited, item.difficulty, item.asked.question_id

    return sorted(items, key=order)


def _item(pairs: Sequence[tuple[MarkedSheet, Marked]]) -> Item:
    rights = [float(one.right) for _, one in pairs]
    blank = sum(not one.letter for _, one in pairs)
    wrong = Counter(one.chosen for _, one in pairs if one.letter and not one.right)
    correlated = outer = None
    if len(pairs) >= FEWEST:
        rests = [(sheet.right - one.right) / max(1, len(sheet.answers) - 1) for sheet, one in pairs]
        correlated = correlation(rights, rests)
        outer = upper_lower(rights, [sheet.share for sheet, _ in pairs])
    ordered = tuple(sorted(wrong.items(), key=lambda pair: (-pair[1], pair[0])))
    return Item(pairs[0][1].asked, len(pairs), int(sum(rights)), blank, ordered, correlated, outer)


def reliability_of(sheets: Sequence[MarkedSheet]) -> Reliability | None:
    """The reliability of a class's scores; None where it cannot be had, or of fewer than FEWEST_SHEETS.

    Where all sheets ask the same questions it is KR-20. Where they differ, no two students share all questions; but
    by the plan each sheet has as many of each kind, and alpha is taken over the kinds. It leans low then, since kinds
    with more questions weigh more and are not equally hard.
    """
    if len(sheets) < FEWEST_SHEETS:
        return None
    ids = [sorted(one.asked.question_id for one in sheet.answers) for sheet in sheets]
    if all(one == ids[0] for one in ids):
        formula, part_of = "kr20", lambda one: one.asked.question_id
    else:
        formula, part_of = "alpha", lambda one: one.asked.kind
        plans = [Counter(one.asked.kind for one in sheet.answers) for sheet in sheets]
        if any(plan != plans[0] for plan in plans):
            return None
    names = sorted({part_of(one) for one in sheets[0].answers})
    scores: dict[str, list[float]] = {name: [] for name in names}
    for sheet in sheets:
        counted = Counter(part_of(one) for one in sheet.answers if one.right)
        for name in names:
            scores[name].append(float(counted[name]))
    value = alpha(list(scores.values()))
    return None if value is None else Reliability(formula, value, len(names))
