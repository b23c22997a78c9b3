"""Everything that carriers print: each carrier's documents in a folder of its own, and a register of them all."""

from __future__ import annotations

import csv
import hashlib
import io
import json
import os
import shutil
import tempfile
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import FIRST_COMPLETED, wait
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from .. import __version__
from ..catalogue import Catalogue
from ..catalogue.carrier import CarrierRecord, DocumentRecord, UnitRecord
from ..output import STAGING_PREFIX, put_whole
from ..resources import templates
from ..views.carrier import view_carrier
from ..views.wording import in_language
from ..workers import catalogue_at_work
from ..workers import workers as sharing_out
from .bilingual import NoRoomForTwo, render_bilingual_cards
from .card_formats import format_on
from .cards import CardSetting, Cover, render_cards
from .carrier_cover import cover_of
from .compile import SettingFailed
from .overflow import CardOverflow
from .printed import Printed

MADE = "made.json"
REGISTER = "register.csv"
COLUMNS = (
    "path",
    "document",
    "carrier",
    "unit",
    "rulebook",
    "language",
    "edition",
    "pages",
    "cards",
    "sha256",
)
AHEAD = 3
"""Carriers handed to each process before the first of them is done; more would only fill memory."""

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
    """Ids of carriers that could not be printed for, and why."""
    notices: list[str] = field(default_factory=list)
    """What whoever prints is told, such as that a deck has too many cards for its format."""
    documents: int = 0
    register: Path | None = None


def cards_for_carriers(
    catalogue: Catalogue,
    carriers: Iterable[CarrierRecord],
    folder: Path,
    workers: int | None = None,
    progress: Progress = lambda done, count, carrier: None,
) -> CarrierPrint:
    """Print what carriers ask for, several carriers at a time.

    A carrier that fails does not stop the others. What was made of a carrier is noted when all of it is done, so
    that a stopped run goes on where it was and an unchanged carrier is not made again. The register lists what
    stands in the folder for these carriers.

    Args:
        catalogue: the checked catalogue.
        carriers: the checked carriers; each gets folder/<carrier>/<unit>/.
        folder: made if needed.
        workers: processes; as many as there are cores where left out, and 1 for none beside this one.
        progress: called after each carrier.

    Raises:
        OSError: the folder cannot be written.
    """
    result = CarrierPrint()
    folder.mkdir(parents=True, exist_ok=True)
    everything = list(carriers)
    base = _stamp_of_all(catalogue)
    rows: dict[str, list[dict[str, Any]]] = {}
    todo: list[tuple[CarrierRecord, str]] = []
    done = 0
    for carrier in everything:
        stamp = _stamp(base, carrier)
        kept = _kept(folder / carrier.id, stamp)
        if kept is None:
            todo.append((carrier, stamp))
            continue
        done += 1
        rows[carrier.id] = kept["rows"]
        result.kept.append(carrier.id)
        result.notices += kept["notices"]
        progress(done, len(everything), carrier.id)
    workers = min(workers or os.cpu_count() or 1, max(len(todo), 1))
    for carrier_id, made, why in _run(catalogue, todo, folder, workers):
        done += 1
        if made is None:
            result.failed.append((carrier_id, why))
        else:
            rows[carrier_id] = made["rows"]
            result.made.append(carrier_id)
            result.notices += made["notices"]
        progress(done, len(everything), carrier_id)
    listed = [row for carrier in everything for row in rows.get(carrier.id, ())]
    result.documents = len(listed)
    result.register = _write_register(folder / REGISTER, listed)
    return result


def _run(
    catalogue: Catalogue, todo: list[tuple[CarrierRecord, str]], folder: Path, workers: int
) -> Iterator[tuple[str, dict[str, Any] | None, str]]:
    if workers == 1:
        for carrier, stamp in todo:
            yield _try(catalogue, carrier, stamp, folder)
        return
    with sharing_out(catalogue, workers) as pool:
        waiting = iter(todo)
        running = {pool.submit(_work, *job, folder) for _, job in zip(range(workers * AHEAD), waiting, strict=False)}
        while running:
            finished, running = wait(running, return_when=FIRST_COMPLETED)
            for one in finished:
                yield one.result()
                job = next(waiting, None)
                if job is not None:
                    running.add(pool.submit(_work, *job, folder))


def _work(carrier: CarrierRecord, stamp: str, folder: Path) -> tuple[str, dict[str, Any] | None, str]:
    return _try(catalogue_at_work(), carrier, stamp, folder)


def _try(
    catalogue: Catalogue, carrier: CarrierRecord, stamp: str, folder: Path
) -> tuple[str, dict[str, Any] | None, str]:
    try:
        return carrier.id, print_carrier(catalogue, carrier, folder / carrier.id, stamp), ""
    except (CardOverflow, NoRoomForTwo, SettingFailed, LookupError) as error:
        return carrier.id, None, str(error)


def print_carrier(catalogue: Catalogue, carrier: CarrierRecord, folder: Path, stamp: str = "") -> dict[str, Any]:
    """Print everything that one carrier asks for, and note what was made.

    Args:
        catalogue: the checked catalogue.
        carrier: the checked carrier.
        folder: the carrier's own folder; what a former run has made there is removed.
        stamp: by which a later run sees that nothing has changed.

    Returns:
        The rows of the register, and notices.

    Raises:
        CardOverflow: an entry does not fit on an empty card.
        SettingFailed: a document could not be set.
        LookupError: the catalogue lacks a rulebook or a fixed word.
        OSError: the folder cannot be written; what a former run made still stands.
    """
    folder.parent.mkdir(parents=True, exist_ok=True)
    beside = Path(tempfile.mkdtemp(prefix=STAGING_PREFIX, dir=folder.parent))
    try:
        note = {"stamp": stamp, **_print_into(catalogue, carrier, beside / carrier.id)}
        _put(beside / carrier.id, folder, note)
    finally:
        shutil.rmtree(beside, ignore_errors=True)
    return note


def _print_into(catalogue: Catalogue, carrier: CarrierRecord, folder: Path) -> dict[str, Any]:
    """Print a carrier's documents into a folder of its name; the rows of the register, and notices."""
    rows: list[dict[str, Any]] = []
    notices: list[str] = []
    for languages, documents in _by_language(carrier):
        for rulebook in carrier.rulebooks:
            for document in documents:
                for unit in carrier.units if document.what != "report" else (None,):
                    made = _print_one(catalogue, carrier, unit, document, rulebook, languages, folder)
                    notices += made.notices
                    rows.append(_row(catalogue, carrier, unit, rulebook, languages, made, folder))
    if "deck" in (document.what for document in carrier.documents) and not _site(catalogue, carrier):
        notices.append(f"{carrier.id} names no base_address, so its cards carry no code")
    return {"rows": rows, "notices": list(dict.fromkeys(notices))}


def _put(beside: Path, folder: Path, note: dict[str, Any]) -> None:
    """Put finished documents in place of those of a former run. Up to here, the former ones all stand."""
    former = _read_made(folder)
    (folder / MADE).unlink(missing_ok=True)
    for path in sorted(path for path in beside.rglob("*") if path.is_file()):
        place = folder / path.relative_to(beside)
        place.parent.mkdir(parents=True, exist_ok=True)
        path.replace(place)
    inside, made = folder.resolve(), {row["path"] for row in note["rows"]}
    for row in former["rows"] if former else ():
        old = folder.parent / row["path"]
        if row["path"] not in made and old.resolve().is_relative_to(inside):
            old.unlink(missing_ok=True)
    put_whole(folder / MADE, json.dumps(note, ensure_ascii=False, indent=1).encode())


def _site(catalogue: Catalogue, carrier: CarrierRecord) -> str | None:
    return carrier.base_address or catalogue.publisher.base_address


def _by_language(carrier: CarrierRecord) -> Iterator[tuple[tuple[str, ...], list[DocumentRecord]]]:
    """What to print in each language, and what to print in both at once."""
    for language in carrier.languages:
        yield (language,), [document for document in carrier.documents if document.languages == "each"]
    yield tuple(carrier.languages), [document for document in carrier.documents if document.languages != "each"]


def _print_one(
    catalogue: Catalogue, carrier: CarrierRecord, unit: UnitRecord | None, document: DocumentRecord, rulebook: str,
    languages: tuple[str, ...], folder: Path,
) -> Printed:  # fmt: skip
    from .. import printing  # the checklist and the report form, which know nothing of carriers

    kind, language = _kind(document), "-".join(languages)
    if unit is None:
        out = folder / f"{kind}.{rulebook}.{language}.pdf"
        return printing.render_report_form(
            catalogue, rulebook, language, out, carrier=carrier, name=f"{carrier.id}.{kind}.{rulebook}.{language}"
        )
    out = folder / unit.id / f"{kind}.{rulebook}.{language}.pdf"
    if document.what == "checklist":
        return printing.render_checklist(catalogue, rulebook, language, out, unit=unit, variant=document.variant)
    covers = [_cover(catalogue, carrier, unit, document, rulebook, one) for one in languages]
    setting = CardSetting(document.format, document.paper, document.duplex, document.marks, document.ink == "mono")
    owner = [carrier.id] if document.format == "id1" else []
    name = ".".join([*owner, unit.id, document.format, rulebook, language])
    if document.languages != "each":
        both = (languages[0], languages[1]), document.languages
        return render_bilingual_cards(catalogue, rulebook, *both, out, setting, unit, (covers[0], covers[1]), name)
    return render_cards(catalogue, rulebook, language, out, setting, unit, covers[0], name)


def _cover(
    catalogue: Catalogue, carrier: CarrierRecord, unit: UnitRecord, document: DocumentRecord, rulebook: str, language: str
) -> Cover:
    view = view_carrier(catalogue, carrier, unit, rulebook, language)
    words = {key: in_language(text, language) for key, text in catalogue.words.items()}
    return cover_of(view, words, format_on(document.format, document.paper))


def _kind(document: DocumentRecord) -> str:
    """The first part of a document's file name: two documents of a carrier that differ have different ones."""
    if document.what == "deck":
        shape = [document.format, document.paper, document.duplex]
        if document.format == "wall":
            shape = [document.format, document.paper]
        if document.marks == "press":
            shape = [document.format, "press", document.paper]
        both = [document.languages] if document.languages != "each" else []
        return "-".join(["deck", *shape, *(["mono"] if document.ink == "mono" else []), *both])
    return f"checklist-{document.variant}" if document.what == "checklist" else "report"


def _row(
    catalogue: Catalogue, carrier: CarrierRecord, unit: UnitRecord | None, rulebook: str, languages: tuple[str, ...],
    made: Printed, folder: Path,
) -> dict[str, Any]:  # fmt: skip
    return {
        "path": made.path.relative_to(folder.parent).as_posix(),
        "document": made.path.name.split(".", 1)[0],
        "carrier": carrier.id,
        "unit": unit.id if unit else "",
        "rulebook": rulebook,
        "language": "+".join(languages),
        "edition": catalogue.edition.code,
        "pages": made.pages,
        "cards": made.cards,
        "sha256": hashlib.sha256(made.path.read_bytes()).hexdigest(),
    }


def _stamp_of_all(catalogue: Catalogue) -> str:
    """What every carrier's documents depend on: content, words, publisher, templates and program."""
    found = hashlib.sha256(f"{__version__} {catalogue.edition}".encode())
    found.update(json.dumps(catalogue.words, sort_keys=True).encode())
    found.update(catalogue.publisher.model_dump_json().encode())
    for place in (templates("print"), Path(__file__).parent, Path(__file__).parents[1] / "views"):
        for path in sorted(path for path in place.rglob("*") if path.suffix in (".typ", ".py")):
            found.update(path.read_bytes())
    return found.hexdigest()


def _stamp(base: str, carrier: CarrierRecord) -> str:
    return hashlib.sha256(f"{base} {carrier.model_dump_json()}".encode()).hexdigest()


def _read_made(folder: Path) -> dict[str, Any] | None:
    """What a former run noted of a carrier; None where there is no note, or somebody else wrote it."""
    try:
        made = json.loads((folder / MADE).read_text(encoding="utf-8"))
        known = isinstance(made["notices"], list) and all(set(COLUMNS) <= set(row) and isinstance(row["path"], str)
                                                          for row in made["rows"])  # fmt: skip
        return made if known else None
    except (OSError, ValueError, LookupError, TypeError, RecursionError):
        return None


def _kept(folder: Path, stamp: str) -> dict[str, Any] | None:
    """What was made of a carrier before, if nothing has changed and every file is still there."""
    made = _read_made(folder)
    if made is None or made.get("stamp") != stamp:
        return None
    return made if all((folder.parent / row["path"]).is_file() for row in made["rows"]) else None


def _write_register(path: Path, rows: list[dict[str, Any]]) -> Path:
    out = io.StringIO(newline="")
    writer = csv.DictWriter(out, COLUMNS, lineterminator="\n", extrasaction="ignore")
    writer.writeheader()
    writer.writerows(rows)
    put_whole(path, out.getvalue().encode())
    return path
