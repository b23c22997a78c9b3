"""The code on a deck's first card: drawn as a picture, and each of its dots compared with what the address asks for.

The code is looked up in the picture and not in the drawing commands, so that what is compared is what a phone sees:
dots, and the white around them. Tests besides read it with a reader of codes at 200 dots to the inch, in greys.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from functools import lru_cache

import pypdfium2
import pypdfium2.raw as pdfium
import segno

from .objection import Objection

QUIET = 4
"""White dots around a code (ISO/IEC 18004)."""
PIXELS = 4
"""Of the picture, for each dot."""
LEAST_STROKES = 150
"""A path of more pieces than this, nearly as wide as high, is taken for a code: rules and boxes have a few."""


def prove_code(pdf: bytes, name: str, address: str | None, pages: int = 2) -> Iterator[Objection]:
    """Objections to the code on the first card.

    Args:
        pdf: the finished file.
        name: of the file, for the objections.
        address: where the code has to lead; None where there is to be no code.
        pages: how many of the first pages hold the faces of card 1: many contacts push the code to its back.
    """
    document = pypdfium2.PdfDocument(io.BytesIO(pdf))
    try:
        boxes = [(page, box) for page in (document[number] for number in range(min(pages, len(document)))) for box in _boxes(page)]
        if address is None:
            if boxes:
                yield Objection(name, "code", "stands on a deck that has no address to lead to")
            return
        if not any(_dots(page, box, len(wanted)) == wanted for wanted in _codes(address) for page, box in boxes):
            what = "does not lead to" if boxes else "is missing, which leads to"
            yield Objection(name, "code", f"{what} {address}")
    finally:
        document.close()


def _boxes(page: pypdfium2.PdfPage) -> Iterator[tuple[float, float, float, float]]:
    """Where codes may lie on a page."""
    for item in page.get_objects([pdfium.FPDF_PAGEOBJ_PATH]):
        if pdfium.FPDFPath_CountSegments(item.raw) > LEAST_STROKES:
            left, bottom, right, top = item.get_bounds()
            if 0.8 < (right - left) / (top - bottom) < 1.25:
                yield left, bottom, right, top


@lru_cache(maxsize=256)
def _codes(address: str) -> tuple[list[list[bool]], ...]:
    """The codes that lead to an address: with much correction, or with less where that gives a smaller code.

    All units of a carrier have the same.
    """
    codes = (segno.make(address, error=level, boost_error=False, micro=False) for level in ("q", "m"))
    return tuple([[bool(dot) for dot in row] for row in code.matrix_iter(border=QUIET)] for code in codes)


def _dots(page: pypdfium2.PdfPage, box: tuple[float, float, float, float], count: int) -> list[list[bool]]:
    """Which dots are dark where a code lies, its white border included.

    Args:
        page: of the finished file.
        box: left, bottom, right and top of the strokes, in points, with a stroke's width on each side.
        count: dots on a side, border included.
    """
    width, height = page.get_size()
    dot = (box[2] - box[0]) / (count - 2 * QUIET + 2)
    x, y, half = (box[0] + box[2]) / 2, (box[1] + box[3]) / 2, count * dot / 2
    crop = (x - half, y - half, width - x - half, height - y - half)
    picture = page.render(scale=PIXELS / dot, grayscale=True, crop=crop)
    grey, wide = bytes(picture.buffer), picture.stride
    at = [min(int((n + 0.5) * PIXELS), picture.width - 1, picture.height - 1) for n in range(count)]
    return [[grey[row * wide + column] < 128 for column in at] for row in at]
