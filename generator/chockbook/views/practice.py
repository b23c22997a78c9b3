"""What the practice page needs beside its questions: names for its filters, and the words of its script."""

from __future__ import annotations

from typing import Any

from ..catalogue import Catalogue
from .grouping import rulebook_named
from .wording import fixed_word, in_language

PRACTICE_WORDS = (
    "not-confirmed",
    "practice-all",
    "practice-answer",
    "practice-anyway",
    "practice-due",
    "practice-erased",
    "practice-from-memory",
    "practice-kept",
    "practice-later",
    "practice-not-kept",
    "practice-nothing",
    "practice-nothing-due",
    "practice-read",
    "practice-right",
    "practice-size",
    "practice-soon",
    "practice-tally",
    "practice-tomorrow",
    "practice-why",
    "practice-wrong",
    "practice-yours",
    "source",
)
"""Words that the page's script places by name."""


def practice_data(catalogue: Catalogue, rulebook_id: str, language: str) -> dict[str, Any]:
    """Names by id of systems and severities, and the script's words; the kinds are named by `drill-kind-`.

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
        MissingWording: words.yaml lacks a word.
    """
    rulebook = rulebook_named(catalogue, rulebook_id)
    prefix = "drill-kind-"
    return {
        "rulebook": rulebook_id,
        "systems": [[system.id, in_language(system.name, language)] for system in catalogue.systems],
        "severities": [[severity.id, in_language(severity.name, language)] for severity in rulebook.severities],
        "kinds": [
            [key.removeprefix(prefix), in_language(text, language)]
            for key, text in catalogue.words.items()
            if key.startswith(prefix)
        ],
        "words": {key: fixed_word(catalogue, key, language) for key in PRACTICE_WORDS},
    }
