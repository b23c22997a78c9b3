"""Recital of a component's page: what the reader picks from, and each entry in full."""

from __future__ import annotations

import re
from collections.abc import Callable
from itertools import groupby

from ..catalogue import Entry, LimitRecord, Ruling
from ..editions import differences
from .recital import Recital
from .recite_elsewhere import recite_elsewhere


def recite_component(page: Recital, component_id: str, elsewhere: Callable[[str, str], str | None]) -> None:
    """The page of a component.

    Args:
        elsewhere: gives the place of an entry in another rulebook's book, by the rulebook and the entry's slug.
    """
    rulebook_id = page.rulebook.id
    component = page.catalogue.component[component_id]
    entries = page.reader.once(("by-component", rulebook_id), lambda: _by_component(page)).get(component_id, [])
    page.word("web-what-do-you-see")
    for severity_id, group in groupby(entries, key=lambda e: e.rulings_under(rulebook_id)[0].item.severity):
        severity = next(one for one in page.rulebook.severities if one.id == severity_id)
        page.mark(severity)
        page.say(page.text(severity.outcome))
        for entry in group:
            page.link(page.text(entry.condition), f"{page.page}#{entry.slug}")
            page.say(page.text(entry.rulings_under(rulebook_id)[0].applies_when))
    aliases = (component.aliases or {}).get(page.language, ())
    if aliases:
        page.say(page.reader.word("web-also-said"), ", ".join(aliases))
    changed = page.once("changed", lambda: changed_of(page))
    for entry in entries:
        _entry(page, entry, changed.get(entry.id))
        recite_elsewhere(page, entry, elsewhere)


def _by_component(page: Recital) -> dict[str, list[Entry]]:
    """The entries that the rulebook speaks of, by the id of their component."""
    found: dict[str, list[Entry]] = {}
    for entry in page.spoken_of():
        found.setdefault(entry.component.id, []).append(entry)
    return found


def changed_of(page: Recital) -> dict[str, list[str]]:
    """Of each entry that changed since the last kept edition the kinds of change, in words."""
    found: dict[str, list[str]] = {}
    for difference in differences(page.catalogue)[:1]:
        for change in difference.under(page.rulebook.id, page.language):
            if change.kind != "renamed" and change.about not in ("language", "word"):
                for entry_id in change.entries:
                    kinds = found.setdefault(entry_id, [])
                    name = page.reader.word(f"change-{change.kind}")
                    if name not in kinds:
                        kinds.append(name)
    return found


def _entry(page: Recital, entry: Entry, changed: list[str] | None) -> None:
    rulings = entry.rulings_under(page.rulebook.id)
    page.say(page.reader.heading(entry))
    if changed:
        page.link(page.reader.word("change-mark"), "changes.html")
        page.say(", ".join(changed))
    for ruling in rulings:
        page.outcome(ruling.severity, ruling.applies_when, ruling.item.basis, page.reader.otherwise(rulings))
        page.word("what-to-do")
        for action in ruling.actions:
            page.action(action)
            if action.basis == "from-memory":
                page.link(page.reader.word("not-confirmed"), f"actions/{action.id}.html")
    page.say(page.reader.word("how-to-check"), page.text(entry.check))
    for limit in entry.limits:
        recite_limit(page, limit)
    for ruling in rulings:
        _rests(page, ruling)
    page.say(page.reader.word("web-vehicles"), page.names("vehicle", entry.vehicles))
    aliases = entry.aliases.get(page.language, ())
    if aliases:
        page.say(page.reader.word("web-also-said"), ", ".join(aliases))


def recite_limit(page: Recital, limit: LimitRecord) -> None:
    """A limit with all its figures."""
    page.word("web-limit")
    page.link(page.text(limit.quantity), f"figures.html#{limit.id}")
    for row in limit.rows:
        page.say(page.text(row.label))
        page.figure(limit.compare, row)
        page.unsure(row.basis)


def _rests(page: Recital, ruling: Ruling) -> None:
    item = ruling.item
    page.word("source")
    page.source(item.source)
    page.say(",")
    page.link(page.locator(item.locator), f"schedule.html#{part_anchor(ruling.schedule.id, ruling.part.part)}")
    page.say(".")
    if ruling.also:
        page.say(page.reader.word("print-also"), ":", "; ".join(page.locator(one.locator) for one in ruling.also), ".")
    page.unsure(item.locator_basis or item.basis, "letter-not-confirmed")
    page.say(page.reader.word(f"basis-{item.basis}"), ".", page.reader.word(f"fit-{ruling.fit}"), ".")
    page.remark(item.remark, ruling.remark)
    if ruling.law_text:
        page.say(page.reader.word("web-law-text"), page.text(ruling.law_text))


def part_anchor(schedule_id: str, part: str) -> str:
    """Where a part of a schedule stands on its page."""
    return "-".join([schedule_id, "part", *re.findall(r"[a-z0-9]+", part.lower())])
