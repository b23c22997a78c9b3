"""Recitals of the pages that lay rulebooks side by side: every defect under each, and what changes at a border."""

from __future__ import annotations

from collections import Counter

from ..catalogue import Entry, LimitRecord, LimitRow, RulebookRecord
from ..catalogue.measure import bounds_of, systems_of
from ..catalogue.row_choice import own_rows
from .crossing import FREEDOM, deadline_of, list_of
from .recital import Recital
from .recite_elsewhere import recite_side

NEWS = ("forbidden-there", "stricter-there", "only-there", "other-figure", "other-deadline", "milder-there", "only-here")
"""What can change at a border, worst first."""


def recite_comparison(page: Recital) -> None:
    """The ways into every other rulebook, then every defect under each rulebook, system by system."""
    page.word("across-lead")
    for rulebook in page.catalogue.rulebooks:
        if rulebook.id != page.rulebook.id:
            page.link(_into(page, rulebook), f"compare/{rulebook.id}.html")
    page.link(page.reader.word("web-provinces"), "provinces.html")
    for system in page.catalogue.systems:
        entries = [entry for entry in page.catalogue.entries if entry.system.id == system.id]
        if entries:
            page.say(page.text(system.name), page.filled("web-see-entries", number=len(entries)))
        for entry in entries:
            page.say(page.reader.heading(entry))
            for rulebook in page.catalogue.rulebooks:
                recite_side(page, entry, rulebook, rules=False)


def recite_crossing(page: Recital, other_id: str, with_sheet: bool) -> None:
    """What changes for a driver who crosses from the book's rulebook into another.

    Args:
        with_sheet: whether the page leads to the printed sheet, as it does on a site of several books.
    """
    here, there = page.rulebook, page.catalogue.rulebook[other_id]
    names = {"here": page.text(here.short_name), "there": page.text(there.short_name)}
    page.word("across-crossing-lead", **names)
    if with_sheet:
        page.link(page.reader.word("across-sheet-link"), f"compare/border-{other_id}.pdf")
    page.word("across-severities")
    for rulebook in (here, there):
        for severity in reversed(rulebook.severities):
            page.say(page.text(rulebook.short_name), ",", page.text(severity.name), ":")
            page.mark(severity)
            page.say(page.text(severity.outcome), ".", page.text(severity.meaning), page.reader.word("across-deadline"), ":")
            page.say(deadline_of(rulebook, severity, page.language) or page.reader.word("across-no-deadline"))
            page.unsure(severity.basis)
    news = {entry.id: news_of(entry, here.id, there.id) for entry in page.catalogue.entries}
    counts = Counter(one for found in news.values() for one in found)
    page.word("across-counts")
    for one in NEWS:
        page.say(page.reader.word(f"across-{one}"), ":", str(counts[one]))
    spoken = [e for e in page.catalogue.entries if e.rulings_under(here.id) or e.rulings_under(there.id)]
    page.word("across-n-same", number=sum(not news[entry.id] for entry in spoken))
    for system in page.catalogue.systems:
        inside = [entry for entry in spoken if entry.system.id == system.id and news[entry.id]]
        if inside:
            page.say(page.text(system.name))
        for entry in sorted(inside, key=lambda one: (NEWS.index(news[one.id][0]), _mildness(one, there.id))):
            _row(page, entry, news[entry.id], there)


def _into(page: Recital, other: RulebookRecord) -> str:
    return page.filled("across-into", here=page.text(page.rulebook.short_name), there=page.text(other.short_name))


def _mildness(entry: Entry, rulebook_id: str) -> int:
    rulings = entry.rulings_under(rulebook_id)
    return FREEDOM[rulings[0].severity.may_drive] if rulings else len(FREEDOM)


def _row(page: Recital, entry: Entry, news: list[str], there: RulebookRecord) -> None:
    if entry.rulings_under(page.rulebook.id):
        page.entry(entry)
    else:
        page.say(page.reader.heading(entry))
    page.say(*(page.reader.word(f"across-{one}") for one in news))
    for rulebook in (page.rulebook, there):
        recite_side(page, entry, rulebook, deadline="other-deadline" in news)


def news_of(entry: Entry, here_id: str, there_id: str) -> list[str]:
    """What changes for a defect at the border, worst first."""
    found = {list_of(entry, here_id, there_id)}
    here, there = entry.rulings_under(here_id), entry.rulings_under(there_id)
    if here and there:
        if here[0].severity.deadline != there[0].severity.deadline:
            found.add("other-deadline")
        if any(other_figure(limit, here_id, there_id) for limit in entry.limits):
            found.add("other-figure")
    return [one for one in NEWS if one in found]


def other_figure(limit: LimitRecord, here_id: str, there_id: str) -> bool:
    """Whether the other rulebook's own figures are not those of the first, in a system of units that both print."""
    here, there = own_rows(limit, here_id), own_rows(limit, there_id)
    if not here or not there:
        return bool(there)
    systems = systems_of(limit)
    printed = [system for system in systems if not any(bounds_of(limit, row, system).low.converted for row in (*here, *there))]
    return all(_values(limit, here, system) != _values(limit, there, system) for system in printed or systems[:1])


def _values(limit: LimitRecord, rows: tuple[LimitRow, ...], system: str) -> set[tuple[object, ...]]:
    bounds = [bounds_of(limit, row, system) for row in rows]
    return {tuple(end.in_base for end in (one.low, one.high) if end) for one in bounds}
