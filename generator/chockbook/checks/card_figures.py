"""Figures for cards: each belongs to a defect that names its limit, to a rulebook, and is told apart from others."""

from __future__ import annotations

from collections.abc import Iterator

from ..faults import Fault, quoted
from ..tables import Steps
from .walk import Tables, listed, records, texts

RULE = "card-figure"


def find(tables: Tables) -> Iterator[Fault]:
    """An error for each figure that a card cannot carry as the table has it."""
    table = tables["limits.yaml"]
    named = {defect["id"]: {name for _, name in texts(defect, at, "limits")}
             for at, defect in records(tables, "catalogue.yaml", "defects") if isinstance(defect.get("id"), str)}  # fmt: skip
    known = {limit.get("id") for _, limit in records(tables, "limits.yaml", "limits")}
    carried: dict[tuple[str, str], list[tuple[Steps, bool]]] = {}
    for at, limit in records(tables, "limits.yaml", "limits"):
        for row_at, row in listed(table, limit, at, "rows"):
            card = row.get("card")
            if not isinstance(card, dict):
                continue
            card_at, rulebook = (*row_at, "card"), row.get("rulebook")
            if not isinstance(rulebook, str):
                yield Fault(table.place(card_at), RULE, "a figure without a rulebook is put on cards",
                            "a card carries the figures of its own rulebook only",
                            "take card away, or name the rulebook whose figure this is")  # fmt: skip
                continue
            for entry_at, entry in texts(card, card_at, "entries"):
                if named.get(entry, known) - known:
                    continue  # a limit that the defect misspells is told of there, and may be this one
                if limit.get("id") not in named.get(entry, set()):
                    yield Fault(table.place(entry_at), RULE,
                                f"{quoted(entry)} is no defect that names the limit {quoted(limit.get('id'))}",
                                "the card would give a figure that does not decide the defect",
                                "name a defect that has this limit among its limits")  # fmt: skip
                    continue
                carried.setdefault((entry, rulebook), []).append((card_at, bool(card.get("place"))))
    for (entry, rulebook), places in carried.items():
        for card_at, told_apart in places if len(places) > 1 else ():
            if not told_apart:
                yield Fault(table.place(card_at), RULE,
                            f"{quoted(entry)} has several figures of {quoted(rulebook)}, and this one has no place",
                            "nobody could tell on the card which figure holds where",
                            "give each of them a place, such as steering axle")  # fmt: skip
