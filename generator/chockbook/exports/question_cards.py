"""Questions for other tools: a spreadsheet file, and tab-separated cards that flash-card programs read.

A text that a spreadsheet would take for a formula gets an apostrophe in front, as in catalogue.csv. Tabs and line
ends inside a text become spaces, since a card is one line.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from pathlib import Path

from ..drill.question import MOST_CHOICES, Question
from .catalogue_csv import inert

COLUMNS = ("id", "kind", "level", "system", "severity", "question",
           *(f"choice_{n}" for n in range(1, MOST_CHOICES + 1)), "answer", "reason", "source", "confirmed")  # fmt: skip


def write_questions_csv(questions: Sequence[Question], path: Path) -> None:
    """Write one row for each question, in UTF-8 with a byte order mark, rows as RFC 4180 has them."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    for question in questions:
        texts = [choice.text for choice in question.choices]
        row = [question.id, question.kind, str(question.level), question.system_id, question.severity_id, question.text,
               *texts, *[""] * (MOST_CHOICES - len(texts)), question.answer.text, question.reason, question.source,
               "yes" if question.confirmed else "no"]  # fmt: skip
        writer.writerow([inert(value) for value in row])
    path.write_bytes(out.getvalue().encode("utf-8-sig"))


def write_cards(questions: Sequence[Question], path: Path) -> None:
    """Write one line for each question: its text with the choices, a tab, then answer, reason and source."""
    lines = []
    for question in questions:
        front = " / ".join([question.text, *(choice.text for choice in question.choices)])
        back = " | ".join([question.answer.text, question.reason, question.source])
        lines.append("\t".join(inert(" ".join(side.split())) for side in (front, back)))
    path.write_text("\n".join(lines) + "\n", encoding="utf-8", newline="\n")
