"""The proof of what was printed for carriers: files, register, catalogue and the carriers' own files agree."""

from __future__ import annotations

import csv
import hashlib
import json
import os
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from pypdfium2 import PdfiumError

from ..catalogue import Catalogue
from ..catalogue.carrier import CarrierRecord, DocumentRecord, UnitRecord
from ..catalogue.taken import Taken, print_code, taken
from ..faults import counted
from ..workers import catalogue_at_work, workers
from .carrier_cards import address_of, prove_deck
from .carrier_sheets import Strangers, prove_carrier_report, prove_unit_checklist
from .code import prove_code
from .objection import Objection
from .read_pdf import read_pdf

REGISTER = "register.csv"
COLUMNS = ("path", "document", "carrier", "unit", "rulebook", "language", "edition", "pages", "cards", "sha256")
Row = dict[str, str]
Progress = Callable[[int, int, str], None]


@dataclass(frozen=True)
class CarrierProof:
    """What the proof looked at, and what it objects to."""

    carriers: int
    documents: int
    objections: tuple[Objection, ...]

    def summary(self) -> str:
        """One line: how much was compared, and with what result."""
        looked = f"{counted(self.documents, 'document')} of {counted(self.carriers, 'carrier')}"
        if not self.objections:
            return f"proved: {looked}: all agree with the catalogue and the carriers' files"
        return f"not proved: {looked}: {counted(len(self.objections), 'objection')}"


def prove_carriers(
    catalogue: Catalogue,
    carriers: Iterable[CarrierRecord],
    folder: Path,
    site: Path | None = None,
    only: Iterable[str] | None = None,
    processes: int | None = None,
    progress: Progress = lambda done, count, carrier: None,
    not_printed: Iterable[tuple[str, int]] = (),
) -> CarrierProof:
    """Open what was printed for carriers again, and compare it with the catalogue and the carriers' own files.

    Args:
        catalogue: what is true of defects.
        carriers: all carriers there are: none may be named on another's documents.
        folder: of the prints, with their register.
        site: the built site; where it is given, a code has to lead to a page that is there.
        only: ids of the carriers whose documents are opened; all that the register names where it is left out.
        processes: as many as there are cores where left out; 1 for this one alone.
        progress: called after each carrier.
        not_printed: documents of which it was told that they could not be printed, by the carrier's id and their number
            in its file, from 0; the register may lack them.
    """
    everyone = tuple(carriers)
    lacking = frozenset(not_printed)
    rows, objections = _register(folder)
    chosen = {row["carrier"] for row in rows} if only is None else set(only)
    of_carrier: dict[str, list[Row]] = {}
    for row in rows:
        of_carrier.setdefault(row["carrier"], []).append(row)
    tasks = [(carrier, of_carrier.get(carrier.id, [])) for carrier in everyone if carrier.id in chosen]
    parts = [tasks[n : n + AT_ONCE] for n in range(0, len(tasks), AT_ONCE)]
    strangers = Strangers(catalogue, everyone)
    processes = min(processes or os.cpu_count() or 1, max(1, len(tasks)))
    done = 0
    with workers(catalogue, processes) as pool:
        judged = pool.map(_judge, [(part, folder, site, strangers, lacking) for part in parts])
        for part, found in zip(parts, judged, strict=True):
            objections += found
            for carrier, _ in part:
                done += 1
                progress(done, len(tasks), carrier.id)
    return CarrierProof(len(tasks), sum(len(listed) for _, listed in tasks), tuple(objections))


AT_ONCE = 4
"""Carriers that a process takes at a time."""
Task = tuple[CarrierRecord, list[Row]]


def _register(folder: Path) -> tuple[list[Row], list[Objection]]:
    """The current rows of the register, and what of them does not agree with the files that stand in the folder."""
    try:
        with (folder / REGISTER).open(encoding="utf-8", newline="") as file:
            rows = [{key: value or "" for key, value in row.items() if key} for row in csv.DictReader(file)]
    except (OSError, ValueError, csv.Error) as error:
        return [], [Objection(REGISTER, "file", f"cannot be read: {error}")]
    if rows and not set(COLUMNS) <= set(rows[0]):
        return [], [Objection(REGISTER, "columns", f"lacks {', '.join(sorted(set(COLUMNS) - set(rows[0])))}")]
    strange = [row for row in rows if row.get("state", "current") not in ("current", "replaced")]
    rows = [row for row in rows if row.get("state", "current") != "replaced"]  # of those, no file stands any more
    listed = {row["path"] for row in rows}
    standing = {path.relative_to(folder).as_posix() for path in folder.glob("*/**/*.pdf")}
    found = [Objection(REGISTER, path, "is listed and is not there") for path in sorted(listed - standing)]
    found += [Objection(REGISTER, row["path"], f"is in a state {row['state']!r}, of which nothing is known") for row in strange]
    found += [Objection(REGISTER, path, "is there and is not listed") for path in sorted(standing - listed)]
    times = Counter(row["path"] for row in rows)
    found += [Objection(REGISTER, path, "is listed twice") for path, n in sorted(times.items()) if n > 1]
    return rows, found


def _judge(task: tuple[list[Task], Path, Path | None, Strangers, frozenset[tuple[str, int]]]) -> list[Objection]:
    part, folder, site, strangers, lacking = task
    catalogue = catalogue_at_work()
    found: list[Objection] = []
    for carrier, rows in part:
        found += _asked_for(carrier, rows, {number for name, number in lacking if name == carrier.id})
        found += _documents(catalogue, carrier, rows, folder, site, strangers)
    return found


def _asked_for(carrier: CarrierRecord, rows: list[Row], lacking: set[int]) -> Iterator[Objection]:
    """Every document that the carrier's file asks for is in the register, those that are known to lack apart, and no other."""
    asked = {(kind_of(document), unit, rulebook, "+".join(languages))
             for document in carrier.documents for rulebook in carrier.rulebooks
             for unit in ([""] if document.what == "report" else [unit.id for unit in carrier.units])
             for languages in ([[one] for one in carrier.languages] if document.languages == "each"
                               else [carrier.languages])}  # fmt: skip
    listed = {(row["document"], row["unit"], row["rulebook"], row["language"]) for row in rows}
    known = {kind_of(carrier.documents[number]) for number in lacking}
    for document, unit, rulebook, language in sorted(one for one in asked - listed if one[0] not in known):
        yield Objection(REGISTER, carrier.id, f"lacks {document} {unit} {rulebook} {language}")
    for document, unit, rulebook, language in sorted(listed - asked):
        yield Objection(REGISTER, carrier.id, f"has {document} {unit} {rulebook} {language}, which nobody asked for")


def kind_of(document: DocumentRecord) -> str:
    """What the register calls a document, as the carrier's file describes it."""
    if document.what != "deck":
        return "report" if document.what == "report" else f"checklist-{document.variant}"
    words = [document.format, "press"] if document.marks == "press" and document.card.of_sheet != "whole" else [document.format]
    words.append(document.paper)
    if document.marks != "press" and document.card.of_sheet != "whole":
        words.append(document.duplex)
    return "-".join(["deck", *words, *(["mono"] if document.ink == "mono" else []),
                     *([f"punch-{document.punch}"] if document.punch != "none" else []),
                     *([document.languages] if document.languages != "each" else [])])  # fmt: skip


def _documents(
    catalogue: Catalogue, carrier: CarrierRecord, rows: list[Row], folder: Path, site: Path | None, strangers: Strangers
) -> Iterator[Objection]:
    units = {unit.id: unit for unit in carrier.units}
    documents = {kind_of(document): document for document in carrier.documents}
    for row in rows:
        name, unit, document = row["path"], units.get(row["unit"]), documents.get(row["document"])
        if document is None or (unit is None and document.what != "report"):
            continue  # told already: nobody asked for it
        if row["rulebook"] not in carrier.rulebooks or not set(row["language"].split("+")) <= set(carrier.languages):
            continue
        try:
            pdf = (folder / name).read_bytes()
            if hashlib.sha256(pdf).hexdigest() != row["sha256"]:
                yield Objection(name, "sha256", "is not the file that the register lists")
            own = taken(carrier, unit, row["document"], row["language"].split("+"), catalogue.publisher.base_address)
            yield from _own_file(row, own)
            if row["edition"] != catalogue.edition.code:
                now = catalogue.edition.code
                yield Objection(name, "edition", f"is {row['edition']} in the register, and {now} in force")
            yield from _document(catalogue, carrier, unit, document, row, pdf, strangers, print_code(own))
            if document.what == "deck" and not document.card.is_index:
                yield from _code(catalogue, carrier, row, pdf, site)
        except (OSError, PdfiumError, ValueError) as error:
            yield Objection(name, "file", f"cannot be read: {error}")


def _own_file(row: Row, own: Taken) -> Iterator[Objection]:
    """What the register says that a print took from its carrier's file is what stands there."""
    try:
        listed = json.loads(row.get("own_file") or "{}")
    except (ValueError, RecursionError):
        listed = None
    if not isinstance(listed, dict):
        yield Objection(row["path"], "own_file", "is nothing that can be read in the register")
        return
    for key in own:
        if listed.get(key) != own[key]:
            yield Objection(row["path"], key, "is other in the carrier's file than in the register")
    code = print_code(own)
    if row.get("print_code") != code:
        yield Objection(row["path"], "print_code", f"is {row.get('print_code')!r} in the register, and {code} by the carrier's file")


def _document(
    catalogue: Catalogue, carrier: CarrierRecord, unit: UnitRecord | None, document: DocumentRecord, row: Row,
    pdf: bytes, strangers: Strangers, code: str,
) -> Iterator[Objection]:  # fmt: skip
    name, rulebook, languages = row["path"], row["rulebook"], tuple(row["language"].split("+"))
    reading = read_pdf(pdf)
    if row["pages"] != str(len(reading.pages)):
        yield Objection(name, "pages", f"are {len(reading.pages)}, and {row['pages']} in the register")
    if document.what == "deck" and unit is not None:
        cards = int(row["cards"])
        yield from prove_deck(catalogue, carrier, unit, document, reading, name, rulebook, languages, cards, code)
        return
    if row["cards"] != "0":
        yield Objection(name, "cards", f"are {row['cards']} in the register, and it has none")
    yield from strangers.in_text(reading.text + "".join(reading.furniture), carrier, name)
    if unit is None:
        yield from prove_carrier_report(catalogue, carrier, reading, name, rulebook, languages[0], code)
    else:
        writes = document.variant != "laminated"
        yield from prove_unit_checklist(catalogue, carrier, unit, reading, name, rulebook, languages[0], writes, code)


def _code(
    catalogue: Catalogue, carrier: CarrierRecord, row: Row, pdf: bytes, site: Path | None
) -> Iterator[Objection]:
    """The code leads to the page of the deck's book that says whether it is current; the site has that page."""
    base = carrier.base_address or catalogue.publisher.base_address
    language = row["language"].split("+")[0]
    yield from prove_code(pdf, row["path"], address_of(catalogue, base, row["rulebook"], language) if base else None)
    page = address_of(catalogue, "", row["rulebook"], language).split("#")[0]
    if base and site is not None and not (site / page).is_file():
        yield Objection(row["path"], "code", f"leads to {page}, which the site does not have")
