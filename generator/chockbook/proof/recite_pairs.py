"""Pairs to tell apart, on the page and on the sheet, from first word to last."""

from __future__ import annotations

from collections.abc import Iterator

from ..catalogue import Catalogue, Entry
from .facts import reader_of
from .objection import Objection
from .pairs import Answer, difference_of, own_limits, prove_pairs_sheet, wanted_pairs
from .print_recital import prove_foot, same_as
from .read_pdf import PdfReading
from .recital import Recital
from .recite_elsewhere import recite_own_figures

STEM, SHORT = 5, 4
"""Letters by which words are compared, and letters of a word that tells what a defect is about."""


def recite_pairs(page: Recital) -> None:
    """The page of pairs."""
    pairs = _pairs(page)
    if pairs:
        page.word("pairs-lead")
        page.word("pairs-count", number=len(pairs))
        page.word("pairs-rule")
    else:
        page.word("pairs-none")
    _told(page, pairs, printed=False)


def prove_whole_pairs(catalogue: Catalogue, reading: PdfReading, name: str, rulebook_id: str,
                      language: str) -> Iterator[Objection]:  # fmt: skip
    """Objections to the printed sheet of pairs, word for word."""
    told = Recital(reader_of(catalogue, language), rulebook_id, name)
    pairs, word = _pairs(told), told.reader.word
    told.say(word("title"), word("print-title-pairs"), told.text(told.rulebook.short_name))
    told.say(word("pairs-lead"), told.filled("pairs-count", number=len(pairs)), word("pairs-rule"), word("aid-line"))
    _told(told, pairs, printed=True)
    yield from prove_foot(told.reader, reading, name, "pairs", rulebook_id)
    yield from same_as(told, reading, name)
    yield from prove_pairs_sheet(catalogue, reading, name, rulebook_id, language)


def _pairs(told: Recital) -> list[tuple[Answer, Answer]]:
    """Each answer that lets the vehicle go on with the nearest one that stops it: by figure, then by words."""
    first = told.catalogue.languages[0].code
    found = []
    for one, beside in wanted_pairs(told.catalogue, told.rulebook.id):
        found.append((one, max(beside, key=lambda other: _nearness(one.entry, other.entry, told.rulebook.id, first))))
    return found


def _nearness(one: Entry, other: Entry, rulebook_id: str, language: str) -> tuple[bool, float]:
    reader_words = [_stems(entry.condition.get(language) or next(iter(entry.condition.values()))) for entry in (one, other)]
    both, either = reader_words[0] & reader_words[1], reader_words[0] | reader_words[1]
    return bool(own_limits(one, rulebook_id) & own_limits(other, rulebook_id)), len(both) / max(len(either), 1)


def _stems(text: str) -> set[str]:
    words = "".join(sign if sign.isalnum() else " " for sign in text.casefold()).split()
    return {word[:STEM] for word in words if len(word) >= SHORT or word.isdigit()}


def _told(told: Recital, pairs: list[tuple[Answer, Answer]], printed: bool) -> None:
    system = ""
    for one, other in pairs:
        if one.entry.system.id != system:
            told.say(told.text(one.entry.system.name))
        system = one.entry.system.id
        told.say(told.text(one.entry.component.name))
        shared = own_limits(one.entry, told.rulebook.id) & own_limits(other.entry, told.rulebook.id)
        for answer in (one, other):
            _side(told, answer, shared, printed)
        told.say(difference_of(told.reader, one, other))
        _figures(told, [limit for limit in one.entry.limits if limit.id in shared])


def _side(told: Recital, answer: Answer, shared: set[str], printed: bool) -> None:
    severity, condition = answer.ruling.severity, told.text(answer.entry.condition)
    if not printed:
        told.mark(severity)
    told.say(told.text(severity.outcome), ".", told.text(severity.name))
    if not answer.ruling.confirmed:
        told.say(f"({told.reader.word('not-confirmed')})" if printed else told.reader.word("not-confirmed"))
    if printed:
        told.say(condition)
    else:
        told.link(condition, f"components/{answer.entry.component.id}.html#{answer.entry.slug}")
    told.say(told.text(answer.ruling.applies_when))
    _figures(told, [limit for limit in answer.entry.limits if limit.id not in shared])
    told.say(told.locator(answer.ruling.locator))


def _figures(told: Recital, limits: list) -> None:
    for limit in limits:
        recite_own_figures(told, limit, told.rulebook.id)
