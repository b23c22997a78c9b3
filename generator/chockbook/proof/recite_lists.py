"""Recitals of the pages that list entries: by system, severity, action, item and figure."""

from __future__ import annotations

from ..catalogue import Entry, Ruling
from .recital import Recital
from .recite_entry import part_anchor


def recite_components(page: Recital) -> None:
    """The list of components, each with how many defects of each severity it has."""
    severities: dict[str, dict[str, list[str]]] = {}
    for entry in page.spoken_of():
        of_system = severities.setdefault(entry.system.id, {})
        of_system.setdefault(entry.component.id, []).append(entry.rulings_under(page.rulebook.id)[0].item.severity)
    for system in page.catalogue.systems:
        if system.id not in severities:
            continue
        page.say(page.text(system.name))
        for component in page.catalogue.components:
            own = severities[system.id].get(component.id, [])
            if own:
                page.link(page.text(component.name), f"components/{component.id}.html")
            for severity in reversed(page.rulebook.severities):
                if severity.id in own:
                    page.mark(severity)
                    page.say(str(own.count(severity.id)), page.text(severity.name))


def recite_severities(page: Recital) -> None:
    """The list of severities."""
    for severity in reversed(page.rulebook.severities):
        rows = [entry for entry in page.spoken_of() if severity.id in _severities(page, entry)]
        page.say(page.text(severity.name))
        page.outcome(severity)
        page.say(page.text(severity.meaning))
        page.link(page.filled("web-see-entries", number=len(rows)), f"severity/{severity.id}.html")


def recite_severity(page: Recital, severity_id: str) -> None:
    """The page of a severity, with every entry that can have it."""
    severity = next(one for one in page.rulebook.severities if one.id == severity_id)
    page.outcome(severity, None, severity.basis)
    page.say(page.text(severity.meaning), page.reader.word("what-to-do"))
    for action in (page_action(page, action_id) for action_id in severity.actions):
        page.action(action, f"actions/{action.id}.html")
        page.unsure(action.basis)
    page.stated(severity)
    _under_systems(page, [(e, r) for e, r in _rulings(page) if r.item.severity == severity_id])


def recite_actions(page: Recital) -> None:
    """The list of actions."""
    for action in page.rulebook.actions:
        number = len({entry.id for entry, ruling in _rulings(page) if action.id in [a.id for a in ruling.actions]})
        page.action(action, f"actions/{action.id}.html")
        page.say(".", page.filled("web-n-entries", number=number))
        page.unsure(action.basis)


def recite_action(page: Recital, action_id: str) -> None:
    """The page of an action, with every entry that calls for it."""
    action = page_action(page, action_id)
    page.say(page.reader.word("web-who"), page.reader.word(f"by-{action.by}"))
    page.say(page.reader.word("web-kind"), page.reader.word(f"kind-{action.kind}"))
    for severity in reversed(page.rulebook.severities):
        if action_id in severity.actions:
            page.word("web-called-by")
            page.mark(severity)
            page.link(f"{page.text(severity.outcome)}: {page.text(severity.name)}", f"severity/{severity.id}.html")
    page.stated(action)
    _under_systems(page, [(e, r) for e, r in _rulings(page) if action_id in [a.id for a in r.actions]])


def recite_schedule(page: Recital) -> None:
    """Every item of the schedules with the entries under it."""
    rulebook = page.rulebook
    severities = {severity.id: severity for severity in rulebook.severities}
    for schedule in rulebook.schedules:
        items = sum(len(part.items) for part in schedule.parts)
        page.say(page.text(schedule.name), ",", page.text(rulebook.law), ".")
        page.word("web-n-items", parts=len(schedule.parts), items=items)
        page.say(page.reader.word("web-own-words"), page.reader.word("web-binds"), page.text(rulebook.binds))
        page.say(page.reader.word("web-vehicles"), page.names("vehicle", schedule.vehicles))
        for part in schedule.parts:
            page.say(part_name(page, part.part), ".", page.text(part.title))
            for item in part.items:
                page.mark(severities[item.severity])
                page.say(page.text(severities[item.severity].name), f"({item.letter})", page.text(item.text))
                page.unsure(item.locator_basis or item.basis, "letter-not-confirmed")
                page.unsure(item.basis)
                if item.applies_when:
                    page.say(page.reader.word("applies"), page.text(item.applies_when))
                page.remark(item.remark)
                for entry, ruling in _rulings(page):
                    if item.id in [one.id for one in (ruling.item, *ruling.also)]:
                        page.entry(entry, ruling)


def recite_figures(page: Recital) -> None:
    """Every limit: the rulebook's own figures, what others say, and the entries that it decides."""
    columns = [page.reader.word(key) for key in ("web-where", "web-figure", "web-standing-column")]
    for limit in page.catalogue.limits:
        page.say(page.text(limit.quantity), page.reader.word("web-method"), page.text(limit.method))
        own = [row for row in limit.rows if row.rulebook == page.rulebook.id]
        others = [row for row in limit.rows if row.rulebook != page.rulebook.id]
        for caption, rows in ((page.text(page.rulebook.short_name), own), (page.reader.word("web-elsewhere"), others)):
            if rows:
                page.say(caption, *columns)
            for row in rows:
                page.say(page.text(row.label))
                page.figure(limit.compare, row)
                page.say(page.reader.word(f"basis-{row.basis}"), ".", page.locator(row.locator), ".", page.text(row.remark))
        for source in dict.fromkeys(row.source for row in limit.rows):
            page.word("source")
            page.source(source)
        decided = [entry for entry in page.spoken_of() if limit.id in [one.id for one in entry.limits]]
        if decided:
            page.word("web-decides")
        for entry in decided:
            page.entry(entry, entry.rulings_under(page.rulebook.id)[0])


def part_name(page: Recital, part: str) -> str:
    """What a reader calls a part: a number after the word, or a name of its own."""
    return f"{page.reader.word('web-part')} {part}" if part[:1].isdigit() else page.locator(part)


def page_action(page: Recital, action_id: str):
    """An action of the page's rulebook."""
    return next(action for action in page.rulebook.actions if action.id == action_id)


def _severities(page: Recital, entry: Entry) -> set[str]:
    return {ruling.item.severity for ruling in entry.rulings_under(page.rulebook.id)}


def _rulings(page: Recital) -> list[tuple[Entry, Ruling]]:
    return [(entry, ruling) for entry in page.spoken_of() for ruling in entry.rulings_under(page.rulebook.id)]


def _under_systems(page: Recital, rows: list[tuple[Entry, Ruling]]) -> None:
    page.word("web-n-entries", number=len({entry.id for entry, _ in rows}))
    before = None
    for entry, ruling in rows:
        if entry.system.id != before:
            before = entry.system.id
            page.say(page.text(entry.system.name))
        page.entry(entry, ruling)


__all__ = ["part_anchor", "recite_action", "recite_actions", "recite_components", "recite_figures", "recite_schedule",
           "recite_severities", "recite_severity"]  # fmt: skip
