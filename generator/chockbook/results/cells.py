"""Rows and cells of a file from a spreadsheet, each cell with its place.

Cells are quoted as RFC 4180 has it, but a quoted cell ends on its line: no sheet code, alias or answer has a line
break, and a quote that someone forgot to close then costs one row and not the rest of the file.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

LINE_END = re.compile("\r\n|\n|\r")
DELIMITERS = (",", ";", "\t")
"""What spreadsheets put between cells: the semicolon where the comma stands in numbers."""
_SEPARATOR_LINE = re.compile(r"""["']?sep=([,;\t])["']?[,;\t]*""", re.IGNORECASE)


class BadQuote(ValueError):
    """A cell's quotes do not hold: what is wrong, and the column."""

    def __init__(self, what: str, column: int) -> None:
        super().__init__(what)
        self.what, self.column = what, column

    def __reduce__(self) -> tuple[type[BadQuote], tuple[str, int]]:
        """How it is copied and sent."""
        return BadQuote, (self.what, self.column)


@dataclass(frozen=True, slots=True)
class Cell:
    """A cell's text without its quotes, and the column of its first character, counted from 1."""

    text: str
    column: int


def numbered_lines(text: str) -> Iterator[tuple[int, str]]:
    """Lines with their number from 1, whatever ends them: LF, CRLF or CR."""
    at, number = 0, 1
    for end in LINE_END.finditer(text):
        yield number, text[at : end.start()]
        at, number = end.end(), number + 1
    if at < len(text):
        yield number, text[at:]


def separator_named(line: str) -> str | None:
    """The delimiter that a first line such as "sep=;" names, as some spreadsheets write it."""
    found = _SEPARATOR_LINE.fullmatch(line)
    return found[1] if found else None


def delimiter_of(line: str) -> str:
    """The delimiter of which a line holds most outside quotes; a comma where it holds none."""
    bare = re.sub(r'"[^"]*"', "", line)
    return max(DELIMITERS, key=lambda one: (bare.count(one), -DELIMITERS.index(one)))


def cells_of(line: str, delimiter: str) -> list[Cell]:
    """The cells of a line.

    Raises:
        BadQuote: a quote is not closed on the line, or text follows the closing one.
    """
    found: list[Cell] = []
    at = 0
    while True:
        if line[at : at + 1] == '"':
            text, end = _quoted(line, at)
            found.append(Cell(text, at + 2))
            if end < len(line) and line[end] != delimiter:
                raise BadQuote("text follows the closing quote of a cell", end + 1)
        else:
            end = line.find(delimiter, at)
            end = len(line) if end < 0 else end
            found.append(Cell(line[at:end], at + 1))
        if end >= len(line):
            return found
        at = end + 1


def _quoted(line: str, at: int) -> tuple[str, int]:
    """The text of a quoted cell and where the line goes on behind it."""
    parts: list[str] = []
    begun = at + 1
    while True:
        end = line.find('"', begun)
        if end < 0:
            raise BadQuote("a quote is not closed on its line", at + 1)
        parts.append(line[begun:end])
        if line[end + 1 : end + 2] != '"':
            return '"'.join(parts), end + 1
        begun = end + 2
