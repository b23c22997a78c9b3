"""One row of a file of answers: the sheet, the student, and a letter for each question of that sheet."""

from __future__ import annotations

import unicodedata
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from ..drill.keys import Asked
from ..drill.sheets import LETTERS
from ..faults import Fault, Place, quoted
from .cells import Cell
from .header import Columns

BLANKS = ".-"
"""Marks of a question that was not answered."""
LONGEST_ALIAS = 60


@dataclass(frozen=True, slots=True)
class Answered:
    """A student's answers on a sheet."""

    sheet: str
    student: str
    letters: tuple[str, ...]
    """One for each question, in the order of the sheet; "" where none was ticked."""
    place: Place


def answered_in(
    cells: Sequence[Cell], columns: Columns, sheets: Mapping[str, tuple[Asked, ...]], place: Place
) -> tuple[Answered | None, list[Fault]]:
    """The answers of a row, or None with the fault for which it is left out.

    Blanks are told and kept. So is an answer that cannot be read: it counts as blank, and the others stand. A row of
    which no answer can be read is left out.
    """
    try:
        _right_width(cells, columns, place)
        sheet = _sheet(cells[columns.sheet], sheets, place)
        student = _student(cells[columns.student], place)
        asked = sheets[sheet]
        marks = _marks(cells, columns, len(asked), place)
        letters, unread = _letters(marks, asked, place)
    except _LeftOut as found:
        return None, [found.args[0]]
    blank = [str(n) for n, mark in enumerate(marks, 1) if _is_blank(mark)]
    told = [*unread]
    if blank:
        shown = ", ".join(blank[:10]) + (" and more" if len(blank) > 10 else "")
        what = f"blank answers: {len(blank)} of {len(letters)}, question {shown}"
        told.append(Fault(place, "blank-answer", what, "a blank counts as wrong", "write the letter if one was ticked",
                          level="warning"))  # fmt: skip
    return Answered(sheet, student, letters, place), told


class _LeftOut(Exception):
    """A row is left out; its argument is the fault that tells of it."""


def _left_out(place: Place, column: int, rule: str, what: str, why: str, mend: str) -> _LeftOut:
    return _LeftOut(Fault(Place(place.file, place.line, column), rule, what, why, mend))


def _right_width(cells: Sequence[Cell], columns: Columns, place: Place) -> None:
    least = columns.width or 3
    if len(cells) < least:
        raise _left_out(place, 1, "cell-count", f"the row has {len(cells)} cells, and {least} are needed",
                       "which cell is missing cannot be told",
                       "write all cells, and leave a blank one empty")  # fmt: skip
    over = next((cell for cell in cells[columns.width :] if cell.text.strip()), None) if columns.named else None
    if over:
        raise _left_out(place, over.column, "cell-count",
                       f"the row has more cells than the {least} that the first line names",
                       "which cells belong together cannot be told",
                       'put an alias that holds the delimiter between quotes: "Blue, Jay"')  # fmt: skip


def _sheet(cell: Cell, sheets: Mapping[str, tuple[Asked, ...]], place: Place) -> str:
    code = cell.text.strip().lower()
    if code not in sheets:
        first = next(iter(sheets), "4f09ac-07")
        same_number = f"{first.partition('-')[0]}-{code.rpartition('-')[2]:0>2}"
        example = same_number if same_number in sheets else first
        raise _left_out(place, cell.column, "unknown-sheet",
                       f"there is no sheet {quoted(cell.text.strip(), 30)} in the keys",
                       "a sheet is marked by its own key and by no other",
                       f"write the code at the head of the sheet, such as {example}; for a class of another seed name "
                       "its keys with --keys")  # fmt: skip
    return code


def _student(cell: Cell, place: Place) -> str:
    alias = unicodedata.normalize("NFC", " ".join(cell.text.split()))
    if not alias:
        raise _left_out(place, cell.column, "no-student", "the row names no student",
                       "a score has to belong to someone",
                       "write the name or alias that stands on the sheet")  # fmt: skip
    if len(alias) > LONGEST_ALIAS:
        raise _left_out(place, cell.column, "long-alias", f"the alias has {len(alias)} characters",
                       "an alias of that length does not fit in a list",
                       f"write {LONGEST_ALIAS} characters at most")  # fmt: skip
    return alias


def _marks(cells: Sequence[Cell], columns: Columns, questions: int, place: Place) -> list[Cell]:
    """A cell for each question: its letter, a blank mark, or nothing."""
    if columns.named and columns.answers is None:
        marks = [cells[at] for at in columns.questions]
    else:
        rest = list(cells[2:]) if not columns.named else [cells[columns.answers or 0]]
        if len(rest) > 1 and (len(rest[0].text.strip()) < 2 or any(cell.text.strip() for cell in rest[1:])):
            marks = rest
        else:
            marks = [Cell(mark, rest[0].column + at) for at, mark in enumerate(rest[0].text) if not mark.isspace()]
            if len(marks) != questions:
                raise _wrong_number(place, rest[0].column, len(marks), questions)
            return marks
    # A spreadsheet pads its rows to the widest: empty cells behind the last question are nobody's answers.
    over = next((cell for cell in marks[questions:] if cell.text.strip()), None)
    if len(marks) < questions or over:
        number = max(n for n, cell in enumerate(marks, 1) if cell.text.strip()) if over else len(marks)
        raise _wrong_number(place, over.column if over else cells[-1].column, number, questions)
    return marks[:questions]


def _wrong_number(place: Place, column: int, number: int, questions: int) -> _LeftOut:
    return _left_out(place, column, "answer-count",
                    f"the row has {number} answers, and the sheet has {questions} questions",
                    "which answer belongs to which question cannot be told",
                    'write a letter for each question, and "." where none was ticked')  # fmt: skip


def _is_blank(mark: Cell) -> bool:
    return mark.text.strip() in ("", *BLANKS)


def _letters(marks: Sequence[Cell], asked: Sequence[Asked], place: Place) -> tuple[tuple[str, ...], list[Fault]]:
    """The letters of a row, "" for a blank and for what cannot be read, and a fault for each of the latter."""
    letters: list[str] = []
    unread: list[Fault] = []
    for number, (mark, one) in enumerate(zip(marks, asked, strict=True), 1):
        letter, offered = mark.text.strip().upper(), LETTERS[: len(one.choices)]
        if _is_blank(mark):
            letter = ""
        elif len(letter) != 1 or letter not in offered:
            letter = ""
            unread.append(Fault(Place(place.file, place.line, mark.column), "no-such-choice",
                                f"{quoted(mark.text.strip(), 20)} is no choice of question {number}: "
                                f"it has A to {offered[-1]}",
                                "what was ticked cannot be told, so it counts as blank; the row's other answers count",
                                'write the letter on the sheet, or "." where none or more than one was ticked'))  # fmt: skip
        letters.append(letter)
    if unread and not any(letters):
        first = unread[0]
        raise _left_out(place, first.place.column, first.rule, first.what, "no answer of the row can be read", first.mend)
    return tuple(letters), unread
