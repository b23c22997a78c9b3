"""The figures of a border sheet against the catalogue: each limit with what both rulebooks say of it."""

from __future__ import annotations

from collections.abc import Iterator

from ..catalogue import LimitRecord
from ..catalogue.row_choice import own_rows
from ..catalogue.wording import in_language
from .facts import Reader
from .objection import Objection
from .reading import PLACE, Vocabulary, compare, squash

MOST = 6
"""Figures of one limit that the sheet prints for a rulebook; of a longer table it says how long it is."""


def prove_figures(reader: Reader, text: str, name: str, here_id: str, there_id: str) -> Iterator[Objection]:
    """Objections to the table of figures.

    Args:
        reader: the catalogue in the sheet's language.
        text: the squashed text of the sheet from the table's heading to the next list that it names.
        name: of the sheet, in objections.
        here_id: the rulebook that the driver knows.
        there_id: the rulebook that the driver crosses into.
    """
    limits = reader.catalogue.limits
    begins: list[tuple[int, LimitRecord]] = []
    for limit in sorted(limits, key=lambda one: -len(in_language(one.quantity, reader.language))):
        at = text.find(squash(in_language(limit.quantity, reader.language)))
        if at >= 0 and not any(begin <= at < begin + _length(reader, other) for begin, other in begins):
            begins.append((at, limit))
    begins.sort(key=lambda pair: pair[0])
    if not begins:
        left_out = squash(PLACE.split(reader.word("across-sheet-more"))[0])
        if left_out not in text:
            yield Objection(name, "figures", "does not name any")
        return
    # A further page repeats the head of the table; a table that is left out stands as a line below the lists.
    names = [in_language(reader.catalogue.rulebook[one].short_name, reader.language) for one in (here_id, there_id)]
    allowed = Vocabulary([*names, reader.word("print-figures"), reader.word("across-other-figure"),
                          reader.word("across-sheet-more")])  # fmt: skip
    ends = [at for at, _ in begins[1:]] + [len(text)]
    for (begin, limit), end in zip(begins, ends, strict=True):
        result = compare(text[begin:end], _required(reader, limit, here_id, there_id), allowed)
        for line in result.missing:
            yield Objection(name, limit.id, f"does not say: {line}")
        for line in result.beyond:
            yield Objection(name, limit.id, f"says what the catalogue does not: {line}")
    listed = {limit.id for _, limit in begins}
    for limit in _decisive(reader, here_id, there_id):
        here, there = own_rows(limit, here_id), own_rows(limit, there_id)
        if there and not here and limit.id not in listed:
            yield Objection(name, limit.id, "is missing from the figures: only the other rulebook has its own")
    for limit in limits:
        here, there = own_rows(limit, here_id), own_rows(limit, there_id)
        if limit.id in listed and not there:
            yield Objection(name, limit.id, "does not belong here: the other rulebook has no figure of its own")


def _length(reader: Reader, limit: LimitRecord) -> int:
    return len(squash(in_language(limit.quantity, reader.language)))


def _decisive(reader: Reader, here_id: str, there_id: str) -> Iterator[LimitRecord]:
    """The limits that decide a defect of which both rulebooks speak."""
    both = [e for e in reader.catalogue.entries if e.rulings_under(here_id) and e.rulings_under(there_id)]
    ids = {limit.id for entry in both for limit in entry.limits}
    yield from (limit for limit in reader.catalogue.limits if limit.id in ids)


def _required(reader: Reader, limit: LimitRecord, here_id: str, there_id: str) -> Iterator[str]:
    language = reader.language
    yield in_language(limit.quantity, language)
    for rulebook_id in (here_id, there_id):
        rows = own_rows(limit, rulebook_id)
        if not rows:
            yield reader.word("across-no-figure")
        elif len(rows) > MOST:
            yield reader.word("across-more-figures").replace("{number}", str(len(rows)))
        else:
            compares = "" if limit.compare == "between" else reader.word(f"compare-{limit.compare}")
            for row in rows:
                mark = "" if row.basis != "from-memory" else f"({reader.word('not-confirmed')})"
                yield f"{in_language(row.label, language)}: {compares}{in_language(row.printed, language)}{mark}"
