"""What must hold of any printed sheet, whoever it is for: letters apart from each other, boxes, tags, codes."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from pathlib import Path

import pikepdf
import pypdfium2
import zxingcpp
from PIL import Image
from print_reading import Letter, letters

BIN = 14.0
"""Side of the squares in which neighbours are looked for, points; more than the largest letters are high."""
TOUCH = 0.25
"""Points that boxes of letters may reach into each other: an accent over a stem, a rounding."""
SAME_LINE = 1.0
"""Points between the baselines of one line of text at most."""
KERNED = 0.4
"""Share of the narrower of two neighbours on a line that may lie in the other's box, as V lies in A's."""


def overprints(path: Path) -> list[str]:
    """Letters that stand on each other: lines that run into each other, or text printed twice."""
    return [
        f"page {number}: {one.text!r} at {one.left:.1f},{one.top:.1f} on {other.text!r} at {other.left:.1f},{other.top:.1f}"
        for number, page in enumerate(letters(path), 1)
        for one, other in _overlapping(page)
    ]


def _overlapping(page: Iterable[Letter]) -> Iterator[tuple[Letter, Letter]]:
    squares: dict[tuple[int, int], list[Letter]] = defaultdict(list)
    for letter in page:
        near = {
            id(other): other
            for column in range(int(letter.left // BIN), int(letter.right // BIN) + 1)
            for row in range(int(letter.top // BIN), int(letter.bottom // BIN) + 1)
            for other in squares[column, row]
        }
        for other in near.values():
            wide = min(letter.right, other.right) - max(letter.left, other.left)
            high = min(letter.bottom, other.bottom) - max(letter.top, other.top)
            if wide <= TOUCH or high <= TOUCH:
                continue
            if abs(letter.baseline - other.baseline) < SAME_LINE and wide < KERNED * min(
                letter.right - letter.left, other.right - other.left
            ):
                continue
            yield letter, other
        for column in range(int(letter.left // BIN), int(letter.right // BIN) + 1):
            for row in range(int(letter.top // BIN), int(letter.bottom // BIN) + 1):
                squares[column, row].append(letter)


def untagged(path: Path) -> list[str]:
    """What a PDF lacks of PDF/UA-1 that can be seen without a validator."""
    with pikepdf.open(path) as pdf:
        xmp = bytes(pdf.Root.Metadata.read_bytes()) if "/Metadata" in pdf.Root else b""
        tree = pdf.Root.get("/StructTreeRoot", {})
        fonts = [thing for thing in pdf.objects if isinstance(thing, pikepdf.Dictionary) and thing.get("/Type") == "/FontDescriptor"]
        claims = {
            "marked as tagged": bool(pdf.Root.get("/MarkInfo", {}).get("/Marked", False)),
            "a tree of its parts": "/K" in tree and "/ParentTree" in tree,
            "a language": bool(str(pdf.Root.get("/Lang", ""))),
            "a title": bool(str(pdf.docinfo.get("/Title", ""))) and b"<dc:title>" in xmp,
            "the title shown": bool(pdf.Root.get("/ViewerPreferences", {}).get("/DisplayDocTitle", False)),
            "the mark of PDF/UA-1": b"<pdfuaid:part>1</pdfuaid:part>" in xmp,
            "its fonts": bool(fonts) and all("/FontFile2" in font or "/FontFile3" in font for font in fonts),
            "its pages in the tree": all("/StructParents" in page for page in pdf.pages),
        }
    return [name for name, held in claims.items() if not held]


def picture(path: Path, page: int, dots_per_inch: float = 200) -> Image.Image:
    """A page in greys, counted from 0."""
    document = pypdfium2.PdfDocument(path)
    return document[page].render(scale=dots_per_inch / 72, grayscale=True).to_pil().convert("L")


def codes_of(path: Path, pages: int = 4) -> list[str]:
    """What a reader makes of the codes on the first pages of a document, in greys at 200 dots to the inch."""
    with pikepdf.open(path) as pdf:
        n_pages = min(pages, len(pdf.pages))
    return [
        code.text
        for page in range(n_pages)
        for code in zxingcpp.read_barcodes(picture(path, page), formats=zxingcpp.BarcodeFormat.QRCode)
    ]
