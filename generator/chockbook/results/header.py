"""Which column of a file of answers holds what: by the names in its first line, or by a sheet code in their place."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from ..faults import Fault, Place, quoted
from .cells import Cell

SHEET_CODE = re.compile(r"[0-9a-f]{6}-[0-9]{2,6}")
_NAMES = {
    "sheet": ("sheet", "feuille"),
    "student": ("student", "student alias", "alias", "name or alias", "élève", "eleve", "surnom", "nom ou surnom"),
    "answers": ("answers", "réponses", "reponses"),
}
_QUESTION = re.compile(r"q?\s*0*([1-9][0-9]{0,3})")
EXAMPLE = "sheet,student,answers"


@dataclass(frozen=True, slots=True)
class Columns:
    """Where in a row the parts of an answer sheet stand, counted from 0."""

    sheet: int = 0
    student: int = 1
    answers: int | None = 2
    """The column that holds all letters; None where each question has a column."""
    questions: tuple[int, ...] = ()
    """Columns of question 1, 2 and so on."""
    width: int = 0
    """Columns that the first line names; 0 where it names none."""

    @property
    def named(self) -> bool:
        """Whether the first line names the columns, and so holds no answers."""
        return self.width > 0


def columns_of(cells: Sequence[Cell], file: str, line: int) -> tuple[Columns | None, list[Fault]]:
    """The columns of a file by the cells of its first line; None where they cannot be told."""
    place = Place(file, line)
    if cells and SHEET_CODE.fullmatch(cells[0].text.strip().lower()):
        return Columns(), []
    names = [" ".join(cell.text.split()).lower() for cell in cells]
    found: dict[str, int] = {}
    questions: dict[int, int] = {}
    faults: list[Fault] = []
    for at, (name, cell) in enumerate(zip(names, cells, strict=True)):
        part = next((part for part, known in _NAMES.items() if name in known), None)
        number = _QUESTION.fullmatch(name)
        if part in found or (number and int(number[1]) in questions):
            return None, [_unnamed(Place(file, line, cell.column), f"two columns are named {quoted(name)}")]
        if part:
            found[part] = at
        elif number:
            questions[int(number[1])] = at
        elif name:
            faults.append(Fault(Place(file, line, cell.column), "unread-column",
                                f"the column {quoted(name)} is not read", "only sheet, student and answers are marked",
                                "leave it, if it holds your notes", level="warning"))  # fmt: skip
    missing = [part for part in ("sheet", "student") if part not in found]
    if missing:
        return None, [_unnamed(place, f"no column is named {quoted(missing[0])}")]
    if "answers" in found and questions:
        return None, [_unnamed(place, "answers stand in one column and in a column for each question")]
    if "answers" not in found and not questions:
        return None, [_unnamed(place, 'no column is named "answers"')]
    gap = next((n for n in range(1, len(questions) + 1) if n not in questions), None)
    if gap is not None:
        return None, [_unnamed(place, f"there is no column for question {gap}")]
    ordered = tuple(questions[number] for number in sorted(questions))
    return Columns(found["sheet"], found["student"], found.get("answers"), ordered, len(cells)), faults


def _unnamed(place: Place, what: str) -> Fault:
    return Fault(place, "unnamed-columns", what, "without the names of its columns no line of the file can be marked",
                 f"write {EXAMPLE} as the first line, or sheet,student,1,2,3 and so on for a letter in each cell"
                 )  # fmt: skip
