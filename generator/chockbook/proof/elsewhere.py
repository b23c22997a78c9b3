"""What a defect's page says of other rulebooks, against the catalogue: each rulebook once, in its own words."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from ..catalogue import Entry, LimitRecord, RulebookRecord, Ruling
from ..catalogue.locator import locator_in
from ..catalogue.wording import in_language
from .facts import Reader
from .objection import Objection
from .reading import compare

MOST_FIGURES = 3
"""Figures of one limit that are shown for a rulebook; of a longer table the page says how long it is."""


def prove_elsewhere(reader: Reader, trees: dict[str, Any], rulebook_id: str, entries: list[Entry],
                    name: str) -> Iterator[Objection]:  # fmt: skip
    """Objections to what the pages say of the rulebooks beside the one in force.

    Args:
        reader: the catalogue in the book's language.
        trees: the book's pages by name.
        rulebook_id: the rulebook in force.
        entries: the defects that it speaks of.
        name: how the book is named in objections.
    """
    others = [rulebook for rulebook in reader.catalogue.rulebooks if rulebook.id != rulebook_id]
    found: dict[str, list[tuple[str, Any]]] = {}
    for page, tree in trees.items():
        for block in tree.iterfind(".//*[@data-elsewhere]"):
            found.setdefault(block.get("data-elsewhere"), []).append((page, block))
    for entry in entries if others else ():
        page = f"components/{entry.component.id}.html"
        places = found.pop(entry.id, [])
        if [where for where, _ in places] != [page]:
            yield Objection(f"{name}/{page}", entry.id, "does not say once what other rulebooks say of it")
            continue
        required = [reader.word("across-elsewhere")]
        block = places[0][1]
        leads_on = block.find(".//*[@class='elsewhere__open']") is not None  # a site of one book has nowhere to lead
        for rulebook in others:
            required += _said(reader, entry, rulebook)
            if leads_on and entry.rulings_under(rulebook.id):
                name_there = in_language(rulebook.short_name, reader.language)
                required.append(reader.word("across-open").replace("{rulebook}", name_there))
        result = compare(" ".join(block.itertext()), required, reader.neutral_words)
        for text in result.missing:
            yield Objection(f"{name}/{page}", entry.id, f"does not say of other rulebooks: {text}")
        for text in result.beyond:
            yield Objection(f"{name}/{page}", entry.id, f"says of other rulebooks what the catalogue does not: {text}")
        yield from _order(reader, block, others, entry, f"{name}/{page}")
    for entry_id, places in found.items():
        yield Objection(f"{name}/{places[0][0]}", str(entry_id), "is told of other rulebooks, and does not stand here")


def _order(reader: Reader, block: Any, others: list[RulebookRecord], entry: Entry, output: str) -> Iterator[Objection]:
    """Each answer stands under its own rulebook."""
    sides = list(block.iterfind(".//*[@class='side']"))
    if len(sides) != len(others):
        yield Objection(output, entry.id, f"speaks of {len(sides)} other rulebooks, not {len(others)}")
        return
    for side, rulebook in zip(sides, others, strict=True):
        result = compare(" ".join(side.itertext()), _said(reader, entry, rulebook), reader.neutral_words)
        for text in (*result.missing, *result.beyond):
            yield Objection(output, entry.id, f"does not say under {rulebook.id} what it says: {text}")


def _said(reader: Reader, entry: Entry, rulebook: RulebookRecord) -> Iterator[str]:
    """What a rulebook says of a defect; the same words may stand more than once."""
    yield in_language(rulebook.short_name, reader.language)
    rulings = entry.rulings_under(rulebook.id)
    for ruling in rulings:
        yield from _ruling(reader, ruling)
    if not rulings:
        yield reader.word("across-absent")
    for limit in entry.limits:
        yield from _figures(reader, limit, rulebook.id)


def _ruling(reader: Reader, ruling: Ruling) -> Iterator[str]:
    yield from reader.outcome(ruling)
    if ruling.item.basis == "from-memory":
        yield reader.word("not-confirmed")
    yield locator_in(reader.catalogue, ruling.item.locator, reader.language)
    yield reader.word(f"fit-{ruling.fit}")
    for text in (ruling.item.remark, ruling.remark):
        if text:
            yield in_language(text, reader.language)


def _figures(reader: Reader, limit: LimitRecord, rulebook_id: str) -> Iterator[str]:
    rows = [row for row in limit.rows if row.rulebook == rulebook_id]
    if not rows:
        return
    yield in_language(limit.quantity, reader.language)
    if len(rows) > MOST_FIGURES:
        yield reader.word("across-more-figures").replace("{number}", str(len(rows)))
        return
    for row in rows:
        yield in_language(row.label, reader.language)
        yield in_language(row.printed, reader.language)
        if limit.compare != "between":
            yield reader.word(f"compare-{limit.compare}")
