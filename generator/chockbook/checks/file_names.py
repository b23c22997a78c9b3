"""Ids that become names of files and folders are names that every system can keep.

Windows keeps no file called con.html or nul.pdf, and takes fr-CA and fr-ca for one folder; a page called index
would take the place of the list of its kind.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from ..faults import Fault, quoted
from ..tables import Table
from .walk import Found, Tables, listed, records, said

RULE = "reserved-name"
RESERVED = frozenset(["con", "prn", "aux", "nul", *(f"{port}{n}" for port in ("com", "lpt") for n in range(10))])
"""Names of devices, with which no file of Windows can begin (Microsoft, Naming Files, Paths, and Namespaces)."""
_LISTS = frozenset(["index"])
_OF_THE_SITE = _LISTS | {"actions", "assets", "compare", "components", "route", "search", "severity"}
"""Folders of the first book, beside which those of the other rulebooks stand."""


def find(tables: Tables) -> Iterator[Fault]:
    """A fault for each id that cannot be the name of its page or folder."""
    file = "catalogue.yaml"
    yield from free_names(tables[file], records(tables, file, "components"), _LISTS)
    yield from free_names(tables["route.yaml"], records(tables, "route.yaml", "stations"), _LISTS)
    table = tables["rulebooks.yaml"]
    for at, rulebook in records(tables, "rulebooks.yaml", "rulebooks"):
        yield from free_names(table, [(at, rulebook)], _OF_THE_SITE)
        for key in ("severities", "actions"):
            yield from free_names(table, listed(table, rulebook, at, key), _LISTS)
    yield from _languages(tables)


def free_names(table: Table, found: Iterable[Found], taken: frozenset[str] = frozenset()) -> Iterator[Fault]:
    """A fault for each record whose id is a reserved name, or one that is taken."""
    for at, record in found:
        name = said(record, "id")
        if name is not None and (name.lower() in RESERVED or name in taken):
            yield Fault(table.place((*at, "id")), RULE, f"{quoted(name)} cannot be an id here",
                        "the id becomes the name of a file or folder, and this name is taken on the site or by Windows",
                        "write another id, such as one with a second word")  # fmt: skip


def _languages(tables: Tables) -> Iterator[Fault]:
    first: dict[str, str] = {}
    table = tables["words.yaml"]
    for at, language in records(tables, "words.yaml", "languages"):
        code = said(language, "code")
        if code is None:
            continue
        place = table.place((*at, "code"))
        if code.lower() in RESERVED or code.lower() in first:
            why = f"is the language at {first[code.lower()]} again" if code.lower() in first else "cannot be a language here"
            yield Fault(place, RULE, f"{quoted(code)} {why}", "the code becomes the name of a folder, in which case is no difference",
                        "remove it, or write another code")  # fmt: skip
        first.setdefault(code.lower(), str(place))
