"""What a carrier asks to have printed: each document once, and nothing asked for that has no effect.

A key without effect is a promise that no print keeps: whoever writes `format: visor` beside a checklist expects one of
that size.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from ..catalogue.card_kinds import CARD_KINDS
from ..catalogue.carrier import DocumentRecord
from ..faults import Fault, quoted
from ..tables import Table
from .walk import listed

OF_A_DECK = ("format", "paper", "duplex", "marks", "ink", "punch")
"""Keys that only cards go by; `languages` of another document is told by the check of two languages. Checklists and report
forms are as wide as A4 and as high as letter, and print on both."""
OF_A_CHECKLIST = ("variant",)
WITHOUT_EFFECT = {"deck": OF_A_CHECKLIST, "checklist": OF_A_DECK, "report": (*OF_A_DECK, *OF_A_CHECKLIST)}


def find(table: Table, carrier: dict[str, Any]) -> Iterator[Fault]:
    """What is wrong with the documents that a carrier asks for."""
    first: dict[tuple[Any, ...], str] = {}
    for at, document in listed(table, carrier, ("carrier",), "documents"):
        what = document.get("what")
        if not isinstance(what, str) or what not in WITHOUT_EFFECT:
            continue  # told by the shape
        for key in WITHOUT_EFFECT[what]:
            if key in document:
                kind = "deck" if key in OF_A_DECK else "checklist"
                yield Fault(table.key_place((*at, key)), "without-effect", f"{quoted(key)} changes nothing for a {what}",
                            f"it is for a {kind} only, and the {what} would come out otherwise than it is asked for here",
                            f"remove the key, or write it with what: {kind}", level="warning")  # fmt: skip
        where = str(table.place(at))
        print_of = _print_of(what, document)
        if print_of in first:
            yield Fault(table.place(at), "same-document", f"this {what} is asked for twice, first at {first[print_of]}",
                        "both would be written under one name", "remove one of the two, or change what tells them apart")  # fmt: skip
        first.setdefault(print_of, where)


def _print_of(what: str, document: dict[str, Any]) -> tuple[Any, ...]:
    """What tells one print from another: the keys that have an effect, each as written or as taken where it is not."""
    keys = {"deck": (*OF_A_DECK, "languages"), "checklist": OF_A_CHECKLIST, "report": ()}[what]
    asked = {key: str(document.get(key) or DocumentRecord.model_fields[key].default) for key in keys}
    kind = CARD_KINDS.get(asked.get("format", ""))
    if (kind and kind.of_sheet == "whole") or asked.get("marks") == "press":
        asked.pop("duplex", None)  # one face to a page
    return (what, *asked.items())
