"""Decks of cards against the catalogue: every entry in its lane, under its item, on a card of its system."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from ..catalogue import Catalogue, Entry, Ruling
from ..catalogue.locator import locator_in
from ..catalogue.wording import in_language
from .facts import Reader, reader_of
from .objection import Objection
from .read_pdf import PdfReading
from .reading import PLACE, squash
from .scan import Phrases

_SILENT = re.compile(r"[\W_0-9]+")


@dataclass
class _Card:
    """What has been read of the face that is being read."""

    system: str | None = None
    outcome: str | None = None
    severity: str | None = None
    actions: set[str] = field(default_factory=set)
    locator: str | None = None
    said_since: list[tuple[str, Any]] = field(default_factory=list)
    """Conditions and marks since the locator."""
    entries_since: int = 0
    """Entries since the locator."""


def prove_cards(catalogue: Catalogue, reading: PdfReading, name: str, rulebook_id: str,
                language: str) -> Iterator[Objection]:  # fmt: skip
    """Objections to the deck of one rulebook in one language."""
    reader = reader_of(catalogue, language)
    wanted = Counter(_key(reader, entry, ruling)
                     for entry in catalogue.entries for ruling in entry.rulings_under(rulebook_id))  # fmt: skip
    yield from _furniture(reader, reading, name)
    phrases = phrases_of_cards(reader, rulebook_id)
    found: Counter[tuple[str, ...]] = Counter()
    before: dict[str, set[str]] = {}
    for number, text in enumerate(reading.page_texts, 1):
        reads = _Reads(reader, rulebook_id, f"{name} page {number}", before)
        for _, means in phrases.read(text):
            yield from reads.take(means)
        found.update(reads.found)
        before = reads.steps
    for key in (wanted - found).elements():
        yield Objection(name, key[0], f"is missing from the lane {key[1]!r} under {key[3]!r}")
    for key in (found - wanted).elements():
        yield Objection(name, key[0], f"does not belong in the lane {key[1]!r} under {key[3]!r}, or stands twice")


def _key(reader: Reader, entry: Entry, ruling: Ruling) -> tuple[str, ...]:
    language = reader.language
    when = in_language(ruling.applies_when, language) if ruling.applies_when else ""
    standing = reader.word("not-confirmed") if ruling.item.basis == "from-memory" else ""
    return (entry.id, in_language(ruling.severity.outcome, language), entry.system.id, ruling.item.locator,
            squash(when), squash(standing))  # fmt: skip


def _place(reader: Reader, ruling: Ruling) -> str:
    """The place of an item as a card says it: "(item not read)" is left to the mark, where there is one."""
    item = ruling.item
    marked = "from-memory" in (item.basis, item.locator_basis)
    place = item.locator
    if marked and place.endswith(" not read)"):
        place = place[: place.rindex(" (")]
    return locator_in(reader.catalogue, place, reader.language)


def _limit(reader: Reader, entry: Entry, rulebook_id: str) -> str:
    """What follows a defect on a card: the rulebook's own figures that the table puts there."""
    rows = [(limit.compare, row) for limit in entry.limits for row in limit.rows
            if row.card and entry.id in row.card.entries and row.rulebook == rulebook_id]  # fmt: skip
    pieces = []
    for compare, row in rows:
        place = f"{in_language(row.card.place, reader.language)}, " if row.card and row.card.place else ""
        side = "" if compare == "between" else reader.word(f"compare-{compare}")
        doubt = f"({reader.word('not-confirmed').lower()})" if row.basis == "from-memory" else ""
        pieces.append(f"{place}{side}{in_language(row.printed, reader.language)}{doubt}")
    return f"{reader.word('card-limit')}: {'; '.join(pieces)}" if pieces else ""


def phrases_of_cards(reader: Reader, rulebook_id: str) -> Phrases:
    """What a card of a rulebook may say."""
    return Phrases(dict.fromkeys(_phrases(reader, rulebook_id)))


def _phrases(reader: Reader, rulebook_id: str) -> Iterator[tuple[str, str, Any]]:
    catalogue, language = reader.catalogue, reader.language
    rulebook = catalogue.rulebook[rulebook_id]
    yield from ((in_language(s.name, language), "system", s.id) for s in catalogue.systems)
    for severity in rulebook.severities:
        yield in_language(severity.outcome, language), "outcome", in_language(severity.outcome, language)
        yield in_language(severity.name, language), "severity", severity.id
    yield from ((in_language(a.text, language), "action", a.id) for a in rulebook.actions)
    for entry in catalogue.entries:
        for ruling in entry.rulings_under(rulebook_id):
            yield _place(reader, ruling), "locator", ruling.item.locator
            if ruling.applies_when:
                yield in_language(ruling.applies_when, language), "when", in_language(ruling.applies_when, language)
        if entry.rulings_under(rulebook_id):
            yield reader.heading(entry) + _limit(reader, entry, rulebook_id), "entry", entry.id
    for key in ("not-confirmed", "letter-not-confirmed", "basis-from-memory"):
        yield reader.word(key), "mark", key
    for key, text in catalogue.words.items():
        if not key.startswith(("basis-", "not-confirmed", "letter-", "card-limit", "web-limit")):
            for piece in PLACE.split(in_language(text, language)):
                if len(squash(piece)) > 1:
                    yield piece, "word", key
    yield in_language(rulebook.short_name, language), "word", rulebook.id


class _Reads:
    """Follows the phrases of a page and keeps each entry with the lane, system and item it stands under."""

    def __init__(self, reader: Reader, rulebook_id: str, output: str, front: dict[str, set[str]]) -> None:
        self.reader, self.rulebook_id, self.output, self.card = reader, rulebook_id, output, _Card()
        self.front = front
        """Steps that the page before gave for each outcome: the fronts of a page of backs."""
        self.steps: dict[str, set[str]] = {}
        self.found: Counter[tuple[str, ...]] = Counter()

    def take(self, means: list[tuple[str, Any]] | str) -> Iterator[Objection]:
        """One phrase, or a stretch of text that is none."""
        if isinstance(means, str):
            if _SILENT.sub("", means):
                yield Objection(self.output, "text", f"says what the tables do not: {means}")
            return
        kinds = dict(means)
        card = self.card
        if "entry" in kinds:
            yield from self._entry([what for kind, what in means if kind == "entry"])
        elif "outcome" in kinds:
            self.card = _Card(system=card.system, outcome=kinds["outcome"])
        elif "locator" in kinds:
            # A place that two languages have in common is said once in each, before the entries under it.
            if card.entries_since or kinds["locator"] != card.locator:
                card.locator, card.said_since, card.entries_since = kinds["locator"], [], 0
        elif "action" in kinds:
            card.actions.update(what for kind, what in means if kind == "action")
            self.steps.setdefault(card.outcome or "", set()).update(card.actions)
        elif ("word", "steps-on-front") in means or ("word", "steps-on-card-before") in means:
            outcome = card.outcome or ""
            card.actions.update(self.front.get(outcome, set()) | self.steps.get(outcome, set()))
        elif "severity" in kinds and card.severity is None and card.outcome:
            card.severity = kinds["severity"]
        elif "when" in kinds or "mark" in kinds:
            card.said_since.extend(means)
        elif "system" in kinds:
            card.system = kinds["system"]
        elif ("word", "print-card") in means:
            self.card = _Card(system=card.system)

    def _entry(self, entry_ids: list[str]) -> Iterator[Objection]:
        card, reader = self.card, self.reader
        entry_id = next((i for i in entry_ids if reader.catalogue.entry[i].system.id == card.system), entry_ids[0])
        rulings = reader.catalogue.entry[entry_id].rulings_under(self.rulebook_id)
        ruling = next((r for r in rulings if in_language(r.severity.outcome, reader.language) == card.outcome), None)
        if card.outcome is None:
            yield Objection(self.output, entry_id, "stands on a card without its answer")
        elif ruling is None:
            yield Objection(self.output, entry_id, f"stands under the answer {card.outcome!r}, which no ruling gives")
        elif card.actions != (wanted := {action.id for action in ruling.actions}):
            yield Objection(self.output, entry_id, f"stands under other actions: {sorted(card.actions ^ wanted)}")
        elif card.severity != ruling.severity.id:
            yield Objection(self.output, entry_id, f"stands under the severity {card.severity!r}")
        when = "".join(squash(what) for kind, what in card.said_since if kind == "when")
        memory = any(what in ("not-confirmed", "basis-from-memory") for kind, what in card.said_since if kind == "mark")
        standing = squash(reader.word("not-confirmed")) if memory else ""
        card.entries_since += 1
        self.found[entry_id, card.outcome or "", card.system or "", card.locator or "", when, standing] += 1


def _furniture(reader: Reader, reading: PdfReading, name: str) -> Iterator[Objection]:
    """As often as a face has a card number, it has edition, caution and aid line."""
    edition = reader.catalogue.edition
    number = re.compile(re.escape(squash(reader.word("print-card"))) + r"\d+" + re.escape(squash(reader.word("print-of"))))
    lines = [f"{reader.word('edition')} {edition.code}", reader.word("caution-short"), reader.word("aid-short"),
             f"{reader.word('check-by')} {edition.check_by}"]  # fmt: skip
    for page, (text, furniture) in enumerate(zip(reading.page_texts, reading.furniture, strict=True), 1):
        faces = len(number.findall(text))
        for line in lines:
            if (text + furniture).count(squash(line)) < faces:
                yield Objection(f"{name} page {page}", "every card", f"does not say: {line}")
