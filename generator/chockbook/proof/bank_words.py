"""A practice question word for word: its id, reason and source are worked out from the catalogue and compared whole.

An id is made of what a question is about, so that one whose answer changes gets another: a digit of a measured value
that changed shows in it.
"""

from __future__ import annotations

import base64
import hashlib
import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from ..catalogue import UNITS, Entry, LimitRecord, Ruling
from ..catalogue.locator import locator_in
from ..catalogue.quantity import Malformed, parse_quantity
from ..catalogue.verdict import question_of
from ..catalogue.wording import in_language
from .case_units import CASE_UNITS, places_of
from .facts import Reader
from .reading import squash

ID_LETTERS = 10
SUM_LETTERS = 8
FIELDS = {"id", "kind", "entries", "system", "severity", "text", "choices", "right", "reason", "source", "about", "confirmed", "sum"}
ASPECTS = {"drill-ask-drive": "drive", "drill-ask-repair": "repair"}


@dataclass(frozen=True, slots=True)
class Made:
    """What a question that is rightly made says beside its text and its choices."""

    id: str
    reason: str
    source: str
    severity: str = ""
    entries: tuple[str, ...] = ()
    """The defects that it is about, in order; none where it is about those that its choices name."""


def id_of(kind: str, *content: object) -> str:
    """The id of a question: its kind, and letters from what it is about."""
    digest = hashlib.sha256("\x1f".join([kind, *map(str, content)]).encode("utf-8")).digest()
    return f"{kind}-{base64.b32encode(digest).decode('ascii')[:ID_LETTERS].lower()}"


def faults(reader: Reader, question: dict[str, Any], rulebook_id: str) -> Iterator[str]:
    """What a question says of itself that no question about its defects, rightly made, says."""
    if set(question) != FIELDS:
        yield f"has fields that it does not need, or lacks some: {sorted(set(question) ^ FIELDS)}"
    told = "\x1f".join([question["text"], *question["choices"]])
    if question["sum"] != hashlib.sha256(told.encode("utf-8")).hexdigest()[:SUM_LETTERS]:
        yield "was changed since it was made: its sum is not that of its words"
    maker = _Maker(reader, question, rulebook_id)
    made = list(maker.made())
    if not any(one.id == question["id"] for one in made):
        yield "has an id that is not made of what it says"
    told = [one for one in made if one.id == question["id"]]
    said = tuple(squash(question[key]) for key in ("reason", "source"))
    told = [one for one in told if (squash(one.reason), squash(one.source), one.severity) == (*said, question["severity"])]
    if made and not told:
        yield "gives a reason, a source or a severity that is not, word for word, that of what it asks"
    if told and not any(maker.about(one) for one in told):
        yield "is not about the defects that it asks about, in their order"


class _Maker:
    """Works out what the questions about some defects can be."""

    def __init__(self, reader: Reader, question: dict[str, Any], rulebook_id: str) -> None:
        self.reader, self.question, self.rulebook_id = reader, question, rulebook_id
        self.rulebook = reader.catalogue.rulebook[rulebook_id]
        self.entries = [reader.catalogue.entry[key] for key in question["entries"]]
        self.first = self.entries[0]
        self.answer = question["choices"][question["right"]]

    def made(self) -> Iterator[Made]:
        """Every question of the kind that is about these defects."""
        kinds = {"severity": self.severity, "action": self.action, "place": self.place, "which": self.which, "stops": self.which,
                 "figure": self.figure, "measured": self.measured, "case": self.case}  # fmt: skip
        yield from kinds[self.question["kind"]]()

    def about(self, made: Made) -> bool:
        """Whether the question names its defects as it has to; of choices, the right one first, each once."""
        if made.entries:
            return tuple(self.question["entries"]) == made.entries
        return len(set(self.question["entries"])) == len(self.entries) == len(self.question["choices"])

    def text(self, text: Any) -> str:
        return in_language(text, self.reader.language)

    def filled(self, key: str, **values: object) -> str:
        text = self.reader.word(key)
        for name, value in values.items():
            text = text.replace("{" + name + "}", str(value))
        return text

    def locator(self, record: Any) -> str:
        return locator_in(self.reader.catalogue, record.locator, self.reader.language)

    def stands(self, record: Any) -> str:
        return f"{self.text(self.reader.catalogue.source[record.source].title)}, {self.locator(record)}"

    def source(self, ruling: Ruling) -> str:
        return "; ".join([self.stands(ruling.item), *(self.locator(one) for one in ruling.also)])

    def reason(self, ruling: Ruling) -> str:
        return self.filled("drill-reason-item", severity=self.text(ruling.severity.name), item=self.text(ruling.item.text))

    def rulings(self) -> tuple[Ruling, ...]:
        return self.first.rulings_under(self.rulebook_id)

    def severity(self) -> Iterator[Made]:
        for one in self.rulings():
            name = id_of("severity", self.rulebook_id, self.first.id, one.item.id, one.severity.id)
            yield Made(name, self.reason(one), self.source(one), one.severity.id, (self.first.id,))

    def action(self) -> Iterator[Made]:
        for one in self.rulings():
            for action in one.actions:
                if self.text(action.text) == self.answer:
                    for aspect in ASPECTS.values():
                        name = id_of("action", aspect, self.rulebook_id, self.first.id, one.item.id, action.id)
                        source = f"{self.source(one)}; {self.stands(action)}"
                        yield Made(name, self.reason(one), source, one.severity.id, (self.first.id,))

    def place(self) -> Iterator[Made]:
        for one in self.rulings():
            for schedule in self.rulebook.schedules:
                for part in schedule.parts:
                    name = id_of("place", self.rulebook_id, self.first.id, schedule.id, part.part)
                    for item in part.items:
                        if item.id in [own.id for own in (one.item, *one.also)]:
                            reason = self.filled("drill-reason-place", part=self.text(part.title), item=self.text(item.text))
                            yield Made(name, reason, self.source(one), "", (self.first.id,))

    def which(self) -> Iterator[Made]:
        for one in self.rulings():
            outcome = self.filled("drill-reason-outcome", severity=self.text(one.severity.name),
                                  outcome=self.text(one.severity.outcome), item=self.text(one.item.text))  # fmt: skip
            for key, reason in (("drill-ask-which", self.reason(one)), ("drill-ask-stops", outcome), ("drill-ask-goes-on", outcome)):
                kind = "which" if key == "drill-ask-which" else "stops"
                name = id_of(kind, key, self.rulebook_id, self.first.id, one.item.id, one.severity.id)
                yield Made(name, reason, self.source(one), one.severity.id)

    def rows(self) -> Iterator[tuple[LimitRecord, Any, str]]:
        for limit in self.first.limits:
            for row in limit.rows:
                if row.rulebook == self.rulebook_id:
                    compares = "" if limit.compare == "between" else self.reader.word(f"compare-{limit.compare}") + " "
                    figure = compares + self.text(row.printed)
                    yield limit, row, self.filled("drill-reason-figure", figure=figure, label=self.text(row.label))

    def decided(self, limit: LimitRecord) -> tuple[str, ...]:
        """The defects of the rulebook that a limit decides."""
        by_limit = self.reader.once(("decided", self.rulebook_id), self._decided)
        return tuple(by_limit.get(limit.id, ()))

    def _decided(self) -> dict[str, list[str]]:
        found: dict[str, list[str]] = {}
        for entry in self.reader.catalogue.entries:
            if entry.rulings_under(self.rulebook_id):
                for limit in entry.limits:
                    found.setdefault(limit.id, []).append(entry.id)
        return found

    def figure(self) -> Iterator[Made]:
        for limit, row, reason in self.rows():
            name = id_of("figure", self.rulebook_id, limit.id, sorted(row.when.items()), row.value, row.upper)
            yield Made(name, reason, self.stands(row), "", self.decided(limit))

    def measured(self) -> Iterator[Made]:
        for limit, row, reason in self.rows():
            before, _, after = self.filled("drill-ask-measured", rulebook=self.text(self.rulebook.short_name),
                                           quantity=self.text(limit.quantity), label=self.text(row.label)).partition("{value}")  # fmt: skip
            said = self.question["text"]
            if not (said.startswith(before) and said.endswith(after)):
                continue
            try:
                value = parse_quantity(said[len(before) : len(said) - len(after)], self.reader.language)
            except Malformed:
                continue
            name = id_of("measured", self.rulebook_id, limit.id, sorted(row.when.items()), row.value, value.value,
                         value.unit and value.unit.id)  # fmt: skip
            if squash(self.answer) == squash(self.reader.word("drill-meets")) or len(self.question["choices"]) < 3:
                yield Made(name, reason, self.stands(row), "", self.decided(limit))
            if squash(self.answer) != squash(self.reader.word("drill-meets")):
                for one in self.rulings():
                    source = f"{self.stands(row)}; {self.source(one)}"
                    yield Made(name, f"{reason} {self.reason(one)}", source, one.severity.id, self.decided(limit))

    def case(self) -> Iterator[Made]:
        names = {self.reader.word(f"unit-{unit}"): unit for unit in UNITS}
        found: list[tuple[str, Entry, Ruling, str]] = []
        parts = re.split(r"\(\d+\) ", self.question["text"])
        for part in parts[1:]:
            said = next((s for s in self._findings(names) if part.startswith(s[0])), None)
            if said is None:
                return
            found.append(said[1:])
        governing = max((one[2].rank for one in found), default=0)
        reasons = [self.filled("drill-reason-case", number=number, reason=self.reason(one[2])) for number, one in enumerate(found, 1)]
        sources = dict.fromkeys(self.source(one[2]) for one in found if one[2].rank == governing)
        listed = "; ".join(self.filled("drill-case-finding", number=number, unit=self.reader.word(f"unit-{one[0]}"), finding=said)
                           for number, one in enumerate(found, 1) for said in [self._finding(one[1], one[2])])  # fmt: skip
        worst = next((one[2].severity.id for one in found if one[2].rank == governing), "")
        for units in dict.fromkeys(places_of(unit) for unit in CASE_UNITS):
            told = self.filled("drill-ask-case", rulebook=self.text(self.rulebook.short_name), findings=listed,
                               units=", ".join(self.reader.word(f"unit-{unit}") for unit in units))  # fmt: skip
            if squash(told) == squash(self.question["text"]):
                name = id_of("case", self.rulebook_id, units, [(one[0], one[1].id, one[3]) for one in found], worst)
                about = [one[1].id for one in sorted(found, key=lambda one: one[2].rank != governing)]
                yield Made(name, " ".join(reasons), "; ".join(sources), worst, tuple(about))

    def _finding(self, entry: Entry, ruling: Ruling) -> str:
        when = f", {self.text(ruling.applies_when)}" if ruling.applies_when else ""
        return self.filled("drill-finding", component=self.text(entry.component.name), condition=self.text(entry.condition)) + when

    def _findings(self, names: dict[str, str]) -> list[tuple[str, str, Entry, Ruling, str]]:
        """Every finding of these defects on every unit in words, the longest first, with what the decision rule is told."""
        every = []
        for entry in self.entries:
            rulings = entry.rulings_under(self.rulebook_id)
            asked = question_of(rulings)
            for ruling in rulings:
                answer = "unknown" if asked is None else "yes" if ruling is asked.yes else "no"
                every += [(f"{name}, {self._finding(entry, ruling)}", unit, entry, ruling, answer) for name, unit in names.items()]
        return sorted(every, key=lambda one: -len(one[0]))
