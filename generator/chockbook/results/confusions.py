"""Which two answers a class takes for each other: the wrong choice that was ticked, and the right one beside it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from .marking import MarkedSheet

Pair = tuple[str, str, str]
"""A kind of question and two texts of its choices, in the order of the alphabet."""


@dataclass(frozen=True, slots=True)
class Confusion:
    """Two answers of one kind of question, and how often one was ticked where the other was right."""

    kind: str
    one: str
    other: str
    other_for_one: int
    """How often `other` was ticked where `one` was right. `one` is the answer that was missed more often."""
    one_for_other: int
    offered: int
    """Answers to questions where one of the two was right and the other stood beside it."""
    systems: tuple[tuple[str, int], ...]
    """Systems of the questions, with how often the two were confused there; the most frequent first."""

    @property
    def count(self) -> int:
        """How often they were confused, either way."""
        return self.other_for_one + self.one_for_other


def confusions_of(sheets: Sequence[MarkedSheet]) -> list[Confusion]:
    """Every pair that was confused, the most frequent first; of equal ones that which was offered less often."""
    ticked: Counter[tuple[Pair, str]] = Counter()
    offered: Counter[Pair] = Counter()
    systems: dict[Pair, Counter[str]] = {}
    for sheet in sheets:
        for one in sheet.answers:
            right = one.right_text
            for text in one.asked.choices:
                if text != right:
                    offered[_pair(one.asked.kind, right, text)] += 1
            if one.letter and not one.right:
                pair = _pair(one.asked.kind, right, one.chosen)
                ticked[pair, right] += 1
                systems.setdefault(pair, Counter())[one.asked.system_id] += 1
    found = []
    for pair, where in systems.items():
        kind, first, second = pair
        if ticked[pair, second] > ticked[pair, first]:
            first, second = second, first
        ordered = tuple(sorted(where.items(), key=lambda counted: (-counted[1], counted[0])))
        found.append(Confusion(kind, first, second, ticked[pair, first], ticked[pair, second], offered[pair], ordered))
    return sorted(found, key=lambda one: (-one.count, one.offered, one.kind, one.one, one.other))


def _pair(kind: str, right: str, other: str) -> Pair:
    return (kind, *sorted((right, other)))  # type: ignore[return-value]
