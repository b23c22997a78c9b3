"""Border sheets from first word to last, in the fullest form that the sheet itself shows that it has."""

from __future__ import annotations

import re
from collections.abc import Iterator

from ..catalogue import Catalogue, Entry, LimitRecord, RulebookRecord
from ..catalogue.row_choice import own_rows
from .crossing import FREEDOM, LISTS, deadline_of, prove_crossing
from .crossing_figures import MOST
from .facts import Reader, reader_of
from .objection import Objection
from .print_recital import figure_of, plain_text, prove_foot
from .read_pdf import PdfReading
from .recital import Recital, unlike
from .recite_compare import NEWS, news_of, other_figure

_STOP = re.compile(r"(?<!\d)\.|\.(?!\d)")
MOST_SIDES = 4
"""Two sheets, both sides."""


def prove_whole_crossing(catalogue: Catalogue, reading: PdfReading, name: str, here_id: str, there_id: str,
                         language: str) -> Iterator[Objection]:  # fmt: skip
    """Objections to the sheet for a driver who crosses from one rulebook into another, word for word."""
    reader = reader_of(catalogue, language)
    sheet = _Sheet(reader, here_id, there_id, name)
    found = _without_stops(reading.text)
    told = [_without_stops("".join(sheet.recited(*way))) for way in _ways(len(sheet.lists))]
    # Which of the forms it is, is read from its length: no two of them are equally long.
    nearest = min(told, key=lambda one: (one != found, abs(len(one) - len(found))))
    yield from unlike(found, nearest, name)
    if len(reading.pages) > MOST_SIDES:
        yield Objection(name, "pages", f"are {len(reading.pages)}, and no more than {MOST_SIDES} belong here")
    names = [reader.word("print-figures"), *(sheet.named(one) for one in (sheet.here, sheet.there))]
    yield from prove_foot(reader, reading, name, "comparison", f"{here_id}.{there_id}", ("".join(names),))
    yield from prove_crossing(catalogue, reading, name, here_id, there_id, language)


def _without_stops(text: str) -> str:
    """A text without full stops, those inside numbers apart: one at the very end of a narrow line is not always read."""
    return _STOP.sub("", plain_text(text))


def _ways(lists: int) -> Iterator[tuple[int, bool, bool]]:
    """How many lists there are, whether in brief, whether with the figures: from the fullest sheet to the emptiest."""
    for kept in range(lists, 0, -1):
        yield from ((kept, False, True), (kept, True, True))
    if lists:
        yield 1, True, False
    yield 0, False, True


class _Sheet:
    """What both forms of a sheet have in common."""

    def __init__(self, reader: Reader, here_id: str, there_id: str, name: str) -> None:
        self.reader = reader
        self.told = Recital(reader, here_id, name)
        self.here, self.there = (reader.catalogue.rulebook[one] for one in (here_id, there_id))
        news = {entry.id: news_of(entry, here_id, there_id) for entry in reader.catalogue.entries}
        self.news = news
        self.lists = [(key, here) for key in LISTS if (here := [e for e in reader.catalogue.entries if key in news[e.id]])]
        both = [e for e in reader.catalogue.entries if e.rulings_under(here_id) and e.rulings_under(there_id)]
        deciding = {limit.id for entry in both for limit in entry.limits}
        self.limits = [one for one in reader.catalogue.limits if one.id in deciding and other_figure(one, here_id, there_id)]

    def named(self, rulebook: RulebookRecord) -> str:
        """A rulebook's short name."""
        return self.told.text(rulebook.short_name)

    def recited(self, kept: int, brief: bool, figures: bool) -> list[str]:
        """The words of the sheet in one of its forms."""
        told, word = Recital(self.reader, self.here.id, ""), self.reader.word
        told.word("across-into", here=self.named(self.here), there=self.named(self.there))
        told.say(word("across-sheet"), word("across-severities"))
        for rulebook in (self.here, self.there):
            for severity in reversed(rulebook.severities):
                deadline = deadline_of(rulebook, severity, told.language) or word("across-no-deadline")
                told.say(self.named(rulebook), ",", told.text(severity.name), ":", told.text(severity.outcome), ".")
                told.say(word("across-deadline"), ":", deadline, self._unsure(severity.basis))
        if "forbidden-there" not in [key for key, _ in self.lists]:
            told.word("across-sheet-none")
        for key, entries in self.lists[:kept]:
            told.say(word(f"across-{key}"), ":", str(len(entries)), word("print-report-star") if brief else "")
            for system in told.catalogue.systems:
                inside = [entry for entry in entries if entry.system.id == system.id]
                told.say(told.text(system.name) if inside else "")
                for entry in sorted(inside, key=self._order):
                    told.say(self._line(told, entry, brief))
        if figures and self.limits:
            told.say(word("across-other-figure"), word("print-figures"), self.named(self.here), self.named(self.there))
            for limit in self.limits:
                told.say(told.text(limit.quantity), *(self._figures(told, limit, one.id) for one in (self.here, self.there)))
        left = [(f"across-{key}", len(entries)) for key, entries in self.lists[kept:]]
        left += [("across-other-figure", len(self.limits))] if self.limits and not figures else []
        for key, number in left:
            told.say(word(key), ".", told.filled("across-sheet-more", number=number))
        return told.told

    def _unsure(self, basis: str) -> str:
        return f"({self.reader.word('not-confirmed')})" if basis == "from-memory" else ""

    def _order(self, entry: Entry) -> tuple[int, int]:
        rulings = entry.rulings_under(self.there.id)
        return NEWS.index(self.news[entry.id][0]), FREEDOM[rulings[0].severity.may_drive] if rulings else len(FREEDOM)

    def _line(self, told: Recital, entry: Entry, brief: bool) -> str:
        ruling = (entry.rulings_under(self.there.id) or entry.rulings_under(self.here.id))[0]
        name = f"{self.reader.heading(entry)}."
        if brief:
            return name if ruling.confirmed else f"{name}*"
        when = f", {told.text(ruling.applies_when)}" if ruling.applies_when else ""
        said = f"{name}{told.text(ruling.severity.name)}{when}; {told.locator(ruling.item.locator)}."
        return said + self._unsure("" if ruling.confirmed else "from-memory")

    def _figures(self, told: Recital, limit: LimitRecord, rulebook_id: str) -> str:
        rows = own_rows(limit, rulebook_id)
        if not rows:
            return self.reader.word("across-no-figure")
        if len(rows) > MOST:
            return told.filled("across-more-figures", number=len(rows))
        return "".join(figure_of(told, limit, row) + self._unsure(row.basis) for row in rows)
