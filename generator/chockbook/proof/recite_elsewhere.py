"""Recital of what a defect's page says of other rulebooks: each in its own words, none taken for another."""

from __future__ import annotations

from collections.abc import Callable

from ..catalogue import Entry, LimitRecord, Ruling
from .recital import Recital

MOST_FIGURES = 3
"""Figures of one limit that are shown for a rulebook; of a longer table the page says how long it is."""


def recite_elsewhere(page: Recital, entry: Entry, place_in: Callable[[str, str], str | None]) -> None:
    """What the rulebooks beside the one in force say of a defect.

    Args:
        place_in: gives the defect's place in another rulebook's book, by the rulebook and the defect's slug.
    """
    others = [rulebook for rulebook in page.catalogue.rulebooks if rulebook.id != page.rulebook.id]
    if others:
        page.word("across-elsewhere")
    for rulebook in others:
        name, rulings = page.text(rulebook.short_name), entry.rulings_under(rulebook.id)
        page.say(name)
        for ruling in rulings:
            _ruling(page, ruling)
        if not rulings:
            page.word("across-absent")
        for limit in entry.limits:
            _figures(page, limit, rulebook.id)
        place = place_in(rulebook.id, entry.slug) if rulings else None
        if place:
            page.link(page.filled("across-open", rulebook=name), place)


def _ruling(page: Recital, ruling: Ruling) -> None:
    page.mark(ruling.severity)
    page.say(page.text(ruling.severity.outcome), ".", page.text(ruling.severity.name), page.text(ruling.applies_when))
    page.unsure(ruling.item.basis)
    page.say(page.locator(ruling.item.locator), ".", page.reader.word(f"fit-{ruling.fit}"), ".")
    page.say(page.text(ruling.item.remark), page.text(ruling.remark))


def _figures(page: Recital, limit: LimitRecord, rulebook_id: str) -> None:
    rows = [row for row in limit.rows if row.rulebook == rulebook_id]
    if not rows:
        return
    page.say(page.text(limit.quantity), ":")
    if len(rows) > MOST_FIGURES:
        page.word("across-more-figures", number=len(rows))
    for number, row in enumerate(rows if len(rows) <= MOST_FIGURES else ()):
        page.say("; " if number else "", page.text(row.label), ":")
        page.figure(limit.compare, row)
