"""The questions of the practice page as a script of data, which loads from a folder as well as from a server."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path
from typing import Any

from ..catalogue import Catalogue
from ..catalogue.wording import in_language
from ..drill.practice_bank import practice_questions

BANK = "assets/practice/bank.js"
"""Place of the file in a book."""
BEFORE, AFTER = "self.chockbookPractice = ", ";\n"
"""What stands around the JSON."""
SUM_LETTERS = 8


def bank_data(catalogue: Catalogue, rulebook_id: str, language: str) -> dict[str, Any]:
    """The questions of a book, ready for JSON. A text stands once; questions point at it by number."""
    texts: dict[str, int] = {}

    def at(text: str) -> int:
        return texts.setdefault(text, len(texts))

    questions = [
        {
            "id": question.id,
            "kind": question.kind,
            "entries": list(question.entry_ids),
            "system": question.system_id,
            "severity": question.severity_id,
            "text": at(question.text),
            "choices": [at(choice.text) for choice in question.choices],
            "right": next(n for n, choice in enumerate(question.choices) if choice.right),
            "reason": at(question.reason),
            "source": at(question.source),
            "about": at(in_language(catalogue.entry[question.entry_ids[0]].component.name, language)),
            "confirmed": question.confirmed,
            "sum": sum_of(question.text, *(choice.text for choice in question.choices)),
        }
        for question in practice_questions(catalogue, rulebook_id, language)
    ]
    return {"questions": questions, "texts": list(texts)}


def sum_of(*texts: str) -> str:
    """Letters that change when a word of a question or of a choice does: a wrong choice hangs on nothing else."""
    return hashlib.sha256("\x1f".join(texts).encode("utf-8")).hexdigest()[:SUM_LETTERS]


def write_bank(catalogue: Catalogue, rulebook_id: str, language: str, pages_dir: Path) -> Path:
    """Writes the questions of a book beside its pages.

    Raises:
        KeyError: the catalogue has no such rulebook or lacks a fixed word.
        OSError: the folder cannot be written.
    """
    path = pages_dir / BANK
    path.parent.mkdir(parents=True, exist_ok=True)
    data = json.dumps(bank_data(catalogue, rulebook_id, language), ensure_ascii=False, separators=(",", ":"))
    path.write_text(f"{BEFORE}{data}{AFTER}", encoding="utf-8", newline="\n")
    return path
