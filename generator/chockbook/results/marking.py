"""Sheets marked by their keys: a right letter counts one, a wrong one or a blank nothing."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from ..drill.keys import Asked
from ..drill.sheets import LETTERS
from .row import Answered


@dataclass(frozen=True, slots=True)
class Marked:
    """One answer of a student."""

    asked: Asked
    letter: str
    """The letter that was ticked; "" for a blank."""

    @property
    def right(self) -> bool:
        """Whether the letter is that of the key."""
        return self.letter == self.asked.answer

    @property
    def chosen(self) -> str:
        """The text that was chosen; "" for a blank."""
        return self.asked.choices[LETTERS.index(self.letter)] if self.letter else ""

    @property
    def right_text(self) -> str:
        """The text of the right choice."""
        return self.asked.choices[LETTERS.index(self.asked.answer)]


@dataclass(frozen=True, slots=True)
class MarkedSheet:
    """A student's sheet, marked."""

    sheet: str
    student: str
    answers: tuple[Marked, ...]

    @property
    def right(self) -> int:
        """Right answers."""
        return sum(one.right for one in self.answers)

    @property
    def blank(self) -> int:
        """Questions without an answer."""
        return sum(not one.letter for one in self.answers)

    @property
    def share(self) -> float:
        """Share right, 0 to 1."""
        return self.right / len(self.answers)


def mark(rows: Iterable[Answered], sheets: Mapping[str, tuple[Asked, ...]]) -> list[MarkedSheet]:
    """Rows marked by the key of their sheet, in the order of the rows."""
    return [
        MarkedSheet(row.sheet, row.student, tuple(map(Marked, sheets[row.sheet], row.letters))) for row in rows
    ]
