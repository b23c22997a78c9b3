"""The carriers that documents are printed for: one file each, and a bad one never stops the others.

A carrier's file is named after it, so that a fault, a folder and a line of the register lead to each other.
Rulebooks and languages are those of the catalogue. A deck in two languages is one that its cards can hold; a hole is
for cards on a ring. No two units of a carrier have the same id, since each has a folder of its own. What a unit is made
up of is a unit's that leaves a yard (carrier_units).
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, cast, get_args

from ..catalogue import Catalogue
from ..catalogue.card_kinds import CARD_KINDS
from ..catalogue.carrier import CarrierRecord, CarrierTable
from ..catalogue.two_languages import Way, no_room
from ..faults import Fault, Place, errors, in_order, quoted, without_echoes
from ..tables import Table, read_table, validate_shape
from ..tables.shape import suggest
from . import carrier_contacts, carrier_documents, carrier_units
from .file_names import free_names
from .letters import find_in as find_letters
from .walk import listed, texts

MEANT_AS_TABLE = re.compile(r"\.ya?ml(\.txt)?$", re.IGNORECASE)
"""How files end that some editors make of a table."""


@dataclass(frozen=True)
class Carriers:
    """What came of reading the carriers."""

    carriers: tuple[CarrierRecord, ...]
    """Those without an error, in the order of their files."""
    faults: list[Fault]
    tables: dict[str, Table] = field(default_factory=dict)
    """The file of each, which knows where a thing stands in it."""


def assemble_carriers(folder: Path, catalogue: Catalogue) -> Carriers:
    """Read and check every carrier of a folder, such as source_tables/carriers. A missing folder has none."""
    good: list[CarrierRecord] = []
    tables: dict[str, Table] = {}
    found: list[Fault] = []
    for path in sorted(folder.glob("*.yaml")):
        table = read_table(path, f"{folder.parent.name}/{folder.name}/{path.name}")
        shaped = cast("CarrierTable | None", validate_shape(table, CarrierTable))
        faults = without_echoes([*table.faults, *find(table, path.stem, catalogue)])
        found += faults
        if shaped is not None and not errors(faults):
            good.append(shaped.carrier)
            tables[shaped.carrier.id] = table
    found += _passed_over(folder)
    return Carriers(tuple(good), in_order(found), tables)


def _passed_over(folder: Path) -> Iterator[Fault]:
    """Files that are meant as carriers, by their names, and are not read as such."""
    read = set(folder.glob("*.yaml"))  # some systems take capitals for small letters
    for path in sorted(folder.glob("*")):
        if path not in read and MEANT_AS_TABLE.search(path.name) and not path.name.startswith("."):
            yield Fault(Place(f"{folder.parent.name}/{folder.name}/{path.name}"), "carrier-file",
                        f"the file {quoted(path.name)} is not read", "only a name that ends in .yaml is that of a carrier",
                        f"name it {quoted(MEANT_AS_TABLE.sub('', path.name) + '.yaml')}")  # fmt: skip


def find(table: Table, stem: str, catalogue: Catalogue) -> Iterator[Fault]:
    """What is wrong with one carrier beside its shape."""
    carrier = table.data.get("carrier") if isinstance(table.data, dict) else None
    if not isinstance(carrier, dict):
        return
    at = ("carrier",)
    yield from find_letters(table)
    yield from free_names(table, [(at, carrier), *listed(table, carrier, at, "units")])
    name = carrier.get("id")
    if isinstance(name, str) and name != stem:
        yield Fault(table.place((*at, "id")), "carrier-file", f"the carrier {quoted(name)} stands in {quoted(stem + '.yaml')}",
                    "its documents could not be found by the file's name",
                    f"write {quoted(stem)} here, or give the file the carrier's id as its name")  # fmt: skip
    for key, kind, known in (
        ("rulebooks", "rulebook", [rulebook.id for rulebook in catalogue.rulebooks]),
        ("languages", "language", [language.code for language in catalogue.languages]),
    ):
        seen: set[str] = set()
        for place, value in texts(carrier, at, key):
            if value not in known:
                yield Fault(table.place(place), "unknown-reference", f"there is no {kind} {quoted(value)}",
                            "the carrier's documents could not be made", suggest(value, known),
                            touches=(f"value at {table.place(place)}",))  # fmt: skip
            elif value in seen:
                yield Fault(table.place(place), "duplicate-id", f"the {kind} {quoted(value)} stands here twice",
                            "each document would be made twice under one name", "remove one of the two")  # fmt: skip
            seen.add(value)
    yield from carrier_contacts.find(table, carrier, [language.code for language in catalogue.languages])
    yield from _two_languages(table, carrier)
    yield from _punch(table, carrier)
    yield from _not_encrypted(table, carrier)
    yield from carrier_documents.find(table, carrier)
    yield from carrier_units.find(table, carrier, catalogue)
    first: dict[str, str] = {}
    for unit_at, unit in listed(table, carrier, at, "units"):
        unit_id = unit.get("id")
        if isinstance(unit_id, str):
            where = table.place((*unit_at, "id"))
            if unit_id in first:
                yield Fault(where, "duplicate-id", f"{quoted(unit_id)} is the id of two units, the first at {first[unit_id]}",
                            "the documents of one would take the place of the other's",
                            "give one of them another id")  # fmt: skip
            first.setdefault(unit_id, str(where))


def _not_encrypted(table: Table, carrier: dict[str, Any]) -> Iterator[Fault]:
    """A site that codes on cards lead to is one that phones keep, which they do over https alone."""
    address = carrier.get("base_address")
    if isinstance(address, str) and address.startswith("http:"):
        yield Fault(table.place(("carrier", "base_address")), "plain-http", "the address of the site is not encrypted (http)",
                    "phones keep a site for offline use over https only", "write https if the site has it", level="warning")  # fmt: skip


def _punch(table: Table, carrier: dict[str, Any]) -> Iterator[Fault]:
    """Room for a hole is asked for where cards go on a ring."""
    ring = [name for name, kind in CARD_KINDS.items() if kind.on_ring]
    for document_at, document in listed(table, carrier, ("carrier",), "documents"):
        if document.get("punch", "none") == "none" or document.get("format", "card") in ring:
            continue
        yield Fault(table.place((*document_at, "punch")), "punch", f"a hole is asked for in the format {document['format']}",
                    "only small cards go on a ring: a wallet card has no room for a hole, a visor card or a wall sheet no use for one",
                    f"leave this key out, or take the format {', '.join(ring[:-1])} or {ring[-1]}")  # fmt: skip


def _two_languages(table: Table, carrier: dict[str, Any]) -> Iterator[Fault]:
    """Decks that are to hold two languages: the carrier has exactly two, and the cards have room for both."""
    at = ("carrier",)
    n_languages = len({language for _, language in texts(carrier, at, "languages")})
    for document_at, document in listed(table, carrier, at, "documents"):
        way = document.get("languages", "each")
        if way not in get_args(Way):
            continue
        place = table.place((*document_at, "languages"))
        why = no_room(way, str(document.get("format", "card")), str(document.get("duplex", "long-edge")))
        if document.get("what") != "deck":
            yield Fault(place, "two-languages", f"a {document.get('what')} is asked for in two languages at once",
                        "only the cards of a deck can hold two languages",
                        "leave this key out: each language then has its own")  # fmt: skip
        elif n_languages != 2:
            yield Fault(place, "two-languages", f"a deck is asked for in two languages, and the carrier has {n_languages}",
                        "each card holds the carrier's two languages",
                        "name two languages of the carrier, or write languages: each here")  # fmt: skip
        elif why is not None:
            yield Fault(place, "two-languages", why[0], "the deck could not be printed", why[1])
