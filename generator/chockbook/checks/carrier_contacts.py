"""Whom a carrier's drivers call: in every language of its documents, and each with a number of their own."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from ..faults import Fault, quoted
from ..tables import Table
from .walk import listed, said, texts

_WORD = re.compile(r"[^\W\d_]{2,}")
"""What belongs to a language: "day and night", and neither "06:00-18:00" nor "7 h"."""


def find(table: Table, carrier: dict[str, Any], known: list[str]) -> Iterator[Fault]:
    """What is wrong with a carrier's contacts.

    Args:
        table: the carrier's file.
        carrier: the carrier as read.
        known: codes of the languages that the tables have.
    """
    languages = [language for _, language in texts(carrier, ("carrier",), "languages") if language in known]
    called: dict[str, str] = {}
    for at, contact in listed(table, carrier, ("carrier",), "contacts"):
        for key in ("name", "hours"):
            written = contact.get(key)
            missing = [one for one in languages if one not in written] if isinstance(written, dict) else []
            if missing:
                yield Fault(table.place((*at, key)), "contact-language",
                            f"{quoted(key)} of a contact has no text in {' and '.join(missing)}",
                            "the carrier's documents in that language would show another one",
                            f"add {missing[0]}: and the text, or write one text for all languages")  # fmt: skip
        hours = said(contact, "hours")
        if hours and len(languages) > 1 and _WORD.search(hours):
            by_language = ", ".join(f'{code}: "..."' for code in languages)
            yield Fault(table.place((*at, "hours")), "contact-language",
                        f"{quoted(hours)} is printed in {' and '.join(languages)} alike",
                        "whoever reads one of these languages would not know when somebody answers",
                        f"write {{{by_language}}}, or figures such as 06:00-18:00", level="warning")  # fmt: skip
        number = re.sub(r"[^0-9x]", "", said(contact, "phone") or "")
        if number:
            where = table.place((*at, "phone"))
            if number in called:
                yield Fault(where, "same-phone", f"{quoted(contact['phone'])} is the number of two contacts, the first at {called[number]}",
                            "whoever is not answered by one would call the same telephone again",
                            "write the number of each, or remove one of the two", level="warning")  # fmt: skip
            called.setdefault(number, str(where))
