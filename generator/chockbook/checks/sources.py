"""Sources are looked at again in time, facts from memory do not stand for ever, and links and places look right.

All of these are warnings: they tell whoever keeps the tables what to do next, and change no output.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date, timedelta
from typing import Any
from urllib.parse import urlsplit

from ..catalogue.record import ADDRESS_PATTERN
from ..faults import Fault, quoted
from ..tables import Steps
from .dates import day_of
from .standing import with_basis
from .walk import Tables, named, records

NAMED_PLACE = re.compile(r"\d|§|\b[IVXLC]+\b|\b(?:schedule|annex|annexe|appendix|part|list)s? [A-Z]\b", re.IGNORECASE)
"""A section, part or page: a number, a Roman number, or the letter of a schedule."""
EXACT = ("law", "standard")
"""Kinds of source in which every place has a number."""
SHOWN = 3
"""Ids that a warning about many facts names."""


def find(tables: Tables, today: date | None = None) -> Iterator[Fault]:
    """A warning for each source due for review, link that looks wrong, place without a number, and rulebook of which
    facts stand from memory for longer than its grace.

    Args:
        tables: the tables as read.
        today: the day to judge by; the machine's day where it is left out.
    """
    day = today or date.today()
    for at, source in records(tables, "sources.yaml", "sources"):
        due = day_of(source.get("review_by"))
        if due and due < day:
            yield Fault(tables["sources.yaml"].place((*at, "review_by")), "source-review",
                        f"the source {quoted(named(source))} was to be looked at again by {due}",
                        "what rests on it may no longer be what it says",
                        "look at it again, then write checked_on and a later review_by", "warning")  # fmt: skip
        yield from _link(tables, at, source)
    yield from _memory(tables, day)
    yield from _places(tables)


def _link(tables: Tables, at: Steps, source: dict[str, Any]) -> Iterator[Fault]:
    address = source.get("url")
    if not isinstance(address, str) or not re.match(ADDRESS_PATTERN, address):
        return  # told where the shape is checked
    try:
        parts = urlsplit(address)
        host = (parts.hostname or "").lower()
    except ValueError:
        host, parts = "", None
    place = tables["sources.yaml"].place((*at, "url"))
    about = f"the address of {quoted(named(source))}"
    if parts is None or "." not in host or re.fullmatch(r"[0-9.]+", host) or parts.username or host.endswith("."):
        yield Fault(place, "source-link", f"{about} has no host that a reader could know: {quoted(host)}",
                    "a reader could not tell whose site it is", "write the issuer's own address", "warning")  # fmt: skip
        return
    named_host = source.get("host")
    if isinstance(named_host, str) and host != named_host and not host.endswith(f".{named_host}"):
        yield Fault(place, "source-link", f"{about} is at {quoted(host)}, and its issuer is at {quoted(named_host)}",
                    "a copy elsewhere may be old or changed",
                    "write the issuer's own address, or make the copy a source of its own", "warning")  # fmt: skip
    if parts.scheme == "http":
        yield Fault(place, "source-link", f"{about} is not encrypted (http)",
                    "what a reader is shown could be changed on its way",
                    "write https if the site has it", "warning")  # fmt: skip


def _memory(tables: Tables, day: date) -> Iterator[Fault]:
    """The grace stands at the rulebook: memory_since and memory_days."""
    table = tables["rulebooks.yaml"]
    for at, rulebook in records(tables, "rulebooks.yaml", "rulebooks"):
        since, days = day_of(rulebook.get("memory_since")), str(rulebook.get("memory_days") or "")
        if not since or not re.fullmatch(r"[0-9]{1,4}", days):
            continue
        until = since + timedelta(days=int(days))
        facts = [named(one) for _, one in with_basis(rulebook, ()) if one.get("basis") == "from-memory"]
        if until < day and facts:
            shown = ", ".join(facts[:SHOWN]) + (", …" if len(facts) > SHOWN else "")
            yield Fault(table.place((*at, "memory_days")), "memory-grace",
                        f"{len(facts)} facts of {quoted(named(rulebook))} still stand from memory; their grace ended on "
                        f"{until}: {shown}", "nobody has seen them in a source since they were written",
                        "read them in a source, or take them out; chockbook sources --basis counts them",
                        "warning")  # fmt: skip


def _places(tables: Tables) -> Iterator[Fault]:
    exact = {s.get("id") for _, s in records(tables, "sources.yaml", "sources") if s.get("kind") in EXACT}
    for file in ("rulebooks.yaml", "limits.yaml", "jurisdictions.yaml"):
        for at, record in with_basis(tables[file].data, ()):
            locator = record.get("locator")
            if (record.get("basis") == "published" and record.get("source") in exact and isinstance(locator, str)
                    and not NAMED_PLACE.search(locator)):  # fmt: skip
                yield Fault(tables[file].place((*at, "locator")), "locator",
                            f"the place {quoted(locator)} has no number of a section, part or page",
                            "a reader could not find it in the source",
                            "write the section as the source numbers it", "warning")  # fmt: skip
