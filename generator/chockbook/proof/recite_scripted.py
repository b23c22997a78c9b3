"""Recitals of the pages that a script helps with: walk and say, practice, measuring; and of what is confirmed."""

from __future__ import annotations

from collections import Counter
from typing import get_args

from ..catalogue import Entry, Ruling
from ..catalogue.brake_set import STROKE
from ..catalogue.record import Basis
from .pairs import wanted_pairs
from .recital import Recital
from .recite_facts import facts_of_book
from .walk import said_at, stops


def recite_walk(page: Recital) -> None:
    """Every step of the whole route, as it is done and said."""
    words = page.reader.catalogue.words
    for key in ("lead", "no-script", "not-kept", "vehicle"):
        page.word(f"walk-{key}")
    page.say(*(page.reader.word(key) for key in words if key.startswith("walk-unit-")))
    page.word("walk-station")
    page.word("walk-hide")
    page.place("walk-progress")
    for station in page.catalogue.stations:
        page.say(page.text(station.name), page.text(station.begin_when), ".")
        warned: set[str] = set()
        for step in station.steps:
            page.say(page.text(step.item))
            if stops(page.catalogue, step, page.rulebook.id, None):
                page.word("walk-must")
            if step.caution and step.caution not in warned:
                warned.add(step.caution)
                caution = page.catalogue.caution[step.caution]
                page.say(page.reader.word(f"signal-{caution.level}"), page.text(caution.hazard), page.text(caution.avoid))
            page.say(page.reader.word("walk-hand"), page.text(step.do), page.reader.word("walk-say"), said_at(step, page.language))
            page.say(page.reader.word("walk-good"), page.text(step.good))
    for key in ("again", "back", "show", "next"):
        page.word(f"walk-{key}")
    page.place("walk-kept")
    page.word("walk-erase")
    page.place("walk-erased")
    page.word("walk-keys")
    forbids = any(severity.may_drive == "no" for severity in page.rulebook.severities)
    page.word("walk-must-rule" if forbids else "walk-must-none")


def recite_practice(page: Recital) -> None:
    """What stands round the questions."""
    page.word("practice-lead")
    if wanted_pairs(page.catalogue, page.rulebook.id):
        page.link(page.reader.word("web-pairs"), "pairs.html")
    def words(*keys: str) -> None:
        for key in keys:
            page.word(f"practice-{key}")

    words("no-script", "not-kept")
    page.place("practice-due")
    page.word("not-confirmed")
    page.place("practice-question", "practice-choices", "practice-said")
    words("next")
    page.place("practice-none-text")
    words("anyway")
    page.place("practice-tally")
    words("choose", "system", "severity", "kind", "unconfirmed", "how", "rule", "keys")
    page.place("practice-size", "practice-kept")
    words("erase", "erase-sure", "erase-keep")
    page.place("practice-erased")


def recite_measure(page: Recital) -> None:
    """The form, and what every defect that a figure decides asks for."""
    page.word("measure-lead")
    page.word("measure-no-script")
    page.link(page.reader.word("web-figures"), "figures.html")
    page.word("measure-what")
    page.place("measure-method")
    for key in ("applies", "value", "unit", "value-example"):
        page.word(f"measure-{key}")
    page.place("measure-result")
    if any(limit.id == STROKE for limit in page.catalogue.limits):
        page.word("measure-set")
        page.word("measure-set-lead")
        page.place("set-brakes")
        page.word("measure-set-add")
        page.place("set-result")
    limits = sorted(page.catalogue.limits, key=lambda one: not any(row.rulebook == page.rulebook.id for row in one.rows))
    told: set[str] = set()
    for limit in limits:
        for entry in decided(page, limit.id):
            if entry.id not in told:
                told.add(entry.id)
                _measured(page, entry)


def decided(page: Recital, limit_id: str) -> list[Entry]:
    """Entries that a limit decides, worst first."""
    ranks = [severity.id for severity in page.rulebook.severities]
    found = [entry for entry in page.spoken_of() if limit_id in [limit.id for limit in entry.limits]]
    return sorted(found, key=lambda entry: -ranks.index(entry.rulings_under(page.rulebook.id)[0].item.severity))


def _measured(page: Recital, entry: Entry) -> None:
    page.entry(entry)
    for ruling in entry.rulings_under(page.rulebook.id):
        page.outcome(ruling.severity, ruling.applies_when, ruling.item.basis)
        for action in ruling.actions:
            page.action(action)
            page.unsure(action.basis)


def recite_standing(page: Recital) -> None:
    """How much is confirmed, and what is not."""
    rulings = [(entry, ruling) for entry in page.spoken_of() for ruling in entry.rulings_under(page.rulebook.id)]
    facts = list(facts_of_book(page))
    items = [record for kind, _, _, record in facts if kind == "item"]
    doubtful = [(entry, ruling) for entry, ruling in rulings if ruling.item.basis == "from-memory"]
    entries = len({entry.id for entry, _ in rulings})
    page.word("web-standing-lead", entries=entries, confirmed=entries - len({entry.id for entry, _ in doubtful}),
              letters=len(items), letters_confirmed=sum((one.locator_basis or one.basis) != "from-memory" for one in items))  # fmt: skip
    fits = Counter(ruling.fit for _, ruling in rulings)
    page.word("web-standing-fit", named=fits["named"], general=fits["general"])
    page.word("web-counts")
    _tally(page, page.reader.word("fact-ruling"), [ruling.item.basis for _, ruling in rulings], all_bases=True)
    for kind in dict.fromkeys(fact[0] for fact in facts):
        _tally(page, page.reader.word(f"fact-{kind}"), [fact[3].basis for fact in facts if fact[0] == kind], all_bases=True)
    page.word("standing-by-severity")
    for severity in reversed(page.rulebook.severities):
        _tally(page, page.text(severity.name), [r.item.basis for _, r in rulings if r.item.severity == severity.id])
    page.word("standing-by-system")
    for system in page.catalogue.systems:
        _tally(page, page.text(system.name), [r.item.basis for entry, r in rulings if entry.system.id == system.id])
    page.word("web-unconfirmed-entries")
    _doubtful(page, doubtful)
    page.word("web-unconfirmed-facts")
    unsure = [fact for fact in facts if fact[3].basis == "from-memory"]
    for kind, label, target, record in unsure:
        page.link(f"{page.reader.word(f'fact-{kind}')}: {label}", target)
        page.say(page.text(page.catalogue.source[record.source].title), ",", page.locator(record.locator), ".")
        page.say(page.text(record.remark))
    if not unsure:
        page.word("web-none")


def _doubtful(page: Recital, rows: list[tuple[Entry, Ruling]]) -> None:
    for entry, ruling in rows:
        page.entry(entry, ruling)
    if not rows:
        page.word("web-none")


def _tally(page: Recital, name: str, bases: list[str], all_bases: bool = False) -> None:
    if bases or all_bases:
        page.say(name, str(len(bases)))
    for basis in get_args(Basis):
        if all_bases or basis in bases:
            page.say(page.reader.word(f"basis-{basis}"), ":", str(bases.count(basis)))
