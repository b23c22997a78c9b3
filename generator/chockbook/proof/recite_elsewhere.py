"""Recital of what a defect's page says of other rulebooks: each in its own words, none taken for another."""

from __future__ import annotations

from collections.abc import Callable

from ..catalogue import Entry, LimitRecord, RulebookRecord, Ruling
from .crossing import deadline_of
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
        recite_side(page, entry, rulebook)
        place = place_in(rulebook.id, entry.slug) if entry.rulings_under(rulebook.id) else None
        if place:
            page.link(page.filled("across-open", rulebook=page.text(rulebook.short_name)), place)


def recite_side(page: Recital, entry: Entry, rulebook: RulebookRecord, rules: bool = True, deadline: bool = False) -> None:
    """What one rulebook says of a defect.

    Args:
        rules: whether with the place in the law, the remarks and the figures.
        deadline: whether with the day by which it is repaired.
    """
    rulings = entry.rulings_under(rulebook.id)
    page.say(page.text(rulebook.short_name))
    for ruling in rulings:
        _ruling(page, ruling, rules)
    if deadline:
        day = deadline_of(rulebook, rulings[0].severity, page.language) if rulings else None
        page.say(page.reader.word("across-deadline"), ":", day or page.reader.word("across-no-deadline"))
    if not rulings:
        page.word("across-absent")
    for limit in entry.limits if rules else ():
        recite_own_figures(page, limit, rulebook.id)


def _ruling(page: Recital, ruling: Ruling, rules: bool) -> None:
    page.mark(ruling.severity)
    page.say(page.text(ruling.severity.outcome), ".", page.text(ruling.severity.name), page.text(ruling.applies_when))
    page.unsure(ruling.item.basis)
    if not rules:
        return
    page.say(page.locator(ruling.item.locator), ".", page.reader.word(f"fit-{ruling.fit}"), ".")
    page.say(page.text(ruling.item.remark), page.text(ruling.remark))


def recite_own_figures(page: Recital, limit: LimitRecord, rulebook_id: str) -> None:
    """A rulebook's own figures of a limit, or how many they are."""
    rows = [row for row in limit.rows if row.rulebook == rulebook_id]
    if not rows:
        return
    page.say(page.text(limit.quantity), ":")
    if len(rows) > MOST_FIGURES:
        page.word("across-more-figures", number=len(rows))
    for number, row in enumerate(rows if len(rows) <= MOST_FIGURES else ()):
        page.say("; " if number else "", page.text(row.label), ":")
        page.figure(limit.compare, row)
