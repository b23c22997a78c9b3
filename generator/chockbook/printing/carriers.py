"""Everything that carriers print: each carrier's documents in a folder of its own, and a register of them all."""

from __future__ import annotations

import hashlib
import json
import os
import tempfile
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import FIRST_COMPLETED, wait
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from .. import __version__
from ..catalogue import Catalogue
from ..catalogue.carrier import CarrierRecord
from ..resources import templates
from ..workers import catalogue_at_work
from ..workers import workers as sharing_out
from .carrier_documents import NotPrinted, print_carrier
from .register import MADE, is_whole, read_made, write_register

__all__ = ["MADE", "CarrierPrint", "cards_for_carriers", "print_carrier"]

AHEAD = 3
"""Carriers handed to each process before the first of them is done; more would only fill memory."""

Outcome = tuple[str, dict[str, Any] | None, str, int]
"""A carrier's id, what was made for it, or why nothing was and for which of its documents."""
Progress = Callable[[int, int, str], None]
"""Takes carriers done, carriers in all, and the one just done."""


@dataclass
class CarrierPrint:
    """What came of printing for carriers."""

    made: list[str] = field(default_factory=list)
    """Ids of carriers whose documents were made."""
    kept: list[str] = field(default_factory=list)
    """Ids of carriers of whose documents nothing had changed."""
    failed: list[tuple[str, str]] = field(default_factory=list)
    """Ids of carriers of which a document could not be printed, and why; once for each such document."""
    failed_at: list[int] = field(default_factory=list)
    """Of each of these, which of the carrier's documents it is, counted from 0."""
    unproved: list[str] = field(default_factory=list)
    """Ids of carriers whose documents stand, and have not been proved since they were made."""
    notices: list[str] = field(default_factory=list)
    """What whoever prints is told, such as that a deck has too many cards for its format."""
    documents: int = 0
    register: Path | None = None

    @property
    def not_printed(self) -> set[tuple[str, int]]:
        """Documents that could not be printed for some unit or in some language: the carrier's id, and which it is."""
        return {(carrier, number) for (carrier, _), number in zip(self.failed, self.failed_at, strict=True)}


def cards_for_carriers(
    catalogue: Catalogue,
    carriers: Iterable[CarrierRecord],
    folder: Path,
    workers: int | None = None,
    progress: Progress = lambda done, count, carrier: None,
) -> CarrierPrint:
    """Print what carriers ask for, several carriers at a time.

    A carrier that fails does not stop the others, nor a document the others of its carrier. What was made of a carrier
    is noted when all of it is done, so that a stopped run goes on where it was and an unchanged carrier is not made
    again. The register lists what stands in the folder for these carriers.

    Args:
        catalogue: the checked catalogue.
        carriers: the checked carriers; each gets folder/<carrier>/<unit>/.
        folder: made if needed.
        workers: processes; as many as there are cores where left out, and 1 for none beside this one.
        progress: called after each carrier.

    Raises:
        OSError: the folder cannot be written.
        RegisterUnreadable: what is on the road cannot be read in the register; nothing was made.
    """
    result = CarrierPrint()
    folder.mkdir(parents=True, exist_ok=True)
    # What a stopped run made is on the register before any of it is replaced.
    write_register(folder, {})
    everything = list(carriers)
    base = _stamp_of_all(catalogue)
    made_of: dict[str, dict[str, Any]] = {}
    todo: list[tuple[CarrierRecord, str]] = []
    done = 0
    for carrier in everything:
        stamp = _stamp(base, carrier)
        kept = read_made(folder / carrier.id)
        if kept is None or kept.get("stamp") != stamp or not is_whole(folder / carrier.id, kept):
            todo.append((carrier, stamp))
            continue
        done += 1
        made_of[carrier.id] = kept
        result.kept.append(carrier.id)
        progress(done, len(everything), carrier.id)
    # Carriers that ask for the same come one after the other: much of what was set for one serves the next.
    todo.sort(key=lambda job: _alike(job[0]))
    workers = min(workers or os.cpu_count() or 1, max(len(todo), 1))
    failed: dict[str, list[tuple[int, str]]] = {}
    for carrier_id, made, why, number in _run(catalogue, todo, folder, workers):
        done += 1
        if made is None:
            failed[carrier_id] = [(number, why)]
        else:
            made_of[carrier_id] = made
            failed[carrier_id] = made["failed"]
        progress(done, len(everything), carrier_id)
    kept_ids = set(result.kept)
    for one in (carrier.id for carrier in everything):
        for number, why in failed.get(one, ()):
            result.failed.append((one, why))
            result.failed_at.append(number)
        if one in made_of and one not in kept_ids:
            result.made.append(one)
        result.notices += made_of[one]["notices"] if one in made_of else []
    rows = {one: made["rows"] for one, made in made_of.items()}
    result.documents = sum(map(len, rows.values()))
    result.unproved = [one for one, made in made_of.items() if not made.get("proved")]
    result.register = write_register(folder, rows)
    return result


def _alike(carrier: CarrierRecord) -> tuple[str, ...]:
    """Sorts carriers by what they ask for."""
    documents = [document.model_dump_json() for document in carrier.documents]
    units = [(unit.vehicles, unit.equipment) for unit in carrier.units]
    return str(carrier.rulebooks), str(carrier.languages), *documents, str(units)


def _run(
    catalogue: Catalogue, todo: list[tuple[CarrierRecord, str]], folder: Path, workers: int
) -> Iterator[Outcome]:
    with tempfile.TemporaryDirectory(prefix="chockbook-shared-", ignore_cleanup_errors=True) as shared:
        if workers == 1:
            for carrier, stamp in todo:
                yield _try(catalogue, carrier, stamp, folder, Path(shared))
            return
        with sharing_out(catalogue, workers) as pool:
            waiting = iter(todo)
            at_once = zip(range(workers * AHEAD), waiting, strict=False)
            running = {pool.submit(_work, *job, folder, Path(shared)) for _, job in at_once}
            while running:
                finished, running = wait(running, return_when=FIRST_COMPLETED)
                for one in finished:
                    yield one.result()
                    job = next(waiting, None)
                    if job is not None:
                        running.add(pool.submit(_work, *job, folder, Path(shared)))


def _work(carrier: CarrierRecord, stamp: str, folder: Path, shared: Path) -> Outcome:
    return _try(catalogue_at_work(), carrier, stamp, folder, shared)


def _try(
    catalogue: Catalogue, carrier: CarrierRecord, stamp: str, folder: Path, shared: Path
) -> Outcome:
    try:
        return carrier.id, print_carrier(catalogue, carrier, folder / carrier.id, stamp, shared), "", 0
    except NotPrinted as error:
        return carrier.id, None, str(error), error.number


def _stamp_of_all(catalogue: Catalogue) -> str:
    """What every carrier's documents depend on: content, words, publisher, templates and program.

    Words of locators and names of languages are labels, which the edition's code leaves out.
    """
    found = hashlib.sha256(f"{__version__} {catalogue.edition}".encode())
    found.update(json.dumps(catalogue.words, sort_keys=True).encode())
    found.update(catalogue.publisher.model_dump_json().encode())
    found.update(json.dumps([catalogue.locators, *(one.model_dump(mode="json") for one in catalogue.languages)]).encode())
    for place in (templates("print"), Path(__file__).parents[1]):
        for path in sorted(path for path in place.rglob("*") if path.suffix in (".typ", ".py")):
            found.update(path.relative_to(place).as_posix().encode())
            found.update(path.read_bytes())
    return found.hexdigest()


def _stamp(base: str, carrier: CarrierRecord) -> str:
    return hashlib.sha256(f"{base} {carrier.model_dump_json()}".encode()).hexdigest()
