"""Border sheets against the catalogue: what changes from one rulebook to another, each defect in its list.

Which list a defect belongs in is worked out here from the rulings alone. A list that is left out of the sheet
for want of room has to say how many defects it holds.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from ..catalogue import Catalogue, Entry, RulebookRecord, Ruling, SeverityRecord
from ..catalogue.locator import locator_in
from ..catalogue.wording import in_language
from .crossing_figures import prove_figures
from .facts import Reader, reader_of
from .manual import page_furniture, page_numbers
from .objection import Objection
from .read_pdf import PdfReading
from .reading import PLACE, Vocabulary, compare, squash
from .scan import Phrases

LISTS = ("forbidden-there", "stricter-there", "only-there", "milder-there", "only-here")
FREEDOM = {"yes": 3, "once-reported": 2, "if-safe": 1, "no": 0}
"""What a severity leaves a driver free to do: the more, the milder."""
_NUMBER = re.compile(r"\d+")


@dataclass
class _List:
    """What has been read of one list of the sheet."""

    entries: Counter[str] = field(default_factory=Counter)
    number: int | None = None
    left_out: bool = False


def prove_crossing(catalogue: Catalogue, reading: PdfReading, name: str, here_id: str, there_id: str,
                   language: str) -> Iterator[Objection]:  # fmt: skip
    """Objections to the sheet for a driver who crosses from one rulebook into another, in one language."""
    reader = reader_of(catalogue, language)
    here, there = catalogue.rulebook[here_id], catalogue.rulebook[there_id]
    yield from page_furniture(reader, reading, name)
    yield from page_numbers(reader, reading, name)
    text = reading.text
    wanted = {key: entries for key in LISTS if (entries := _entries_of(catalogue, key, here_id, there_id))}
    titles = {squash(reader.word(f"across-{key}")): key for key in LISTS}
    begins = [at for title in titles if (at := text.find(title)) >= 0]
    figures_at = text.find(squash(reader.word("across-other-figure")))
    first = min([*begins, *([figures_at] if figures_at >= 0 else []), len(text)])
    yield from _severities(reader, text[:first], name, here, there, "forbidden-there" in wanted)
    reads = _Reads(reader, name, here_id, there_id)
    phrases = Phrases(dict.fromkeys(_phrases(reader, here_id, there_id)))
    for _, means in phrases.read(text[first:]):
        yield from reads.take(means)
    yield from reads.take([("end", "")])
    for key, entries in wanted.items():
        found = reads.lists.get(key, _List())
        if found.number != len(entries):
            yield Objection(name, key, f"does not say that the list holds {len(entries)}")
        for entry_id in () if found.left_out else sorted(entries - set(found.entries)):
            yield Objection(name, entry_id, f"is missing from the list {reader.word(f'across-{key}')!r}")
    for key, found in reads.lists.items():
        for entry_id in sorted((found.entries - Counter(wanted.get(key, ()))).elements()):
            yield Objection(name, entry_id, f"does not belong in the list {reader.word(f'across-{key}')!r}, or stands twice")
    if figures_at >= 0:
        below = [at for title in titles if (at := text.find(title, figures_at)) >= 0]
        yield from prove_figures(reader, text[figures_at : min(below, default=len(text))], name, here_id, there_id)


def _entries_of(catalogue: Catalogue, key: str, here_id: str, there_id: str) -> set[str]:
    """Ids of the defects that belong in a list."""
    return {entry.id for entry in catalogue.entries if list_of(entry, here_id, there_id) == key}


def list_of(entry: Entry, here_id: str, there_id: str) -> str | None:
    """The list that a defect belongs in by what its worst rulings leave a driver free to do."""
    here, there = entry.rulings_under(here_id), entry.rulings_under(there_id)
    if not here or not there:
        return "only-there" if there else "only-here" if here else None
    ours, theirs = (FREEDOM[rulings[0].severity.may_drive] for rulings in (here, there))
    if theirs < ours:
        return "stricter-there" if theirs else "forbidden-there"
    return "milder-there" if theirs > ours else None


def _severities(reader: Reader, top: str, name: str, here: RulebookRecord, there: RulebookRecord,
                forbids: bool) -> Iterator[Objection]:  # fmt: skip
    """Above the lists: the way, and of every severity of both rulebooks its answer and its deadline."""
    language = reader.language
    names = [in_language(rulebook.short_name, language) for rulebook in (here, there)]
    required = [reader.word("across-into").replace("{here}", names[0]).replace("{there}", names[1])]
    for rulebook, rulebook_name in zip((here, there), names, strict=True):
        for severity in rulebook.severities:
            deadline = deadline_of(rulebook, severity, language) or reader.word("across-no-deadline")
            mark = "" if severity.confirmed else f"({reader.word('not-confirmed')})"
            required.append(f"{rulebook_name}, {in_language(severity.name, language)}: "
                            f"{in_language(severity.outcome, language)}. {reader.word('across-deadline')}: {deadline}{mark}")  # fmt: skip
    if not forbids:
        required.append(reader.word("across-sheet-none"))
    allowed = Vocabulary(reader.word(key) for key in ("across-sheet", "across-severities"))
    result = compare(top, required, allowed)
    for line in result.missing:
        yield Objection(name, "severities", f"does not say: {line}")
    for line in result.beyond:
        yield Objection(name, "severities", f"says what the tables do not: {line}")


def deadline_of(rulebook: RulebookRecord, severity: SeverityRecord, language: str) -> str | None:
    """By when a defect is repaired: the severity's own deadline, otherwise its actions that are repairs."""
    if severity.deadline:
        return in_language(severity.deadline, language)
    repairs = [a for a in rulebook.actions if a.kind == "repair" and a.id in severity.actions]
    return "".join(in_language(action.text, language) for action in repairs) or None


def _phrases(reader: Reader, here_id: str, there_id: str) -> Iterator[tuple[str, str, Any]]:
    catalogue, language = reader.catalogue, reader.language
    for key in LISTS:
        yield reader.word(f"across-{key}"), "list", key
    yield reader.word("across-other-figure"), "figures", None
    more = PLACE.split(reader.word("across-sheet-more"))
    yield more[0], "more", None
    yield from ((piece, "word", None) for piece in more[1:] if len(squash(piece)) > 1)
    yield from ((in_language(system.name, language), "system", None) for system in catalogue.systems)
    for rulebook_id in (here_id, there_id):
        for severity in catalogue.rulebook[rulebook_id].severities:
            yield in_language(severity.name, language), "severity", in_language(severity.name, language)
    for entry in catalogue.entries:
        # What no longer belongs here is read as well, so that it is objected to by its name.
        yield reader.heading(entry), "entry", entry.id
        for ruling in (*entry.rulings_under(here_id), *entry.rulings_under(there_id)):
            locator = locator_in(catalogue, ruling.item.locator, language)
            yield locator, "said", locator
            if ruling.applies_when:
                yield in_language(ruling.applies_when, language), "said", in_language(ruling.applies_when, language)
    yield reader.word("not-confirmed"), "mark", None
    yield reader.word("print-report-star"), "brief", None


class _Reads:
    """Follows the phrases below the severities and keeps each defect with the list it stands in."""

    def __init__(self, reader: Reader, output: str, here_id: str, there_id: str) -> None:
        self.reader, self.output, self.here_id, self.there_id = reader, output, here_id, there_id
        self.lists: dict[str, _List] = {}
        self.list: _List | None = None
        self.brief = self.in_figures = False
        self.entry: str | None = None
        self.said: set[str] = set()
        self.marked = False

    def take(self, means: list[tuple[str, Any]] | str) -> Iterator[Objection]:
        """One phrase, or a stretch of text that is none."""
        if isinstance(means, str):
            yield from self._unknown(means)
            return
        kinds = dict(means)
        if kinds.keys() & {"list", "figures", "end"}:
            yield from self._close()
            self.in_figures, self.brief, self.list = "figures" in kinds, False, None
            if "list" in kinds:
                self.list = self.lists[kinds["list"]] = _List()
        elif "more" in kinds:
            # Lists that are left out stand below the figures, and each is named before it is said how much it holds.
            self.in_figures = False
            if self.list is not None:
                self.list.left_out = True
        elif self.in_figures or self.list is None:
            return
        elif "entry" in kinds:
            yield from self._close()
            self.entry = kinds["entry"]
            self.list.entries[self.entry] += 1
        elif "mark" in kinds:
            self.marked = True
        elif "brief" in kinds:
            self.brief = True
        elif "system" in kinds and "severity" not in kinds:
            yield from self._close()
        else:
            self.said.update(what for kind, what in means if kind in ("severity", "said"))

    def _unknown(self, text: str) -> Iterator[Objection]:
        if self.in_figures or self.list is None:
            return
        if self.list.number is None and (number := _NUMBER.search(text)):
            self.list.number = int(number[0])
            text = text.replace(number[0], "", 1)
        self.marked = self.marked or (self.brief and "*" in text)
        if re.sub(r"[\W_]+", "", text):
            yield Objection(self.output, self.entry or "text", f"says what the tables do not: {text}")

    def _close(self) -> Iterator[Objection]:
        """The defect that was read last: what is said of it is what the rulebook says that the list is about."""
        if self.entry is not None:
            entry = self.reader.catalogue.entry[self.entry]
            rulings = entry.rulings_under(self.there_id) or entry.rulings_under(self.here_id)
            if rulings:
                yield from self._judge(entry, rulings[0])
        self.entry, self.said, self.marked = None, set(), False

    def _judge(self, entry: Entry, ruling: Ruling) -> Iterator[Objection]:
        language = self.reader.language
        wanted = {in_language(ruling.severity.name, language),
                  locator_in(self.reader.catalogue, ruling.item.locator, language)}
        if ruling.applies_when:
            wanted.add(in_language(ruling.applies_when, language))
        if not self.brief and self.said != wanted:
            yield Objection(self.output, entry.id, f"says {sorted(self.said - wanted)} instead of {sorted(wanted - self.said)}")
        if self.marked == ruling.item.confirmed:
            yield Objection(self.output, entry.id, "does not say whether it is confirmed as the catalogue does")
