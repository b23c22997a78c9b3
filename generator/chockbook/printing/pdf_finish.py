"""What the compiler has no setting for: the boxes of a page, and how a sheet is to be turned."""

from __future__ import annotations

import re
from bisect import bisect_left

from .print_scaling import UnexpectedPdf, forbid_scaling, table_of

_PAGE = re.compile(rb"/Type\s*/Page(?![a-zA-Z])")
_MEDIA_BOX = re.compile(rb"/MediaBox\s*\[[^\]]*\]")
_ENTRY = re.compile(rb"(\d{10}) (\d{5}) n")


def finish(pdf: bytes, trim: tuple[float, ...], bleed: tuple[float, ...], duplex: str) -> bytes:
    """The same PDF with TrimBox and BleedBox on every page, printed unscaled and turned as it was laid out.

    Args:
        pdf: as the compiler gave it.
        trim: left, bottom, right and top of what is cut out, in points.
        bleed: the same, with what goes on beyond the cut.
        duplex: a name that PDF knows: Simplex, DuplexFlipLongEdge or DuplexFlipShortEdge.

    Raises:
        UnexpectedPdf: the file is not laid out as this module knows it.
    """
    boxes = b"/TrimBox[" + _numbers(trim) + b"]/BleedBox[" + _numbers(bleed) + b"]"
    return forbid_scaling(_add_to_pages(pdf, boxes), b"/Duplex/" + duplex.encode())


def _numbers(box: tuple[float, ...]) -> bytes:
    return b" ".join(f"{side:g}".encode() if side == int(side) else f"{side:.3f}".encode() for side in box)


def _add_to_pages(pdf: bytes, boxes: bytes) -> bytes:
    """Insert text into every page object, and move the entries of the cross-reference table that follow."""
    table, start = table_of(pdf)
    offsets = sorted(int(entry[1]) for entry in _ENTRY.finditer(pdf, table))
    ends = dict(zip(offsets, [*offsets[1:], table], strict=True))
    at = []
    for offset in offsets:
        # A page is a short object without a stream: nothing in a stream can be mistaken for one.
        piece = pdf[offset : min(ends[offset], offset + 4000)]
        head = piece.split(b"stream", 1)[0]
        if _PAGE.search(head) and (box := _MEDIA_BOX.search(head)):
            at.append(offset + box.end())
    if not at:
        raise UnexpectedPdf("no page was found")
    pieces, last = [], 0
    for place in at:
        pieces += [pdf[last:place], boxes]
        last = place
    pieces.append(pdf[last:table])

    def moved(entry: re.Match[bytes]) -> bytes:
        offset = int(entry[1])
        return b"%010d %s n" % (offset + len(boxes) * bisect_left(at, offset), entry[2])

    end = _ENTRY.sub(moved, pdf[table:start])
    new_table = table + len(boxes) * len(at)
    return b"".join(pieces) + end + b"\nstartxref\n%d\n%%%%EOF" % new_table
