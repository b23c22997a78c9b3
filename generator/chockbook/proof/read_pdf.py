"""Reading a finished PDF back with a library that did not make it: its text, page by page, and its outline."""

from __future__ import annotations

import ctypes
import re
from bisect import bisect_right
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property, partial
from itertools import groupby
from pathlib import Path
from typing import Any

import pypdfium2
import pypdfium2.raw as pdfium

from .reading import squash

_HYPHENS = str.maketrans({"\x02": "-", "\ufffe": "-"})
"""How pdfium writes a hyphen at the end of a line."""
_RIGHT_TO_LEFT = re.compile("[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc]")
"""Letters that the library puts in another order than that in which they are drawn."""
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


_Matrix = tuple[float, float, float, float, float, float]
"""How PDF writes where something is put (ISO 32000-1, 8.3.3)."""
_UNMOVED: _Matrix = (1, 0, 0, 1, 0, 0)


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
            pages.append(tuple(_PageRuns(page, text_page).pieces()))
        marks = tuple(Bookmark(mark.level, mark.get_title(), mark.get_dest().get_index() or 0)
                      for mark in document.get_toc(max_depth=4) if mark.get_dest())  # fmt: skip
        return PdfReading(tuple(pages), marks)
    finally:
        document.close()


class _PageRuns:
    """The runs of text of a page. A manual has some 25,000 of them, and the decks of a carrier as many."""

    def __init__(self, page: pypdfium2.PdfPage, text_page: pypdfium2.PdfTextPage) -> None:
        self.page, self.box = _address(page.raw), page.get_mediabox()
        self.texts = _texts(_address(text_page.raw))
        self._moved: dict[int, _Matrix] = {}
        """Where forms put what stands in them, for the objects of which the library gives the place in the form."""
        self._sides = tuple(ctypes.c_float() for _ in range(4))
        self._inks = tuple(ctypes.c_uint() for _ in range(4))
        self._side_places, self._ink_places = (tuple(map(ctypes.byref, one)) for one in (self._sides, self._inks))
        self._name, self._name_length = ctypes.create_string_buffer(64), ctypes.c_ulong()
        self._name_place = ctypes.byref(self._name_length)

    def pieces(self) -> Iterator[Piece]:
        """All of them, in the order of the page."""
        for item, form in _text_objects(self.page, _count_objects, _object_at):
            if form != _UNMOVED:
                self._moved[item] = form
            text = self.texts.get(item, "")
            # A run that nobody can see says nothing: what it holds is then missing, and is objected to as that.
            if not text and self._drawn_over(item):
                yield Piece(UNREAD, self._is_furniture(item))
            elif not text.strip() or self._in_sight(item, text):
                yield Piece(text, self._is_furniture(item))

    def _drawn_over(self, item: int) -> bool:
        """Whether a run that the library gives no text of is drawn all the same: it leaves out what stands close by again."""
        left, bottom, right, top = self._bounds(item)
        return right - left > SMALLEST and top - bottom > SMALLEST and self.box[0] <= left and right <= self.box[2]

    def _in_sight(self, item: int, text: str) -> bool:
        """Whether a run is drawn, on the page, in a size and colour that can be seen."""
        if _render_mode(item) != pdfium.FPDF_TEXTRENDERMODE_FILL:
            return False
        left, bottom, right, top = bounds = self._bounds(item)
        box = self.box
        inside = box[0] <= left and right <= box[2] and box[1] <= bottom and top <= box[3]
        wide, high = right - left, top - bottom
        if not inside or (wide < SMALLEST and high < SMALLEST):
            return False
        if high < SMALLEST_LETTER and any(sign.isalnum() for sign in text):
            return False
        red, green, blue, alpha = self._colour(item)
        if alpha < MOST_FAINT:
            return False
        return min(red, green, blue) <= PALEST or any(_behind(path, bounds) for path in self._dark_paths)

    @cached_property
    def _dark_paths(self) -> list[tuple[float, float, float, float]]:
        """Bounds of what is filled in a dark colour."""
        mode, stroke = ctypes.c_int(), ctypes.c_int()
        found = []
        for item in (_object_at(self.page, at) for at in range(_count_objects(self.page))):
            if _type_of(item) == pdfium.FPDF_PAGEOBJ_PATH:
                _draw_mode(item, ctypes.byref(mode), ctypes.byref(stroke))
                if mode.value and max(self._colour(item)[:3]) < PALEST:
                    found.append(self._bounds(item))
        return found

    def _bounds(self, item: int) -> tuple[float, float, float, float]:
        _get_bounds(item, *self._side_places)
        left, bottom, right, top = (side.value for side in self._sides)
        if item not in self._moved:
            return left, bottom, right, top
        corners = [_through(self._moved[item], x, y) for x in (left, right) for y in (bottom, top)]
        across, up = zip(*corners, strict=True)
        return min(across), min(up), max(across), max(up)

    def _colour(self, item: int) -> tuple[int, int, int, int]:
        _get_fill(item, *self._ink_places)
        red, green, blue, alpha = self._inks
        return red.value, green.value, blue.value, alpha.value

    def _is_furniture(self, item: int) -> bool:
        for at in range(_count_marks(item)):
            _name_of_mark(_mark_at(item, at), self._name, len(self._name), self._name_place)
            if self._name.raw[: self._name_length.value] == _ARTEFACT:
                return True
        return False


_ARTEFACT = "Artifact\0".encode("utf-16-le")
"""How the library writes the name of what is no part of the text."""


def _texts(text_page: int) -> dict[int, str]:
    """The text of each text object that has any.

    Asked for object by object, the library would go through the whole page each time. It can say to which object a
    letter belongs; the letters of an object stand together, unless the library has turned some of them round.
    """
    count = _count_letters(text_page)
    buffer = ctypes.create_string_buffer(2 * count + 2)
    length = _get_letters(text_page, 0, count, buffer)  # a nought at the end included
    whole = str(memoryview(buffer)[: 2 * max(length - 1, 0)], "utf-16-le", "replace").translate(_HYPHENS)
    owner = partial(_object_of_letter, text_page)
    runs = _runs_by_line if len(whole) == count and not _RIGHT_TO_LEFT.search(whole) else _runs_by_letter
    found: dict[int, str] = {}
    for item, at, end in runs(owner, whole, count):
        if len(whole) == count:
            text = whole[at:end]
        else:
            length = _get_letters(text_page, at, end - at, buffer)
            text = str(memoryview(buffer)[: 2 * length], "utf-16-le", "replace").rstrip("\0").translate(_HYPHENS)
        found[item] = found.get(item, "") + text
    return found


def _runs_by_letter(owner: Callable[[int], int | None], whole: str, count: int) -> Iterator[tuple[int, int, int]]:
    """Text objects, each with the places of its first letter and behind its last one, in one piece or in several."""
    at = 0
    for item, same in groupby(map(owner, range(count))):
        end = at + len(list(same))
        if item is not None:
            yield item, at, end
        at = end


def _runs_by_line(owner: Callable[[int], int | None], whole: str, count: int) -> Iterator[tuple[int, int, int]]:
    """The same with far fewer questions: most objects go on to the end of their line."""
    at = 0
    while at < count:
        item = owner(at)
        if item is None:
            at += 1
            continue
        line = whole.find("\r", at + 1)
        end = line if line > 0 else count
        if owner(end - 1) != item:
            last, end = at, end - 1
            while end - last > 1:
                middle = (last + end) // 2
                last, end = (middle, end) if owner(middle) == item else (last, middle)
        yield item, at, end
        at = end


def _text_objects(
    holder: int, count: Callable[[int], int], item_at: Callable[[int, int], int], form: _Matrix = _UNMOVED, depth: int = 0
) -> Iterator[tuple[int, _Matrix]]:
    """Text objects of a page or of a form on it, those of inner forms where the form stands, and how a form moves them."""
    for at in range(count(holder)):
        item = item_at(holder, at)
        kind = _type_of(item)
        if kind == pdfium.FPDF_PAGEOBJ_TEXT:
            yield item, form
        elif kind == pdfium.FPDF_PAGEOBJ_FORM and depth < DEEPEST_FORM:
            yield from _text_objects(item, _count_in_form, _object_in_form, _within(form, _matrix_of(item)), depth + 1)


def _matrix_of(form: int) -> _Matrix:
    matrix = pdfium.FS_MATRIX()
    _get_matrix(form, ctypes.byref(matrix))
    return matrix.a, matrix.b, matrix.c, matrix.d, matrix.e, matrix.f


def _through(form: _Matrix, x: float, y: float) -> tuple[float, float]:
    a, b, c, d, e, f = form
    return a * x + c * y + e, b * x + d * y + f


def _within(outer: _Matrix, inner: _Matrix) -> _Matrix:
    """How a form moves what stands in it, if another form moves that form."""
    (a, b), (c, d) = (_through((*outer[:4], 0, 0), *pair) for pair in (inner[:2], inner[2:4]))
    return a, b, c, d, *_through(outer, *inner[4:])


def _behind(path: tuple[float, float, float, float], text: tuple[float, float, float, float]) -> bool:
    return path[0] <= text[0] and path[1] <= text[1] and path[2] >= text[2] and path[3] >= text[3]


def _address(handle: Any) -> int:
    return ctypes.cast(handle, ctypes.c_void_p).value or 0


def _call(name: str, *takes: Any, gives: Any = ctypes.c_int) -> Callable[..., Any]:
    """A function of the library that takes and gives addresses as plain numbers, which costs a third of the time."""
    return ctypes.PYFUNCTYPE(gives, *takes)(_address(getattr(pdfium, name)))


_OF, _NUMBER, _SIZE = ctypes.c_void_p, ctypes.c_int, ctypes.c_ulong
_count_objects = _call("FPDFPage_CountObjects", _OF)
_object_at = _call("FPDFPage_GetObject", _OF, _NUMBER, gives=_OF)
_count_in_form = _call("FPDFFormObj_CountObjects", _OF)
_object_in_form = _call("FPDFFormObj_GetObject", _OF, _SIZE, gives=_OF)
_type_of = _call("FPDFPageObj_GetType", _OF)
_render_mode = _call("FPDFTextObj_GetTextRenderMode", _OF)
_draw_mode = _call("FPDFPath_GetDrawMode", _OF, _OF, _OF)
_get_bounds = _call("FPDFPageObj_GetBounds", _OF, _OF, _OF, _OF, _OF)
_get_matrix = _call("FPDFPageObj_GetMatrix", _OF, _OF)
_get_fill = _call("FPDFPageObj_GetFillColor", _OF, _OF, _OF, _OF, _OF)
_count_marks = _call("FPDFPageObj_CountMarks", _OF)
_mark_at = _call("FPDFPageObj_GetMark", _OF, _SIZE, gives=_OF)
_name_of_mark = _call("FPDFPageObjMark_GetName", _OF, _OF, _SIZE, _OF)
_count_letters = _call("FPDFText_CountChars", _OF)
_object_of_letter = _call("FPDFText_GetTextObject", _OF, _NUMBER, gives=_OF)
_get_letters = _call("FPDFText_GetText", _OF, _NUMBER, _NUMBER, _OF)
