"""Recitals of the lookup: a book's first page, and the single file for the roadside."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable

from .pairs import wanted_pairs
from .recital import MARK, Recital
from .recite_facts import recite_cautions

OTHER_PAGES = (("components/index", "components"), ("schedule", "schedule"), ("route", "route"), ("walk", "walk"),
               ("practice", "practice"), ("pairs", "pairs"), ("figures", "figures"),
               ("measure", "measure"), ("duties", "duties"), ("compare/index", "compare"), ("provinces", "provinces"),
               ("how-to-use", "how-to-use"), ("card", "card"), ("changes", "changes"),
               ("cautions", "cautions"), ("sources", "sources"), ("standing", "standing"))  # fmt: skip
"""Pages that the first one leads to, and the word of each."""


def recite_start(page: Recital, ways_across: Callable[[], None]) -> None:
    """The first page of a book, without its foot."""
    _opening(page, ways_across)
    recite_ways(page, lambda kind, name: {"s": f"components/index.html#{name}", "v": f"severity/{name}.html",
                                          "a": f"actions/{name}.html"}[kind])  # fmt: skip
    page.word("web-other-ways")
    for target, word in OTHER_PAGES:
        if target == "pairs" and not wanted_pairs(page.catalogue, page.rulebook.id):
            continue
        page.link(page.reader.word(f"web-{word}"), f"{target}.html")
    page.link("", "index.html")


def _opening(page: Recital, ways_across: Callable[[], None]) -> None:
    for key in ("web-question", "caution-short", "lookup-past-check"):
        page.word(key)
    ways_across()
    for key in ("lookup-label", "lookup-example", "lookup-narrow"):
        page.word(key)


def recite_ways(page: Recital, target: Callable[[str, str], str]) -> None:
    """The ways in beside the box: by system, by severity, by action, each with how many defects it leads to."""
    rulebook = page.rulebook
    entries = [entry for entry in page.catalogue.entries if entry.rulings_under(rulebook.id)]
    by_system = Counter(entry.system.id for entry in entries)
    by_severity = Counter(one for e in entries for one in {r.item.severity for r in e.rulings_under(rulebook.id)})
    by_action = Counter(one for e in entries for one in {a.id for r in e.rulings_under(rulebook.id) for a in r.actions})
    page.word("lookup-pick")
    for system in page.catalogue.systems:
        if by_system[system.id]:
            page.link(f"{page.text(system.name)} {by_system[system.id]}", target("s", system.id))
    page.word("lookup-serious")
    for severity in reversed(rulebook.severities):
        if by_severity[severity.id]:
            page.link(f"{MARK}{severity.may_drive}{page.text(severity.outcome)} {by_severity[severity.id]}", target("v", severity.id))
    page.word("lookup-action")
    for action in rulebook.actions:
        if by_action[action.id]:
            page.link(f"{page.text(action.text)} {by_action[action.id]}", target("a", action.id))


def recite_roadside(page: Recital) -> None:
    """The single file without its foot: the lookup, and every defect for a browser that runs no scripts."""
    edition, rulebook = page.catalogue.edition, page.rulebook
    page.say(page.reader.word("title"), page.text(rulebook.short_name), page.reader.word("edition"), edition.code, ",")
    page.say(page.reader.word("check-by").lower(), str(edition.check_by), page.reader.word("lookup-theme"))
    _opening(page, lambda: None)
    recite_ways(page, lambda kind, name: f"{page.page}#{kind}={name}")
    page.link("", page.page)
    page.word("lookup-no-script")
    actions = {action.id: action for action in rulebook.actions}
    for severity in reversed(rulebook.severities):
        page.say(page.text(severity.name), ":", page.text(severity.outcome))
        page.say(*(page.text(actions[action_id].text) for action_id in severity.actions))
    page.word("lookup-every-defect")
    system = component = ""
    for entry in page.spoken_of():
        if entry.system.id != system:
            page.say(page.text(entry.system.name))
        if (entry.system.id, entry.component.id) != (system, component):
            page.say(page.text(entry.component.name))
        system, component = entry.system.id, entry.component.id
        rulings = entry.rulings_under(rulebook.id)
        each = [f"{page.text(one.severity.name)} {page.text(one.applies_when)}" for one in rulings]
        part = rulings[0].part.part
        name = f"{page.reader.word('web-part')} {part}" if part[:1].isdigit() else page.locator(part)
        page.say(page.text(entry.condition), ":", ";".join(each), f"({name} ({rulings[0].item.letter}))")


def recite_short_foot(page: Recital) -> None:
    """The foot of the lookup: cautions and edition."""
    recite_cautions(page)
    recite_edition(page, page.text(page.rulebook.short_name))


def recite_edition(page: Recital, rulebook_name: str) -> None:
    """That it is an aid and not the law, which edition it is, of which rulebook, and who issues it."""
    edition, publisher = page.catalogue.edition, page.catalogue.publisher
    page.word("aid-line")
    page.say(page.reader.word("edition"), edition.code, page.reader.word("issued"), str(edition.date))
    page.say(page.reader.word("check-by"), str(edition.check_by), rulebook_name)
    page.say(publisher.name, publisher.contact or "")
