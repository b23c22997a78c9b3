"""What must hold of any printed sheet, whoever it is for: letters apart from each other, boxes, tags, codes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

import numpy as np
import pikepdf
import pypdfium2
import zxingcpp
from PIL import Image
from print_reading import Letter, letters

TOUCH = 0.25
"""Points that boxes of letters may reach into each other: an accent over a stem, a rounding."""
SAME_LINE = 1.0
"""Points between the baselines of one line of text at most."""
KERNED = 0.5
"""Share of the narrower of two neighbours on a line that may lie in the other's box: j's tail lies 0.43 under q's."""


def overprints(path: Path) -> list[str]:
    """Letters that stand on each other: lines that run into each other, or text printed twice."""
    return [
        f"page {number}: {one.text!r} at {one.left:.1f},{one.top:.1f} on {other.text!r} at {other.left:.1f},{other.top:.1f}"
        for number, page in enumerate(letters(path), 1)
        for one, other in _overlapping(page)
    ]


def _overlapping(page: Sequence[Letter]) -> Iterator[tuple[Letter, Letter]]:
    """Pairs of letters that stand on each other, looked for from left to right."""
    order = sorted(page, key=lambda letter: letter.left)
    boxes = np.array([(a.left, a.top, a.right, a.bottom, a.baseline) for a in order]).reshape(-1, 5)
    widest = (boxes[:, 2] - boxes[:, 0]).max(initial=0.0)
    for apart in range(1, len(order)):
        one, other = boxes[:-apart], boxes[apart:]
        if (other[:, 0] - one[:, 0]).min() > widest:
            return  # whatever is further apart in this order stands too far to the right
        wide = np.minimum(one[:, 2], other[:, 2]) - other[:, 0]
        high = np.minimum(one[:, 3], other[:, 3]) - np.maximum(one[:, 1], other[:, 1])
        narrow = np.minimum(one[:, 2] - one[:, 0], other[:, 2] - other[:, 0])
        kerned = (np.abs(one[:, 4] - other[:, 4]) < SAME_LINE) & (wide < KERNED * narrow)
        for n in np.flatnonzero((wide > TOUCH) & (high > TOUCH) & ~kerned):
            yield order[n], order[n + apart]


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
