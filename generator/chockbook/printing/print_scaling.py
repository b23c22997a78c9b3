"""Asking the print dialog to leave the size alone, which the compiler has no setting for."""

from __future__ import annotations

from .compile import SettingFailed

PREFERENCES = b"/ViewerPreferences<<"
NO_SCALING = b"/PrintScaling/None"


class UnexpectedPdf(SettingFailed):
    """The compiler's PDF is not laid out as this module knows it."""


def table_of(pdf: bytes) -> tuple[int, int]:
    """Where the plain cross-reference table begins, and where what says so does.

    Raises:
        UnexpectedPdf: there is none where the file says.
    """
    start = pdf.rfind(b"\nstartxref\n")
    table = int(pdf[start + len(b"\nstartxref\n") :].split()[0]) if start >= 0 else -1
    if table < 0 or pdf[table : table + 4] != b"xref":
        raise UnexpectedPdf("there is no plain cross-reference table where the file says")
    return table, start


def forbid_scaling(pdf: bytes, more: bytes = b"") -> bytes:
    """The same PDF with /PrintScaling /None among its viewer preferences.

    `more` is put beside it. "Fit to page" would shrink 10 pt to about 9.4 pt. The compiler writes the catalog as the last object and
    a plain cross-reference table after it, so that adding to the catalog moves the table and nothing else.

    Raises:
        UnexpectedPdf: the catalog is not the last object, or the table is not where the file says.
    """
    table, start = table_of(pdf)
    at = pdf.rfind(PREFERENCES, 0, table)
    if at < 0 or pdf.count(b"endobj", at, table) != 1:
        raise UnexpectedPdf("the catalog is not the last object before a plain cross-reference table")
    into = at + len(PREFERENCES)
    added = NO_SCALING + more
    moved = str(table + len(added)).encode()
    return pdf[:into] + added + pdf[into:start] + b"\nstartxref\n" + moved + b"\n%%EOF"
