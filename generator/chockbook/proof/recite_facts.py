"""Recitals of the pages about the rulebook itself: duties, cautions, how to use, provinces, sources."""

from __future__ import annotations

from collections import Counter
from typing import Any, get_args

from ..catalogue.jurisdiction import Topic
from .recital import Recital
from .recite_entry import part_anchor

BASES = ("published", "common-practice", "from-memory", "invented")


def recite_duties(page: Recital) -> None:
    """Duties by topic, then what the report holds."""
    page.word("web-duties-lead")
    for topic in dict.fromkeys(duty.topic for duty in page.rulebook.duties):
        page.word(f"topic-{topic}")
        for duty in page.rulebook.duties:
            if duty.topic == topic:
                page.say(page.text(duty.text))
                page.stated(duty)
    if page.rulebook.report:
        page.word("web-report")
    for field in page.rulebook.report:
        page.say(page.text(field.name))
        page.stated(field)


def recite_cautions(page: Recital) -> None:
    """Every caution in full."""
    for caution in page.catalogue.cautions:
        page.word(f"signal-{caution.level}")
        page.say(page.text(caution.hazard), page.text(caution.consequence), page.text(caution.avoid))


def recite_how_to_use(page: Recital) -> None:
    """What the marks and words mean."""
    for key in ("roadside", "1", "2", "3", "4", "marks"):
        page.word(f"web-use-{key}")
    for severity in reversed(page.rulebook.severities):
        page.outcome(severity)
        page.say(page.text(severity.meaning))
    page.word("web-use-two-severities")
    page.word("web-use-standing")
    for basis in BASES:
        page.say(page.reader.word(f"basis-{basis}"), ".", page.reader.word(f"web-basis-{basis}-means"))
    page.say(page.reader.word("letter-not-confirmed"), page.reader.word("web-letter-means"))
    for fit in ("named", "general"):
        page.say(page.reader.word(f"fit-{fit}"), ".", page.reader.word(f"web-fit-{fit}-means"))
    page.link(page.reader.word("web-standing"), "standing.html")
    page.word("web-use-edition")
    page.word("web-use-edition-means")


def recite_provinces(page: Recital) -> None:
    """Every province, topic by topic."""
    page.word("provinces-lead")
    for province in page.catalogue.jurisdictions:
        page.say(page.text(province.name), page.text(province.regulation))
        for topic in get_args(Topic):
            page.word(f"province-{topic}")
            facts = [fact for fact in province.facts if fact.topic == topic]
            if not facts:
                page.word("province-nothing")
            for fact in facts:
                page.say(page.text(fact.text), page.reader.word(f"basis-{fact.basis}"))
                page.say(page.text(page.catalogue.source[fact.source].title), ",", page.locator(fact.locator), ".")
                page.say(page.text(fact.remark))


def recite_sources(page: Recital) -> None:
    """How much of each source is covered, then every source with what rests on it."""
    page.word("coverage")
    for rulebook in page.catalogue.rulebooks:
        _coverage(page, rulebook)
    facts = list(facts_of_book(page))
    for source in page.catalogue.sources:
        page.say(page.text(source.title), page.reader.word("web-kind"), page.reader.word(f"source-{source.kind}"), ".")
        page.say(source.issuer, ".")
        if source.edition:
            page.say(page.reader.word("edition"), page.text(source.edition))
        page.say(page.reader.word("web-how-read"), page.text(source.how_read))
        if source.read_on:
            page.say(page.reader.word("web-read-on"), str(source.read_on), ".")
        checked = source.checked_on or source.read_on
        if checked:
            page.say(page.reader.word("web-checked-on"), str(checked))
            if source.checked_by:
                page.say(",", page.reader.word(f"checker-{source.checked_by}"))
            page.say(".")
        if source.review_by:
            page.say(page.reader.word("web-review-by"), str(source.review_by), ".")
        if not checked and not source.review_by:
            page.word("web-never-checked")
        if source.url:
            page.link(source.url, source.url)
        cited = [fact for fact in facts if fact[3].source == source.id]
        read_in = [fact for fact in facts if source.id in fact[3].read_in]
        entries = sum(any(ruling.item.source == source.id for ruling in entry.rulings_under(page.rulebook.id))
                      for entry in page.catalogue.entries)  # fmt: skip
        page.word("web-rests")
        page.word("web-rests-counts", cited=len(cited), read=len(read_in), entries=entries)
        _resting(page, "web-cited", cited)
        _resting(page, "web-read-in", read_in)


Fact = tuple[str, str, str, Any]
"""Kind, what it says, the page and anchor that show it, and its record."""


def facts_of_book(page: Recital):
    """Every fact that the pages of the book show."""
    rulebook = page.rulebook
    for severity in rulebook.severities:
        yield "severity", page.text(severity.name), f"severity/{severity.id}.html", severity
    for action in rulebook.actions:
        yield "action", page.text(action.text), f"actions/{action.id}.html", action
    for schedule in rulebook.schedules:
        for part in schedule.parts:
            for item in part.items:
                yield "item", page.text(item.text), f"schedule.html#{part_anchor(schedule.id, part.part)}", item
    for duty in rulebook.duties:
        yield "duty", page.text(duty.text), f"duties.html#topic-{duty.topic}", duty
    for field in rulebook.report:
        yield "report", page.text(field.name), "duties.html#report", field
    for limit in page.catalogue.limits:
        for row in limit.rows:
            yield "figure", f"{page.text(limit.quantity)}: {page.text(row.label)}", f"figures.html#{limit.id}", row


def _resting(page: Recital, key: str, facts: list[Fact]) -> None:
    if facts:
        page.word(key, number=len(facts))
    gathered: dict[tuple[str, str], list[str]] = {}
    for kind, label, target, _ in facts:
        gathered.setdefault((kind, target), []).append(label)
    for (kind, target), labels in gathered.items():
        alone = f": {labels[0]}" if len(labels) == 1 else ""
        page.link(page.reader.word(f"fact-{kind}") + alone, target)
        page.say(str(len(labels)))


def _coverage(page: Recital, rulebook: Any) -> None:
    items = sum(len(part.items) for schedule in rulebook.schedules for part in schedule.parts)
    rulings = [ruling for entry in page.catalogue.entries for ruling in entry.rulings_under(rulebook.id)]
    covered = {one.id for ruling in rulings for one in (ruling.item, *ruling.also)}
    bases = Counter(ruling.item.basis for ruling in rulings)
    page.say(page.text(rulebook.name))
    page.word("coverage-items", covered=len(covered), items=items, left=len(rulebook.left_out))
    page.word("coverage-rulings", rulings=len(rulings))
    for basis in BASES:
        if bases[basis]:
            page.say(page.reader.word(f"basis-{basis}"), ":", str(bases[basis]), ".")
    if rulebook.left_out:
        page.say(page.reader.word("coverage-left-out"), ":", str(len(rulebook.left_out)))
    for one in rulebook.left_out:
        page.say(page.locator(one.locator), ":", page.text(one.what), ".", page.text(one.why))
