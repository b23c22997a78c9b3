"""Answers of a class from a file of a spreadsheet. A bad row is told and left out, a bad answer is told and counts as
blank; nothing is guessed.

A row is a sheet's code, the student's alias, and a letter for each question; "." or "-" or an empty cell is a blank.
A sheet is named by its whole code: by number alone, a sheet of another class would be marked by the wrong key.
"""

from __future__ import annotations

import stat
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import chain
from pathlib import Path

from ..drill.keys import Asked
from ..faults import Fault, Place, in_order
from .cells import LINE_END, BadQuote, Cell, cells_of, delimiter_of, numbered_lines, separator_named
from .header import columns_of
from .row import Answered, answered_in
from .twice import without_second_rows

LARGEST = 4 * 1024 * 1024
"""Bytes; 20,000 rows of 40 answers take some 1.5 million."""
MOST_ROWS = 20_000
LONGEST_LINE = 4_000
"""Characters; a row of 500 questions with a cell for each takes some 1,100."""
MOST_CELLS = 600
_HARMLESS = {ord(space): " " for space in "\t\u00a0\u202f"}
"""Spaces that spreadsheets and French typing put in; as wide as themselves, so that columns stay."""

__all__ = ["Answered", "Answers", "answers_in", "read_answers"]


@dataclass(frozen=True, slots=True)
class Answers:
    """What a file of answers holds."""

    rows: tuple[Answered, ...]
    left_out: int
    """Rows that hold something and are not marked."""
    faults: tuple[Fault, ...]


def read_answers(path: Path, name: str, sheets: Mapping[str, tuple[Asked, ...]]) -> Answers:
    """Read a file of answers. What cannot be read is told in its faults; nothing is raised for a bad file.

    Args:
        path: the file.
        name: the file as it is named in messages.
        sheets: the questions of every sheet by its code.
    """
    try:
        kind = path.stat()
        if not stat.S_ISREG(kind.st_mode):
            return _nothing(name, "unreadable", "it is a folder or a device, not a file", "name a CSV file")
        with path.open("rb") as file:
            raw = file.read(LARGEST + 1)
    except OSError as error:
        what = f"the file cannot be read: {error.strerror}"
        return _nothing(name, "unreadable", what, "mend its name or its permissions")
    except ValueError:  # a NUL in the name
        return _nothing(name, "unreadable", "there can be no file of such a name", "mend its name")
    return answers_in(raw, name, sheets)


def answers_in(raw: bytes, name: str, sheets: Mapping[str, tuple[Asked, ...]]) -> Answers:
    """What the bytes of a file of answers hold; see read_answers."""
    if len(raw) > LARGEST:
        return _nothing(name, "too-large", "the file is larger than 4 MiB", "check that this is the right file")
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        return _nothing(name, "encoding", "the file is UTF-16, not UTF-8", 'save it as "CSV UTF-8"')
    # A byte that is not UTF-8 becomes a lone surrogate, so that only its row is lost.
    text = raw.decode("utf-8-sig", "surrogateescape")
    if sum(1 for _ in LINE_END.finditer(text)) > MOST_ROWS:
        return _nothing(name, "too-large", f"the file has more than {MOST_ROWS:,} lines", "mark a class at a time")
    return _rows(text, name, sheets)


def _rows(text: str, name: str, sheets: Mapping[str, tuple[Asked, ...]]) -> Answers:
    lines = ((Place(name, number), line) for number, line in numbered_lines(text) if line.strip(' \t,;"'))
    first = next(lines, None)
    named = separator_named(first[1]) if first else None
    if named:
        first = next(lines, None)
    if first is None:
        return _nothing(name, "empty-file", "the file holds no rows",
                        "write sheet,student,answers and a row for each sheet")  # fmt: skip
    delimiter = named or delimiter_of(first[1])
    cells = _cells(*first, delimiter)
    columns, said = (None, [cells]) if isinstance(cells, Fault) else columns_of(cells, name, first[0].line)
    if columns is None:
        return Answers((), 0, tuple(said))
    rows: list[Answered] = []
    faults = [*said]
    left_out = 0
    for place, line in lines if columns.named else chain([first], lines):
        cells = _cells(place, line, delimiter)
        row, said = (None, [cells]) if isinstance(cells, Fault) else answered_in(cells, columns, sheets, place)
        faults += said
        if row is None:
            left_out += 1
        else:
            rows.append(row)
    kept, said = without_second_rows(rows)
    return Answers(tuple(kept), left_out + len(rows) - len(kept), tuple(in_order([*faults, *said])))


def _cells(place: Place, line: str, delimiter: str) -> list[Cell] | Fault:
    """The cells of a line, or what keeps it from being taken apart."""
    if len(line) > LONGEST_LINE:
        return Fault(place, "long-line", f"the line has more than {LONGEST_LINE:,} characters",
                     "no row of answers is that long", "check that each sheet stands on a line of its own")  # fmt: skip
    if not line.translate(_HARMLESS).isprintable():
        return _unseen(line, place)
    if line.count(delimiter) > MOST_CELLS:
        return Fault(place, "cell-count", f"the row has more than {MOST_CELLS} cells",
                     "no sheet has so many questions", "check that this is the right file")  # fmt: skip
    try:
        return cells_of(line, delimiter)
    except BadQuote as error:
        return Fault(Place(place.file, place.line, error.column), "bad-quote", error.what,
                     "where the cells of the row end cannot be told",
                     'close the quote, and write "" for a quote inside a cell')  # fmt: skip


def _unseen(line: str, place: Place) -> Fault:
    """The fault of a line with a byte that is no letter, or with a character that cannot be seen."""
    column, character = next((at, one) for at, one in enumerate(line.translate(_HARMLESS), 1) if not one.isprintable())
    where = Place(place.file, place.line, column)
    if "\udc80" <= character <= "\udcff":
        return Fault(where, "encoding", f"byte 0x{ord(character) - 0xDC00:02x} is not UTF-8",
                     "in another encoding, letters turn into other letters",
                     'save the file as "CSV UTF-8"')  # fmt: skip
    return Fault(where, "unseen-character", f"the character U+{ord(character):04X} cannot be seen",
                 "it may hide or turn what stands around it", "remove it, or type the row again")  # fmt: skip


def _nothing(name: str, rule: str, what: str, mend: str) -> Answers:
    return Answers((), 0, (Fault(Place(name), rule, what, "no row of the file can be marked", mend),))
