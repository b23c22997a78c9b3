"""A question against the catalogue, whatever file or sheet it stands in: its wording, its one right answer.

Each kind is judged by a rule of its own, which knows nothing of how questions are made: the wording has to be the
fixed word filled with texts of the entries that the question names, and each choice is looked up for itself.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import combinations

from ..catalogue import Entry, LimitRecord, LimitRow, Ruling, SeverityRecord
from ..catalogue.measure import UnfitMeasure, measure, only_divides
from ..catalogue.quantity import Malformed, parse_quantity
from ..catalogue.wording import in_language
from .case_units import can_be_met
from .facts import Reader
from .reading import squash

BY_FIGURE = ("figure", "measured")
"""Kinds that ask for a figure and not for what an item says."""
APART = ("severity", "action", "which", "stops", "case")
"""Kinds that ask to tell one severity from another, or what it means for driving."""
STOP, LEFT_TO_DRIVER = "no", "if-safe"
"""The values of may_drive that forbid driving, and under which to stop is right as well as to go on."""
ACTIONS = {"drill-ask-drive": ("stop", "go-on"), "drill-ask-repair": ("repair",)}
"""Which kinds of action answer which question."""


@dataclass(frozen=True, slots=True)
class Told:
    """A question as a file tells it."""

    id: str
    kind: str
    entries: tuple[str, ...]
    severity: str
    text: str
    choices: tuple[str, ...]
    right: int
    """Place of the right choice, from 0."""

    @property
    def answer(self) -> str:
        """The choice that is said to be right; empty where the file points at none."""
        return self.choices[self.right] if 0 <= self.right < len(self.choices) else ""

    @property
    def others(self) -> list[str]:
        """The choices that are said to be wrong."""
        return [choice for at, choice in enumerate(self.choices) if at != self.right]


def question_faults(reader: Reader, question: Told, rulebook_id: str) -> Iterator[str]:
    """What is wrong with a question, in words."""
    choices = {squash(choice) for choice in question.choices}
    if not 0 <= question.right < len(question.choices) or len(choices) < len(question.choices) or len(choices) < 2:
        yield "has no single right choice"
        return
    known = reader.catalogue.entry
    unknown = [key for key in question.entries if key not in known or not known[key].rulings_under(rulebook_id)]
    if unknown or not question.entries:
        yield f"is about {unknown[0] if unknown else 'nothing'}, of which the rulebook does not speak"
        return
    judge = JUDGES.get(question.kind)
    if judge is None:
        yield f"is of a kind that there is not: {question.kind!r}"
        return
    severities = reader.catalogue.rulebook[rulebook_id].severities
    if question.kind in APART and (len(severities) < 2 or any(one.may_drive == LEFT_TO_DRIVER for one in severities)):
        yield "asks for an answer that under this rulebook is not the only right one"
    yield from judge(reader, question, [known[key] for key in question.entries], rulebook_id)


def rests_on_sources(reader: Reader, question: Told, rulebook_id: str) -> bool:
    """Whether a question without faults rests on items, or figures, that were read in a source."""
    entries = [reader.catalogue.entry[key] for key in question.entries]
    if question.kind in BY_FIGURE:
        return all(row.confirmed for _, row, _ in _rows(reader, question, rulebook_id, f"drill-ask-{question.kind}"))
    rulings = [ruling for entry in entries for ruling in entry.rulings_under(rulebook_id)]
    if question.kind in ("severity", "action", "place"):
        return any(ruling.confirmed for ruling in rulings if question.severity in ("", ruling.severity.id))
    return all(any(r.confirmed for r in entry.rulings_under(rulebook_id)) for entry in entries)


def _filled(reader: Reader, key: str, **values: str) -> str:
    text = reader.word(key)
    for name, value in values.items():
        text = text.replace("{" + name + "}", value)
    return text


def _book(reader: Reader, rulebook_id: str) -> str:
    return in_language(reader.catalogue.rulebook[rulebook_id].short_name, reader.language)


def _finding(reader: Reader, entry: Entry, ruling: Ruling | None = None) -> str:
    """Component and condition, and the circumstance where a ruling states one."""
    when = ruling.applies_when if ruling else None
    return f"{reader.heading(entry)}, {in_language(when, reader.language)}" if when else reader.heading(entry)


def _asked_of(reader: Reader, question: Told, entry: Entry, rulebook_id: str,
              keys: Iterable[str]) -> list[tuple[str, Ruling]]:  # fmt: skip
    """The fixed words and rulings of the entry that the wording fits."""
    book = _book(reader, rulebook_id)
    return [
        (key, ruling) for key in keys for ruling in entry.rulings_under(rulebook_id)
        if squash(_filled(reader, key, rulebook=book, finding=_finding(reader, entry, ruling))) == squash(question.text)
    ]  # fmt: skip


def _severity(reader: Reader, question: Told, entries: list[Entry], rulebook_id: str) -> Iterator[str]:
    asked = [ruling for _, ruling in _asked_of(reader, question, entries[0], rulebook_id, ["drill-ask-severity"])]
    if not asked:
        yield f"does not ask how severe {entries[0].id} is"
    names = {in_language(ruling.severity.name, reader.language) for ruling in asked}
    if asked and names != {question.answer}:
        yield f"calls {entries[0].id} {question.answer!r}, which the catalogue does not"
    if asked and {ruling.severity.id for ruling in asked} != {question.severity}:
        yield f"is filed under {question.severity!r}"
    every = {in_language(one.name, reader.language) for one in reader.catalogue.rulebook[rulebook_id].severities}
    for choice in set(question.choices) - every:
        yield f"offers {choice!r}, which is no severity of the rulebook"


def _action(reader: Reader, question: Told, entries: list[Entry], rulebook_id: str) -> Iterator[str]:
    asked = _asked_of(reader, question, entries[0], rulebook_id, ACTIONS)
    if not asked:
        yield f"does not ask what to do with {entries[0].id}"
        return
    for key, ruling in asked:
        texts = {in_language(a.text, reader.language): a.kind for a in ruling.actions}
        if texts.get(question.answer) not in ACTIONS[key]:
            yield f"asks for {question.answer!r}, which the catalogue does not ask for with {entries[0].id}"
        for choice in set(texts).intersection(question.others):
            yield f"takes {choice!r} for wrong, and the catalogue asks for it"
    own = {in_language(one.text, reader.language) for one in reader.catalogue.rulebook[rulebook_id].actions}
    for choice in set(question.others) - own:
        yield f"takes {choice!r} for wrong, which the rulebook does not speak of"


def _place(reader: Reader, question: Told, entries: list[Entry], rulebook_id: str) -> Iterator[str]:
    rulebook, language = reader.catalogue.rulebook[rulebook_id], reader.language
    covering = {item.id for ruling in entries[0].rulings_under(rulebook_id) for item in (ruling.item, *ruling.also)}
    fitting = []
    for schedule in rulebook.schedules:
        book = _book(reader, rulebook_id)
        if len(rulebook.schedules) > 1:
            book = _filled(reader, "drill-schedule", rulebook=book, schedule=in_language(schedule.name, language))
        wording = _filled(reader, "drill-ask-place", rulebook=book, finding=_finding(reader, entries[0]))
        if squash(wording) == squash(question.text):
            fitting.append(schedule)
    if not fitting:
        yield f"does not ask where {entries[0].id} stands"
    for schedule in fitting:
        titles = {in_language(part.title, language): covering & {item.id for item in part.items}
                  for part in schedule.parts}  # fmt: skip
        if not titles.get(question.answer):
            yield f"puts {entries[0].id} into {question.answer!r}, and the catalogue does not"
        for choice in question.others:
            if titles.get(choice, True):
                yield f"takes {choice!r} for wrong, and it is no other part of the schedule"


def _which(reader: Reader, question: Told, entries: list[Entry], rulebook_id: str) -> Iterator[str]:
    book = _book(reader, rulebook_id)
    names = {one.id: in_language(one.name, reader.language)
             for one in reader.catalogue.rulebook[rulebook_id].severities}  # fmt: skip
    asked = next((key for key, name in names.items() if squash(question.text)
                  == squash(_filled(reader, "drill-ask-which", rulebook=book, severity=name))), None)  # fmt: skip
    if asked is None or asked != question.severity:
        yield f"does not ask which has the severity {question.severity!r}"
        return
    yield from _told_apart(reader, question, entries, rulebook_id, lambda ruling: ruling.severity.id == asked)


def _stops(reader: Reader, question: Told, entries: list[Entry], rulebook_id: str) -> Iterator[str]:
    book = _book(reader, rulebook_id)
    for key, stop in (("drill-ask-stops", True), ("drill-ask-goes-on", False)):
        if squash(_filled(reader, key, rulebook=book)) == squash(question.text):
            fits = {True: lambda r: r.severity.may_drive == STOP, False: lambda r: r.severity.may_drive != STOP}[stop]
            yield from _told_apart(reader, question, entries, rulebook_id, fits)
            return
    yield "does not ask what stops the vehicle"


def _told_apart(reader: Reader, question: Told, entries: list[Entry], rulebook_id: str, fits) -> Iterator[str]:
    """The right choice is a defect that fits in every ruling; the wrong ones are defects that fit in none."""
    named = {squash(reader.heading(entry)): entry for entry in entries}
    if squash(question.answer) != squash(reader.heading(entries[0])):
        yield f"offers {question.answer!r} as right, which is not {entries[0].id}"
    for choice in question.choices:
        entry = named.get(squash(choice))
        if entry is None:
            yield f"offers {choice!r}, which is not a defect that it is said to be about"
            continue
        fit = {bool(fits(ruling)) for ruling in entry.rulings_under(rulebook_id)}
        if fit != {choice == question.answer}:
            said = "right" if choice == question.answer else "wrong"
            yield f"takes {entry.id} for {said}, and the catalogue does not"


def _rows(reader: Reader, question: Told, rulebook_id: str, key: str) -> Iterator[tuple[LimitRecord, LimitRow, str]]:
    """The rulebook's own figures that the wording can be about, with the value that it says was found."""
    for limit, row, before, after in reader.once((key, rulebook_id), lambda: list(_wordings(reader, rulebook_id, key))):
        if question.text.startswith(before) and question.text.endswith(after):
            value = question.text[len(before) : len(question.text) - len(after)]
            if bool(value) == (key == "drill-ask-measured"):
                yield limit, row, value


def _wordings(reader: Reader, rulebook_id: str, key: str) -> Iterator[tuple[LimitRecord, LimitRow, str, str]]:
    """Each of the rulebook's own figures, with what a question about it says before and after the value."""
    for limit in reader.catalogue.limits:
        for row in (one for one in limit.rows if one.rulebook == rulebook_id):
            before, _, after = _filled(
                reader, key, rulebook=_book(reader, rulebook_id), quantity=in_language(limit.quantity, reader.language),
                label=in_language(row.label, reader.language),
            ).partition("{value}")  # fmt: skip
            yield limit, row, before, after


def _figure(reader: Reader, question: Told, entries: list[Entry], rulebook_id: str) -> Iterator[str]:
    rows = list(_rows(reader, question, rulebook_id, "drill-ask-figure"))
    printed = set()
    for limit, row, _ in rows:
        side = "" if limit.compare == "between" else reader.word(f"compare-{limit.compare}")
        printed.add(squash(side + in_language(row.printed, reader.language)))
    if printed != {squash(question.answer)} or not _decided(rows, entries):
        yield f"takes {question.answer!r} for the figure, and the catalogue does not"
    sides = {"" if limit.compare == "between" else reader.word(f"compare-{limit.compare}") for limit, _, _ in rows}
    every = {squash(side + in_language(row.printed, reader.language))
             for side in sides for limit in reader.catalogue.limits for row in limit.rows}  # fmt: skip
    yield from (f"offers {choice!r}, which no source prints" for choice in question.others if squash(choice) not in every)


def _decided(rows: list[tuple[LimitRecord, LimitRow, str]], entries: list[Entry]) -> bool:
    return all(limit in entry.limits for limit, _, _ in rows for entry in entries)


def _measured(reader: Reader, question: Told, entries: list[Entry], rulebook_id: str) -> Iterator[str]:
    rows = list(_rows(reader, question, rulebook_id, "drill-ask-measured"))
    if not rows or not _decided(rows, entries):
        yield "asks about a value of no figure of the rulebook"
    for limit, row, value in rows:
        try:
            passes = measure(limit, row, parse_quantity(value, reader.language)).passes
        except (Malformed, UnfitMeasure) as error:
            yield f"asks about {value!r}, which cannot be measured: {error}"
            continue
        meets = squash(reader.word("drill-meets"))
        if passes is None or passes != (squash(question.answer) == meets):
            yield f"says {question.answer!r} of {value}, and the figure {'is met' if passes else 'is not met'}"
        if passes and only_divides(limit, entries, rulebook_id):
            yield f"lets {value} pass, and the figure only tells one severity from another"
        if not passes and len(question.choices) > 2:
            held = {in_language(ruling.severity.name, reader.language) for entry in entries
                    for ruling in entry.rulings_under(rulebook_id)}  # fmt: skip
            names = {squash(_filled(reader, "drill-fails-severity", severity=name)) for name in held}
            if names != {squash(question.answer)}:
                yield f"calls {entries[0].id} {question.answer!r}, which the catalogue does not"


def _case(reader: Reader, question: Told, entries: list[Entry], rulebook_id: str) -> Iterator[str]:
    rulebook, language = reader.catalogue.rulebook[rulebook_id], reader.language
    rank = {severity.id: at for at, severity in enumerate(rulebook.severities)}
    before, *parts = re.split(r"\((\d+)\) ", question.text)
    found, met = [], []
    for number, part in zip(parts[::2], parts[1::2], strict=True):
        one = _ruling_in(reader, part, entries, rulebook_id)
        if one is None:
            yield f"has a finding ({number}) of which the catalogue does not say one thing: {part.strip()}"
            return
        found.append((number, one[1]))
        met.append((part, one[0]))
    if not found or len(found) != len(entries):
        yield "does not have the findings that it is said to have"
        return
    if not can_be_met(reader, before, met):
        yield "has findings that no one vehicle or combination can have together"
    worst = max((ruling.severity for _, ruling in found), key=lambda severity: rank[severity.id])
    if worst.id != question.severity:
        yield f"is filed under {question.severity!r}"
    outcome = in_language(worst.outcome, language)
    stopping = [number for number, ruling in found if ruling.severity.may_drive == STOP]
    if worst.may_drive == STOP:
        outcome = _because(reader, outcome, stopping)
    if squash(question.answer) != squash(outcome):
        yield f"decides {question.answer!r}, and the findings make it {outcome!r}"
    yield from _other_decisions(reader, question, rulebook.severities, [number for number, _ in found], stopping)


def _because(reader: Reader, outcome: str, numbers: Iterable[str]) -> str:
    return _filled(reader, "drill-case-because", outcome=outcome, numbers=", ".join(numbers))


def _other_decisions(reader: Reader, question: Told, severities: Iterable[SeverityRecord], numbers: list[str],
                     stopping: list[str]) -> Iterator[str]:  # fmt: skip
    """Each wrong decision is one that the rulebook has, and false: not to drive because of one of several is true."""
    false = set()
    for severity in severities:
        outcome = in_language(severity.outcome, reader.language)
        if severity.may_drive != STOP:
            false.add(squash(outcome))
            continue
        for length in range(1, len(numbers) + 1):
            false |= {squash(_because(reader, outcome, told)) for told in combinations(numbers, length)
                      if not set(told) <= set(stopping)}  # fmt: skip
    for choice in question.others:
        if squash(choice) not in false:
            yield f"takes {choice!r} for wrong, which is true or which the rulebook does not say"


def _ruling_in(reader: Reader, part: str, entries: list[Entry], rulebook_id: str) -> tuple[Entry, Ruling] | None:
    """The defect and the one ruling that a finding is about: those whose words stand in it at the greatest length."""
    told = squash(part)
    fitting = [(squash(_finding(reader, entry, ruling)), entry, ruling) for entry in entries
               for ruling in entry.rulings_under(rulebook_id)]  # fmt: skip
    fitting = [one for one in fitting if one[0] in told]
    longest = max((len(words) for words, _, _ in fitting), default=0)
    found = [(entry, ruling) for words, entry, ruling in fitting if len(words) == longest]
    same = {ruling.severity.id for _, ruling in found}
    return found[0] if len(same) == 1 else None


JUDGES = {"severity": _severity, "action": _action, "place": _place, "which": _which, "stops": _stops,
           "figure": _figure, "measured": _measured, "case": _case}  # fmt: skip
"""Kinds of question, and what judges each."""
