"""The icon of the installed page: a block letter C with a chock in its opening, drawn here as shapes."""

from __future__ import annotations

import struct
import zlib
from functools import cache

SIDE = 32
"""Side of the drawing, in its own units."""
BARS = ((7, 6, 12, 26), (12, 6, 25, 11), (12, 21, 25, 26))
"""The letter: left, top, right and bottom of each bar."""
CHOCK = ((14, 20), (25, 20), (25, 13))
"""The chock: foot, heel, and top of the heel."""
FINE = 4
"""Lines drawn for each line of dots, so that the slope comes out smooth."""


def icon_svg() -> str:
    """The icon as SVG."""
    bars = "".join(f'<path d="M{a} {b}H{c}V{d}H{a}z"/>' for a, b, c, d in BARS)
    chock = " ".join(f"{x},{y}" for x, y in CHOCK)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {SIDE} {SIDE}">'
        f'<path d="M0 0h{SIDE}v{SIDE}H0z"/>'
        f'<g fill="#fff">{bars}<polygon points="{chock}"/></g></svg>\n'
    )


@cache
def icon_png(dots: int) -> bytes:
    """The icon as a grey PNG of so many dots a side."""
    lines = bytearray()
    spans_above: list[list[tuple[float, float]]] = []
    row = b""
    for line in range(dots):
        spans = [_spans((line + (part + 0.5) / FINE) * SIDE / dots) for part in range(FINE)]
        if spans != spans_above:  # most lines are like the one above
            row, spans_above = _row(spans, dots), spans
        lines.append(0)
        lines += row
    header = struct.pack(">IIBBBBB", dots, dots, 8, 0, 0, 0, 0)
    chunks = ((b"IHDR", header), (b"IDAT", zlib.compress(bytes(lines), 9)), (b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))
        for kind, body in chunks
    )


def _row(spans: list[list[tuple[float, float]]], dots: int) -> bytes:
    covered = [0.0] * dots
    for fine_line in spans:
        for left, right in fine_line:
            _cover(covered, left * dots / SIDE, right * dots / SIDE)
    return bytes(min(255, round(255 * share / FINE)) for share in covered)


def _spans(y: float) -> list[tuple[float, float]]:
    spans: list[tuple[float, float]] = [
        (left, right) for left, top, right, bottom in BARS if top <= y < bottom
    ]
    (foot, low), (heel, _), (_, high) = CHOCK
    if high <= y < low:
        spans.append((foot + (heel - foot) * (low - y) / (low - high), heel))
    return spans


def _cover(dots: list[float], left: float, right: float) -> None:
    for at in range(int(left), min(int(right) + 1, len(dots))):
        dots[at] = min(1.0 * FINE, dots[at] + max(0.0, min(right, at + 1) - max(left, at)))
