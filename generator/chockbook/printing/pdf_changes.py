"""Putting another document's forms in place of some in a finished PDF, whose bytes stay as they are in front of it.

A sheet has a thousand objects. To read and write all of them takes ten times as long as to write a form behind them,
which is what ISO 32000-1, 7.5.6 (incremental updates) is for.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable
from decimal import Decimal

import pikepdf

from .print_scaling import UnexpectedPdf, table_of

_SIZE = re.compile(rb"/Size (\d+)")
_REST = re.compile(rb"/Root \d+ \d+ R|/Info \d+ \d+ R")
_FIRST_ID = re.compile(rb"/ID\s*\[\s*(<[0-9a-fA-F]*>)")


def with_forms(before: bytes, forms: Iterable[tuple[int, pikepdf.Object]]) -> bytes:
    """The file as it was, with forms in place of objects of it; the same forms give the same bytes.

    Args:
        before: the file, with a plain cross-reference table.
        forms: forms of one other document, each after the number of the object whose place it takes. All that they
            refer to comes along.

    Raises:
        UnexpectedPdf: the file has no plain cross-reference table with its trailer behind it.
    """
    table, start = table_of(before)
    trailer = before[before.rfind(b"trailer", table, start) : start]
    size, file_id = _SIZE.search(trailer), _FIRST_ID.search(trailer)
    if size is None or file_id is None:
        raise UnexpectedPdf("the cross-reference table has no trailer with a size and a name of the file behind it")
    objects = _Objects(int(size[1]))
    for number, form in forms:
        objects.add(form, number)
    out, entries = bytearray(before + b"\n"), []
    for one, text in sorted(objects.texts.items()):
        entries.append(b"%d 1\n%010d 00000 n\r\n" % (one, len(out)))
        out += b"%d 0 obj\n%b\nendobj\n" % (one, text)
    new_id = hashlib.sha256(out).hexdigest()[:32].encode()
    rest = b"".join(_REST.findall(trailer))
    end = b"<</Size %d%b/Prev %d/ID[%b<%b>]>>" % (objects.size, rest, table, file_id[1], new_id)
    at = len(out)
    out += b"xref\n%btrailer\n%b\nstartxref\n%d\n%%%%EOF" % (b"".join(entries), end, at)
    return bytes(out)


class _Objects:
    """Objects as a file has them, by their numbers in it."""

    def __init__(self, size: int) -> None:
        self.size = size
        """The first number that is free."""
        self.texts: dict[int, bytes] = {}
        self._numbers: dict[tuple[int, int], int] = {}

    def add(self, one: pikepdf.Object, number: int) -> None:
        """Write an object, and all that it refers to."""
        self._numbers[one.objgen] = number
        if isinstance(one, pikepdf.Stream):
            content = one.read_raw_bytes()
            head = self._text(pikepdf.Dictionary({**dict(one.stream_dict.items()), "/Length": len(content)}))
            self.texts[number] = b"%b\nstream\n%b\nendstream" % (head, content)
        else:
            self.texts[number] = self._text(one)

    def _reference(self, one: pikepdf.Object) -> bytes:
        if one.objgen not in self._numbers:
            number, self.size = self.size, self.size + 1
            self.add(one, number)
        return b"%d 0 R" % self._numbers[one.objgen]

    def _part(self, one: object) -> bytes:
        if isinstance(one, bool):
            return b"true" if one else b"false"
        if isinstance(one, int | Decimal):
            return f"{one:f}".encode() if isinstance(one, Decimal) else b"%d" % one
        return self._reference(one) if one.is_indirect else self._text(one)

    def _text(self, one: pikepdf.Object) -> bytes:
        if isinstance(one, pikepdf.Dictionary):
            return b"<<" + b" ".join(key.encode() + b" " + self._part(value) for key, value in one.items()) + b">>"
        if isinstance(one, pikepdf.Array):
            return b"[" + b" ".join(map(self._part, one)) + b"]"
        return one.unparse()
