"""Reading a PDF back with pdfium: letters with their places, and text without line breaks."""

from __future__ import annotations

import ctypes
import unicodedata
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import pypdfium2
import pypdfium2.raw as pdfium

MM = 72 / 25.4
"""Points in a millimetre."""
LINE_END_HYPHENS = {0x02: "-", 0xFFFE: "-"}
"""What pdfium makes of a hyphen at the end of a line, as if the word had been divided there."""


@dataclass(frozen=True, slots=True)
class Letter:
    """A visible character: its box, baseline and type size in points, from the top left of the page."""

    text: str
    left: float
    top: float
    right: float
    bottom: float
    baseline: float
    size: float


@cache
def letters(path: Path) -> list[list[Letter]]:
    """The visible characters of every page, in the order in which the file has them."""
    document = pypdfium2.PdfDocument(path)
    left, right, bottom, top, x, y = (ctypes.c_double() for _ in range(6))
    pages = []
    for page in document:
        height = page.get_height()
        text = page.get_textpage()
        found = []
        for index in range(text.count_chars()):
            char = LINE_END_HYPHENS.get(code := pdfium.FPDFText_GetUnicode(text, index), chr(code))
            if char.isspace() or not char.isprintable():
                continue
            assert pdfium.FPDFText_GetCharBox(text, index, left, right, bottom, top)
            assert pdfium.FPDFText_GetCharOrigin(text, index, x, y)
            size = pdfium.FPDFText_GetFontSize(text, index)
            found.append(Letter(char, left.value, height - top.value, right.value, height - bottom.value,
                                height - y.value, size))  # fmt: skip
        pages.append(found)
    return pages


def squash(text: str) -> str:
    """A text without spaces, line breaks and invisible characters."""
    plain = unicodedata.normalize("NFC", text)
    return "".join(char for char in plain if char.isprintable() and not char.isspace())


@cache
def squashed_pages(path: Path) -> list[str]:
    """The text of every page, squashed."""
    return [squash("".join(letter.text for letter in page)) for page in letters(path)]
