"""Guessing the pages of the manual's entries, so that fewer rounds of setting are needed to settle them.

Nothing depends on a right guess but time. Heights are in millimetres, as the templates in manual/ set them.
"""

from __future__ import annotations

import math

from ..views.manual import ManualEntry, ManualView

BODY = 245.0
"""Height of a page between head and foot."""
LINE, SMALL_LINE = 5.05, 4.6
LETTERS_IN_LINE, LETTERS_IN_SMALL_LINE, LETTERS_IN_HEADING = 99, 109, 84
GAPS = 2.6
"""Rule, space and paragraph gaps of an entry."""
SYSTEM_HEADING = 13.0
SECTION_HEADING = 20.0
FRONT_PAGES = 5
"""Pages before the duties, and one to begin the entries on."""
LETTERS_OF_DUTIES, LETTERS_OF_SCHEDULE = 3000, 2680
"""Letters on a page of the two sections before the entries."""
NOT_CONFIRMED = 20
"""Letters of the words that mark a step as not confirmed."""


def guess_pages(view: ManualView) -> dict[str, int]:
    """A page for the place of every entry."""
    pages: dict[str, int] = {}
    page, used = _first_page(view), SECTION_HEADING
    for system in view.systems:
        for n, entry in enumerate(system.entries):
            height = _height(entry)
            heading = SYSTEM_HEADING if n == 0 else 0.0
            if used + heading + height > BODY:
                page, used = page + 1, 0.0
            used += heading + height
            pages[f"entry {entry.view.id}"] = page
    return pages


def _first_page(view: ManualView) -> int:
    facts = [fact for topic in view.duties.topics for fact in topic.duties] + list(view.duties.report)
    duties = sum(len(f.text) + len(f.source_title) + len(f.locator) + len(f.remark or "") + 60 for f in facts)
    schedule = 0
    for item in (item for part in view.parts for column in part.columns for item in column.items):
        schedule += len(item.text) + len(item.locator) + len(item.remark or "") + sum(map(len, item.standing))
        for component in item.components:
            schedule += len(component.name) + sum(len(entry.condition) + 4 for entry in component.entries)
    return FRONT_PAGES + math.ceil(duties / LETTERS_OF_DUTIES) + math.ceil(schedule / LETTERS_OF_SCHEDULE)


def _height(entry: ManualEntry) -> float:
    lines = _lines(entry.heading, LETTERS_IN_HEADING) + _lines(
        f"How to check: {entry.view.check}", LETTERS_IN_LINE
    )
    small = 0
    for limit in entry.limits:
        small += (
            len(limit.quantity) + sum(map(len, limit.lines)) + 12 + (0 if limit.confirmed else NOT_CONFIRMED)
        )
    small_lines = math.ceil(small / LETTERS_IN_SMALL_LINE)
    found_on = 14 + sum(len(name) + 2 for name in (*entry.view.vehicle_names, *entry.fitted_names))
    for n, ruling in enumerate(entry.view.rulings):
        steps = sum(len(a.text) + 4 + (0 if a.confirmed else NOT_CONFIRMED) for a in ruling.actions)
        outcome = len(ruling.outcome) + len(ruling.severity_name) + len(ruling.applies_when or "") + 10
        lines += math.ceil((outcome + steps) / LETTERS_IN_LINE)
        source = (
            len(ruling.source_title)
            + len(ruling.locator)
            + len(ruling.basis_name)
            + len(ruling.fit_name)
            + 16
        )
        source += len(ruling.remark or "") + len(ruling.law_text or "") + sum(map(len, ruling.also_locators))
        small_lines += math.ceil((source + (found_on if n == 0 else 0)) / LETTERS_IN_SMALL_LINE)
    return lines * LINE + small_lines * SMALL_LINE + GAPS


def _lines(text: str, letters: int) -> int:
    return math.ceil(len(text) / letters)
