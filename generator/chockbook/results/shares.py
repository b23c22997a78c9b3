"""The share right for each system, severity, kind and level of question."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from ..drill.keys import Asked
from .item_analysis import FEWEST
from .marking import MarkedSheet
from .statistics import correlation


@dataclass(frozen=True, slots=True)
class Share:
    """The answers to all questions of one group."""

    id: str
    asked: int
    right: int
    questions: int
    """Different questions among them."""
    students: int
    discrimination: float | None
    """Correlation of a student's share right in the group with that in the rest of the sheet: the point-biserial of a
    question, for a group of them. None with fewer than FEWEST students."""

    @property
    def share(self) -> float:
        """Share right, 0 to 1."""
        return self.right / self.asked


GROUPS: dict[str, Callable[[Asked], str]] = {
    "systems": lambda asked: asked.system_id,
    "severities": lambda asked: asked.severity_id,
    "kinds": lambda asked: asked.kind,
    "levels": lambda asked: str(asked.level),
}
"""What answers are grouped by; a question in whose answer no severity plays a part is in none."""


def shares_of(sheets: Sequence[MarkedSheet], group: str) -> list[Share]:
    """The groups of one sort, the one with the smallest share right first.

    Args:
        sheets: the marked sheets.
        group: of GROUPS.
    """
    name_of = GROUPS[group]
    pairs: dict[str, list[tuple[float, float | None]]] = {}
    totals: dict[str, list[int]] = {}
    ids: dict[str, set[str]] = {}
    for sheet in sheets:
        counts: dict[str, list[int]] = {}
        for one in sheet.answers:
            if name := name_of(one.asked):
                count = counts.setdefault(name, [0, 0])
                count[0] += 1
                count[1] += one.right
                ids.setdefault(name, set()).add(one.asked.question_id)
        for name, (asked, right) in counts.items():
            rest = len(sheet.answers) - asked
            pairs.setdefault(name, []).append((right / asked, (sheet.right - right) / rest if rest else None))
            total = totals.setdefault(name, [0, 0])
            total[0] += asked
            total[1] += right
    found = [
        Share(name, asked, right, len(ids[name]), len(pairs[name]), _discrimination(pairs[name]))
        for name, (asked, right) in totals.items()
    ]
    return sorted(found, key=lambda share: (share.share, -share.asked, share.id))


def _discrimination(pairs: Sequence[tuple[float, float | None]]) -> float | None:
    both = [(inside, outside) for inside, outside in pairs if outside is not None]
    if len(both) < FEWEST:
        return None
    return correlation([inside for inside, _ in both], [outside for _, outside in both])
