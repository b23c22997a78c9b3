"""Reading a finished PDF back with a library that did not make it: its text, page by page, and its outline."""

from __future__ import annotations

import ctypes
from bisect import bisect_right
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any

import pypdfium2
import pypdfium2.raw as pdfium

from .reading import squash

_HYPHENS = str.maketrans({"\x02": "-", "\ufffe": "-"})
"""How pdfium writes a hyphen at the end of a line."""
DEEPEST_FORM = 3
"""How many forms may stand inside each other."""
MOST_FAINT, PALEST = 200, 200
"""Of 255: a run that covers less, or whose colour is lighter, cannot be read unless it stands on something dark."""
SMALLEST = 0.4
"""Points, the longer side: a full stop of six points has more."""

SMALLEST_LETTER = 2
"""Points, from foot to head."""
UNREAD = "\u25a1unread\u25a1"
"""Stands for a run that is drawn and has no text; in letters, so that no comparison passes over it."""


@dataclass(frozen=True, slots=True)
class Piece:
    """A run of text."""

    text: str
    furniture: bool
    """Whether it is marked as an artefact: a running head, a page number, a foot line."""


@dataclass(frozen=True, slots=True)
class Bookmark:
    """An entry of the outline."""

    level: int
    title: str
    page: int
    """Counted from 0."""


@dataclass(frozen=True)
class PdfReading:
    """What a PDF says."""

    pages: tuple[tuple[Piece, ...], ...]
    bookmarks: tuple[Bookmark, ...]

    @cached_property
    def page_texts(self) -> tuple[str, ...]:
        """The squashed text of each page without its furniture."""
        return tuple(squash("".join(piece.text for piece in page if not piece.furniture)) for page in self.pages)

    @cached_property
    def furniture(self) -> tuple[str, ...]:
        """The squashed furniture of each page."""
        return tuple(squash("".join(piece.text for piece in page if piece.furniture)) for page in self.pages)

    @cached_property
    def text(self) -> str:
        """The squashed text of all pages, without furniture."""
        return "".join(self.page_texts)

    @cached_property
    def _starts(self) -> list[int]:
        starts, at = [], 0
        for text in self.page_texts:
            starts.append(at)
            at += len(text)
        return starts

    def page_at(self, position: int) -> int:
        """The page, counted from 1, on which a position of `text` stands."""
        return bisect_right(self._starts, position)

    def sections(self) -> Iterator[tuple[Bookmark, int, int]]:
        """Each bookmark with the begin and end of its section in `text`; a section ends where the next begins."""
        begins = []
        for mark in self.bookmarks:
            earliest = max(self._starts[mark.page], begins[-1] if begins else 0)
            begins.append(max(self.text.find(squash(mark.title), earliest), earliest))
        ends, next_of_level = [], dict.fromkeys((mark.level for mark in self.bookmarks), len(self.text))
        for mark, begin in zip(reversed(self.bookmarks), reversed(begins), strict=True):
            ends.append(next_of_level[mark.level])
            # For what stands before, this mark ends the sections of its level and of the levels below.
            next_of_level.update((level, begin) for level in next_of_level if level >= mark.level)
        yield from zip(self.bookmarks, begins, reversed(ends), strict=True)


def read_pdf(source: Path | bytes) -> PdfReading:
    """Read a PDF: a file, or what was read of one.

    Raises:
        OSError: the file cannot be read.
        pypdfium2.PdfiumError: it is not a PDF.
    """
    document = pypdfium2.PdfDocument(source if isinstance(source, bytes) else source.read_bytes())
    try:
        pages = []
        for page in document:
            text_page = page.get_textpage()
            pages.append(tuple(_pieces(page, text_page)))
        marks = tuple(Bookmark(mark.level, mark.get_title(), mark.get_dest().get_index() or 0)
                      for mark in document.get_toc(max_depth=4) if mark.get_dest())  # fmt: skip
        return PdfReading(tuple(pages), marks)
    finally:
        document.close()


def _pieces(page: pypdfium2.PdfPage, text_page: pypdfium2.PdfTextPage) -> Iterator[Piece]:
    """The runs of text of a page, in its order. The library's raw calls: a manual has some 25,000 runs."""
    buffer = (ctypes.c_ushort * 4096)()
    box = page.get_mediabox()
    for item in _text_objects(page.raw, pdfium.FPDFPage_CountObjects, pdfium.FPDFPage_GetObject):
        length = pdfium.FPDFTextObj_GetText(item, text_page.raw, buffer, ctypes.sizeof(buffer))
        if length > ctypes.sizeof(buffer):
            buffer = (ctypes.c_ushort * (length // 2 + 1))()
            pdfium.FPDFTextObj_GetText(item, text_page.raw, buffer, length)
        text = _decoded(buffer, length).translate(_HYPHENS)
        # A run that nobody can see says nothing: what it holds is then missing, and is objected to as that.
        if not text and _drawn_over(item, box):
            yield Piece(UNREAD, _is_furniture(item))
        elif not text.strip() or _in_sight(page, item, text, box):
            yield Piece(text, _is_furniture(item))


def _text_objects(
    holder: Any, count: Callable[[Any], int], item_at: Callable[[Any, int], Any], depth: int = 0
) -> Iterator[Any]:
    """Text objects of a page or of a form on it, those of inner forms where the form stands."""
    for at in range(count(holder)):
        item = item_at(holder, at)
        kind = pdfium.FPDFPageObj_GetType(item)
        if kind == pdfium.FPDF_PAGEOBJ_TEXT:
            yield item
        elif kind == pdfium.FPDF_PAGEOBJ_FORM and depth < DEEPEST_FORM:
            yield from _text_objects(item, pdfium.FPDFFormObj_CountObjects, pdfium.FPDFFormObj_GetObject, depth + 1)


def _drawn_over(item: Any, box: tuple[float, float, float, float]) -> bool:
    """Whether a run that the library gives no text of is drawn all the same: it leaves out what stands close by again."""
    left, bottom, right, top = _bounds(item)
    return right - left > SMALLEST and top - bottom > SMALLEST and box[0] <= left and right <= box[2]


def _in_sight(page: pypdfium2.PdfPage, item: Any, text: str, box: tuple[float, float, float, float]) -> bool:
    """Whether a run is drawn, on the page, in a size and colour that can be seen."""
    if pdfium.FPDFTextObj_GetTextRenderMode(item) != pdfium.FPDF_TEXTRENDERMODE_FILL:
        return False
    left, bottom, right, top = bounds = _bounds(item)
    inside = box[0] <= left and right <= box[2] and box[1] <= bottom and top <= box[3]
    high = SMALLEST_LETTER if any(sign.isalnum() for sign in text) else 0
    if not inside or max(right - left, top - bottom) < SMALLEST or top - bottom < high:
        return False
    red, green, blue, alpha = _colour(item)
    if alpha < MOST_FAINT:
        return False
    return min(red, green, blue) <= PALEST or any(_behind(path, bounds) for path in _dark_paths(page))


def _dark_paths(page: pypdfium2.PdfPage) -> Iterator[tuple[float, float, float, float]]:
    """Bounds of what is filled in a dark colour."""
    for at in range(pdfium.FPDFPage_CountObjects(page.raw)):
        item = pdfium.FPDFPage_GetObject(page.raw, at)
        if pdfium.FPDFPageObj_GetType(item) == pdfium.FPDF_PAGEOBJ_PATH:
            mode, stroke = ctypes.c_int(), ctypes.c_int()
            pdfium.FPDFPath_GetDrawMode(item, mode, stroke)
            if mode.value and max(_colour(item)[:3]) < PALEST:
                yield _bounds(item)


def _behind(path: tuple[float, float, float, float], text: tuple[float, float, float, float]) -> bool:
    return path[0] <= text[0] and path[1] <= text[1] and path[2] >= text[2] and path[3] >= text[3]


def _bounds(item: Any) -> tuple[float, float, float, float]:
    values = tuple(ctypes.c_float() for _ in range(4))
    pdfium.FPDFPageObj_GetBounds(item, *values)
    return tuple(value.value for value in values)  # type: ignore[return-value]


def _colour(item: Any) -> tuple[int, int, int, int]:
    values = tuple(ctypes.c_uint() for _ in range(4))
    pdfium.FPDFPageObj_GetFillColor(item, *values)
    return tuple(value.value for value in values)  # type: ignore[return-value]


def _is_furniture(item: Any) -> bool:
    for at in range(pdfium.FPDFPageObj_CountMarks(item)):
        mark = pdfium.FPDFPageObj_GetMark(item, at)
        buffer, length = (ctypes.c_ushort * 32)(), ctypes.c_ulong()
        pdfium.FPDFPageObjMark_GetName(mark, buffer, ctypes.sizeof(buffer), length)
        if _decoded(buffer, length.value) == "Artifact":
            return True
    return False


def _decoded(buffer: Any, length: int) -> str:
    """A text that the library has written as UTF-16, with a nought at its end."""
    return ctypes.string_at(buffer, length).decode("utf-16-le", "replace").rstrip("\0")
