"""The scores of a class for an instructor's own list: one row for each marked sheet.

An alias that a spreadsheet would take for a formula gets an apostrophe in front, as in catalogue.csv.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from pathlib import Path

from ..results.marking import MarkedSheet
from .catalogue_csv import inert

COLUMNS = ("student", "sheet", "right", "questions", "blank", "percent")


def write_scores_csv(sheets: Sequence[MarkedSheet], path: Path) -> None:
    """Write the scores in UTF-8 with a byte order mark, rows as RFC 4180 has them.

    Raises:
        OSError: the file cannot be written.
    """
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    for one in sheets:
        row = (one.student, one.sheet, one.right, len(one.answers), one.blank, f"{100 * one.share:.1f}")
        writer.writerow([inert(str(value)) for value in row])
    path.write_bytes(out.getvalue().encode("utf-8-sig"))
