"""What stands beside a practice question: the rulebook, the defect, the reason, the source, and where it belongs."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from ..catalogue import Entry
from ..catalogue.locator import locator_in
from ..catalogue.wording import in_language
from .facts import Reader
from .questions import BY_FIGURE, JUDGES
from .reading import squash

NAMED_IN_THE_QUESTION = ("severity", "action", "place", "case")


def faults(reader: Reader, question: dict[str, Any], rulebook_id: str) -> Iterator[str]:
    """What a question says of itself and the catalogue does not, whatever its answer."""
    language, kind = reader.language, question["kind"]
    if kind not in JUDGES or not question["id"].startswith(f"{kind}-"):
        yield f"is of a kind that it is not called by: {kind}"
    entries = [reader.catalogue.entry[key] for key in question["entries"]]
    first = entries[0]
    rulings = first.rulings_under(rulebook_id)
    if question["system"] != first.system.id:
        yield f"is filed under {question['system']!r}, and {first.id} belongs to {first.system.id!r}"
    text, reason, source = (squash(question[key]) for key in ("text", "reason", "source"))
    if not text.startswith(squash(in_language(reader.catalogue.rulebook[rulebook_id].short_name, language))):
        yield "does not begin with the rulebook"
    if kind in NAMED_IN_THE_QUESTION:
        for entry in entries:
            if squash(reader.heading(entry)) not in text:
                yield f"does not name {entry.id}"
    if kind in BY_FIGURE:
        yield from _by_figure(reader, question, first, rulebook_id, text, reason, source)
        return
    if question["severity"] not in {"", *(ruling.severity.id for ruling in rulings)}:
        yield f"rests on the severity {question['severity']!r}, which {first.id} does not have"
    told = [r for r in rulings if squash(in_language(r.item.text, language)) in reason
            and squash(_place(reader, r.item)) in source]  # fmt: skip
    if not told:
        yield "gives a reason or a source that is not that of the defect"
    elif kind == "severity" and not any(squash(in_language(r.severity.name, language)) in reason for r in told):
        yield "gives another severity in its reason"


def _place(reader: Reader, record: Any) -> str:
    title = in_language(reader.catalogue.source[record.source].title, reader.language)
    return f"{title}, {locator_in(reader.catalogue, record.locator, reader.language)}"


def _by_figure(reader: Reader, question: dict[str, Any], entry: Entry, rulebook_id: str, text: str, reason: str,
               source: str) -> Iterator[str]:  # fmt: skip
    """The reason is a figure of a limit that decides the defect; of a figure's question the right choice is in it."""
    language = reader.language
    rows = [(limit, row) for limit in reader.catalogue.limits for row in limit.rows
            if squash(in_language(row.printed, language)) in reason and squash(in_language(row.label, language)) in reason
            and squash(_place(reader, row)) in source and squash(in_language(limit.quantity, language)) in text]  # fmt: skip
    if not rows:
        yield "gives a figure or a source that no limit has"
    right, number = [squash(choice) for choice in question["choices"]], question["right"]
    if question["kind"] == "figure" and right[number] not in reason:
        yield "takes another figure for right than its reason gives"
    if question["kind"] == "figure" and any(choice in reason for at, choice in enumerate(right) if at != number):
        yield "takes a figure for wrong that its reason gives"
