"""The manual from first word to last: what opens it, the defects one by one, and the lists that lead to them.

Page numbers are part of it. They are taken from the outline, and each is then held against the page on which its
heading was found.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from itertools import groupby
from typing import Any

from ..catalogue import Catalogue, Entry, LimitRecord, Ruling
from .facts import reader_of
from .print_recital import figure_of, plain_text
from .recital import Recital
from .recite_entry import changed_of, part_anchor
from .recite_lists import part_name

SECTIONS = ("cautions", "how-to-use", "duties", "schedule", "entries", "by-severity", "by-action", "figures", "route",
            "sources", "index")  # fmt: skip
"""Sections of the manual in their order, as the contents name them."""
USE = ("print-use-find", "print-use-read", "print-use-basis", "print-use-examiner")
FIGURES_BESIDE_AN_ENTRY = 4
"""A limit with more figures of its own than this is printed in the chapter of figures only."""
PAGES, PLACE, END = "\ue000", "\ue001", "\ue002"
"""Before the places whose pages are named, before a place itself, and after either."""
BETWEEN = "\ue003"


class Manual(Recital):
    """The recital of a manual: words, headings with their places, and the pages of places."""

    def __init__(self, catalogue: Catalogue, rulebook_id: str, language: str, name: str) -> None:
        super().__init__(reader_of(catalogue, language), rulebook_id, name)
        self.headings: list[tuple[str, str]] = []
        """Place and words of each heading, in order; a heading that nothing leads to has no place."""
        self.entries = self.spoken_of()
        self.rulings = [(entry, ruling) for entry in self.entries for ruling in entry.rulings_under(rulebook_id)]
        self.worst_first = list(reversed(self.rulebook.severities))

    def heading(self, place: str, words: str) -> None:
        """A heading, which stands in the outline too."""
        self.say(f"{PLACE}{len(self.headings)}{END}", words)
        self.headings.append((place, words))

    def section(self, key: str) -> None:
        """The heading of a section, and its first words where it has some."""
        self.heading(f"section {key}", self.reader.word(f"print-{key}"))
        if f"print-{key}-lead" in self.catalogue.words:
            self.word(f"print-{key}-lead")

    def pages(self, *places: str) -> str:
        """The pages of places, each once."""
        return f"{PAGES}{BETWEEN.join(places)}{END}"

    def note(self, record: Any) -> None:
        """Where a fact stands: source, place, standing, remark."""
        self.say(self.text(self.catalogue.source[record.source].title), ",", self.locator(record.locator), ".")
        self.say(self.reader.word(f"basis-{record.basis}"), ".", self.text(record.remark))

    def texts(self, pages: dict[str, int]) -> tuple[str, list[int]]:
        """All words with the pages of places in them, and where in them each heading begins; without white space."""

        def numbers(found: re.Match[str]) -> str:
            wanted = [pages.get(place, 0) for place in found[1].split(BETWEEN)]
            return ",".join(str(page) for page, _ in groupby(sorted(wanted)))

        text = re.sub(f"{PAGES}([^{END}]*){END}", numbers, "".join(self.told))
        parts = re.split(f"{PLACE}[0-9]+{END}", text)
        begins, whole = [], plain_text(parts[0])
        for part in parts[1:]:
            begins.append(len(whole))
            whole += plain_text(part)
        return whole, begins


def recite_opening(told: Manual) -> None:
    """Title page, cautions, how to use, contents."""
    edition, publisher, word = told.catalogue.edition, told.catalogue.publisher, told.reader.word
    told.say(word("title"), word("print-title-manual"), told.text(told.rulebook.name), word("print-manual-subtitle"))
    told.say(word("print-law"), told.text(told.rulebook.law), word("print-binds"), told.text(told.rulebook.binds))
    told.say(word("edition"), edition.code, word("issued"), str(edition.date), word("check-by"), str(edition.check_by))
    told.say(word("print-document"), f"manual.{told.rulebook.id}.{told.language}", word("print-publisher"), publisher.name)
    told.say(f",{publisher.contact}" if publisher.contact else "", word("print-demo") if publisher.demo else "")
    told.say(word("print-whole"), edition.code, ".", word("aid-line"))
    told.section("cautions")
    for caution in told.catalogue.cautions:
        told.say(word(f"signal-{caution.level}"), told.text(caution.hazard), told.text(caution.consequence), told.text(caution.avoid))
    told.section("how-to-use")
    told.say(*(word(key) for key in USE))
    for severity in told.worst_first:
        told.say(told.text(severity.outcome), told.text(severity.name), ".", told.text(severity.meaning))
        _deadline(told, severity)
        told.note(severity)
    told.section("contents")
    inside = {
        "schedule": [(part_place(schedule, part), part_title(told, part)) for schedule in told.rulebook.schedules
                     for part in schedule.parts],
        "entries": [(f"system {system.id}", f"{number} {told.text(system.name)}") for number, system in _systems(told)],
        "by-severity": [(f"severity {one.id}", _severity(told, one)) for one in told.worst_first],
        "by-action": [(f"action {one.id}", told.text(one.text)) for one in told.rulebook.actions],
    }  # fmt: skip
    for key in SECTIONS:
        told.say(word(f"print-{key}"), told.pages(f"section {key}"))
        told.say(*(title + told.pages(place) for place, title in inside.get(key, ())))


def _systems(told: Manual) -> list[tuple[int, Any]]:
    spoken = {entry.system.id for entry in told.entries}
    return [(number, system) for number, system in enumerate(told.catalogue.systems, 1) if system.id in spoken]


def part_place(schedule: Any, part: Any) -> str:
    """The place of a part of a schedule."""
    return f"part {part_anchor(schedule.id, part.part)}"


def part_title(told: Manual, part: Any) -> str:
    """What heads a part."""
    return f"{part_name(told, part.part)}. {told.text(part.title)}"


def _severity(told: Manual, severity: Any) -> str:
    return f"{told.text(severity.name)}: {told.text(severity.outcome)}"


def _deadline(told: Manual, severity: Any) -> None:
    if severity.deadline:
        told.say(told.reader.word("print-deadline"), ":", told.text(severity.deadline), ".")


def recite_defects(told: Manual) -> None:
    """Every defect in full, system by system."""
    told.section("entries")
    changed = changed_of(told)
    for number, system in _systems(told):
        told.heading(f"system {system.id}", f"{number} {told.text(system.name)}")
        for entry in told.entries:
            if entry.system.id == system.id:
                _defect(told, entry, changed.get(entry.id))


def _defect(told: Manual, entry: Entry, changed: list[str] | None) -> None:
    word, rulings = told.reader.word, entry.rulings_under(told.rulebook.id)
    told.heading(f"entry {entry.id}", told.reader.heading(entry))
    for ruling in rulings:
        told.say(told.text(ruling.severity.outcome), told.text(ruling.severity.name), ".")
        if ruling.applies_when:
            told.say(word("applies"), told.text(ruling.applies_when), ".")
        for number, action in enumerate(ruling.actions, 1):
            told.say(str(number), told.text(action.text), _unsure(told, action.basis))
    if changed:
        told.say(word("change-mark"), ":", ", ".join(changed))
    told.say(word("how-to-check"), ":", told.text(entry.check))
    if entry.limits:
        told.say(word("print-figures"), ":")
    for limit in entry.limits:
        _limit(told, limit)
    told.say(word("print-found-on"), ":", told.names("vehicle", entry.vehicles))
    if entry.component.fitted:
        told.say(";", word("print-if-fitted"), ":", told.names("fitted", entry.component.fitted))
    told.say(".")
    for ruling in rulings:
        _source(told, ruling)


def _unsure(told: Manual, basis: str) -> str:
    return f"({told.reader.word('not-confirmed')})" if basis == "from-memory" else ""


def _limit(told: Manual, limit: LimitRecord) -> None:
    own = [row for row in limit.rows if row.rulebook == told.rulebook.id]
    told.say(told.text(limit.quantity))
    if 0 < len(own) <= FIGURES_BESIDE_AN_ENTRY:
        told.say(":", "; ".join(figure_of(told, limit, row) for row in own))
    if any(row.basis == "from-memory" for row in own):
        told.say(_unsure(told, "from-memory"))
    told.say(",", told.reader.word("print-page").lower(), told.pages(f"limit {limit.id}"), ".")


def _source(told: Manual, ruling: Ruling) -> None:
    word, item = told.reader.word, ruling.item
    told.say(word("source"), ":", told.text(ruling.source.title), ",", told.locator(item.locator), ".")
    if ruling.also:
        told.say(word("print-also"), ":", "; ".join(told.locator(one.locator) for one in ruling.also), ".")
    told.say(word(f"basis-{item.basis}"), ".")
    if item.basis != "from-memory" and item.locator_basis == "from-memory":
        told.say(word("letter-not-confirmed"), ".")
    told.say(word(f"fit-{ruling.fit}"), ".", told.text(item.remark), told.text(ruling.remark))
    if ruling.law_text:
        told.say(word("print-law-text"), ":", told.text(ruling.law_text))


def recite_rulebook(told: Manual) -> None:
    """Duties and the report, then the schedule item by item with the defects under each."""
    told.section("duties")
    for topic in dict.fromkeys(duty.topic for duty in told.rulebook.duties):
        told.heading("", told.reader.word(f"topic-{topic}"))
        for duty in told.rulebook.duties:
            if duty.topic == topic:
                told.say(told.text(duty.text))
                told.note(duty)
    if told.rulebook.report:
        told.heading("", told.reader.word("print-report-holds"))
    for field in told.rulebook.report:
        told.say(told.text(field.name))
        told.note(field)
    told.section("schedule")
    for schedule in told.rulebook.schedules:
        for part in schedule.parts:
            told.heading(part_place(schedule, part), part_title(told, part))
            told.say(told.text(schedule.name) if len(told.rulebook.schedules) > 1 else "")
            for severity in told.worst_first:
                items = [item for item in part.items if item.severity == severity.id]
                told.say(_severity(told, severity) if items else "")
                for item in items:
                    _item(told, item)


def _item(told: Manual, item: Any) -> None:
    told.say(f"({item.letter})" if item.letter.isalpha() else "", told.text(item.text))
    if item.applies_when:
        told.say(".", told.reader.word("applies"), told.text(item.applies_when))
    told.say(told.locator(item.locator), ".", told.reader.word(f"basis-{item.basis}"), ".")
    if item.basis != "from-memory" and item.locator_basis == "from-memory":
        told.say(told.reader.word("letter-not-confirmed"), ".")
    told.say(told.text(item.remark))
    _components(told, ((e, r) for e, r in told.rulings if item.id in [one.id for one in (r.item, *r.also)]))


def _components(told: Manual, rows: Iterable[tuple[Entry, Ruling]]) -> None:
    """Defects by component, each with its page."""
    gathered: dict[str, list[tuple[Entry, Ruling]]] = {}
    for entry, ruling in rows:
        gathered.setdefault(told.text(entry.component.name), []).append((entry, ruling))
    for name, here in gathered.items():
        told.say(name, ":")
        for at, (entry, ruling) in enumerate(here):
            when = f"({told.reader.word('applies')}{told.text(ruling.applies_when)})" if ruling.applies_when else ""
            told.say(";" if at else "", told.text(entry.condition), when, told.pages(f"entry {entry.id}"))


def recite_by_severity_and_action(told: Manual) -> None:
    """The defects by severity with their words, and by action with their pages."""
    word = told.reader.word
    told.section("by-severity")
    for severity in told.worst_first:
        rows = [(entry, ruling) for entry, ruling in told.rulings if ruling.item.severity == severity.id]
        told.heading(f"severity {severity.id}", _severity(told, severity))
        told.say(str(len({entry.id for entry, _ in rows})), word("print-entries-count"), ".")
        _deadline(told, severity)
        for system_id, here in groupby(rows, key=lambda row: row[0].system.id):
            told.say(told.text(next(one.name for one in told.catalogue.systems if one.id == system_id)))
            _components(told, here)
    told.section("by-action")
    for action in told.rulebook.actions:
        rows = [(entry, ruling) for entry, ruling in told.rulings if action.id in [one.id for one in ruling.actions]]
        told.heading(f"action {action.id}", told.text(action.text))
        told.say(word("print-done-by"), ":", word(f"by-{action.by}"), ".")
        names = [told.text(severity.name) for severity in told.worst_first if action.id in severity.actions]
        if names:
            told.say(word("print-called-for-by"), ":", ", ".join(names), ".")
        told.say(str(len({entry.id for entry, _ in rows})), word("print-entries-count"), ".")
        told.note(action)
        for _, here in groupby(rows, key=lambda row: row[0].system.id):
            entries = [entry for entry, _ in here]
            told.say(told.text(entries[0].system.name), ":")
            component_pages(told, ((told.text(entry.component.name), entry) for entry in entries))


def component_pages(told: Manual, rows: Iterable[tuple[str, Entry]]) -> None:
    """Components by name, each with the pages of its defects."""
    gathered: dict[str, list[str]] = {}
    for name, entry in rows:
        gathered.setdefault(name, []).append(f"entry {entry.id}")
    told.say("; ".join(name + told.pages(*places) for name, places in gathered.items()))
