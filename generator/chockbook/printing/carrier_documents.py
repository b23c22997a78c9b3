"""One carrier's documents: what is printed, for which unit, in which language, and under which name."""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from ..catalogue import Catalogue
from ..catalogue.card_kinds import CARD_KINDS
from ..catalogue.carrier import CarrierRecord, DocumentRecord, UnitRecord
from ..catalogue.taken import print_code, taken
from ..output import STAGING_PREFIX, put_whole
from ..views.carrier import view_carrier
from ..views.wording import in_language
from .bilingual import NoRoomForTwo, render_bilingual_cards
from .card_formats import FORMATS, format_on
from .card_setting import CardSetting, Cover
from .cards import render_cards
from .carrier_cover import cover_of
from .compile import SettingFailed
from .overflow import CardOverflow
from .owner_strip import owner_strip, with_owner, with_room
from .printed import Printed
from .register import MADE, hash_of, note_made, read_made


class NotPrinted(Exception):
    """A document that a carrier asks for cannot be printed."""

    def __init__(self, number: int, why: str) -> None:
        """Args: number: of the document in the carrier's file, from 0. why: in words."""
        super().__init__(why)
        self.number = number

    def __reduce__(self) -> tuple[type[NotPrinted], tuple[int, str]]:
        """How it travels from a worker process."""
        return NotPrinted, (self.number, str(self))


def print_carrier(catalogue: Catalogue, carrier: CarrierRecord, folder: Path, stamp: str = "",
                  shared: Path | None = None) -> dict[str, Any]:  # fmt: skip
    """Print everything that one carrier asks for, and note what was made.

    Args:
        catalogue: the checked catalogue.
        carrier: the checked carrier.
        folder: the carrier's own folder; what a former run has made there is removed.
        stamp: by which a later run sees that nothing has changed.
        shared: folder for what several carriers have in common; without it each document is made anew.

    Returns:
        The rows of the register, notices, and under "failed" each document that could not be printed beside the others:
        its number in the carrier's file, from 0, and why.

    Raises:
        NotPrinted: no document could be printed: an entry does not fit on an empty card, a format has no room for two
            languages, a document could not be set, or the catalogue lacks a rulebook or a fixed word.
        OSError: the folder cannot be written; what a former run made still stands.
    """
    folder.parent.mkdir(parents=True, exist_ok=True)
    beside = Path(tempfile.mkdtemp(prefix=STAGING_PREFIX, dir=folder.parent))
    try:
        made = _print_into(catalogue, carrier, beside / carrier.id, shared)
        # What could not be printed is tried again, and told again, by the next run.
        note = {"stamp": "" if made["failed"] else stamp, **made}
        _put(beside / carrier.id, folder, note)
    finally:
        shutil.rmtree(beside, ignore_errors=True)
    return note


def _print_into(catalogue: Catalogue, carrier: CarrierRecord, folder: Path, shared: Path | None) -> dict[str, Any]:
    """Print a carrier's documents into a folder of its name; the rows of the register, notices, and what failed."""
    rows: list[dict[str, Any]] = []
    failed: dict[tuple[int, str, tuple[str, ...]], NotPrinted] = {}
    """By document, rulebook and languages: of many units alike, the first is told."""
    notices: list[str] = []
    for languages, documents in _by_language(carrier):
        for rulebook in carrier.rulebooks:
            for document in documents:
                for unit in carrier.units if document.what != "report" else (None,):
                    try:
                        made = _print_one(catalogue, carrier, unit, document, rulebook, languages, folder, shared)
                    except (CardOverflow, NoRoomForTwo, SettingFailed, LookupError) as error:
                        number = carrier.documents.index(document)
                        if (number, rulebook, languages) not in failed:
                            why = str(error)
                            if isinstance(error, CardOverflow):
                                why = _too_small(catalogue, carrier, unit, document, rulebook, languages, error)
                            failed[number, rulebook, languages] = NotPrinted(number, why)
                        continue
                    notices += made.notices
                    rows.append(_row(catalogue, carrier, unit, rulebook, languages, made, folder, document))
    if failed and not rows:
        raise next(iter(failed.values()))
    if "deck" in (document.what for document in carrier.documents) and not _site(catalogue, carrier):
        notices.append(f"{carrier.id} names no base_address, so its cards carry no code")
    return {"rows": rows, "notices": list(dict.fromkeys(notices)), "failed": [(one.number, str(one)) for one in failed.values()]}


def _too_small(
    catalogue: Catalogue, carrier: CarrierRecord, unit: UnitRecord | None, document: DocumentRecord, rulebook: str,
    languages: tuple[str, ...], error: CardOverflow,
) -> str:  # fmt: skip
    """Why a deck cannot be printed, with the format that was found to hold it."""
    cannot = f"a deck of the format {document.format} cannot hold {rulebook} in {' and '.join(languages)}"
    larger = FORMATS[document.format].next_format
    while larger and (document.punch == "none" or CARD_KINDS[larger].on_ring):
        with tempfile.TemporaryDirectory(prefix="chockbook-tried-") as tried:
            asked = document.model_copy(update={"format": larger})
            try:
                _print_one(catalogue, carrier, unit, asked, rulebook, languages, Path(tried), None)
            except (CardOverflow, NoRoomForTwo, SettingFailed):
                larger = FORMATS[larger].next_format
                continue
        found = CardOverflow(error.entry_id, error.needed_mm, error.room_mm, larger)
        return f"{cannot}: {found}"
    return f"{cannot}: {error}{', without a hole' if document.punch != 'none' else ''}"


def _put(beside: Path, folder: Path, note: dict[str, Any]) -> None:
    """Put finished documents in place of those of a former run. Up to here, the former ones all stand."""
    former = read_made(folder)
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
    note_made(folder, note)


def _site(catalogue: Catalogue, carrier: CarrierRecord) -> str | None:
    return carrier.base_address or catalogue.publisher.base_address


def _by_language(carrier: CarrierRecord) -> Iterator[tuple[tuple[str, ...], list[DocumentRecord]]]:
    """What to print in each language, and what to print in both at once."""
    for language in carrier.languages:
        yield (language,), [document for document in carrier.documents if document.languages == "each"]
    yield tuple(carrier.languages), [document for document in carrier.documents if document.languages != "each"]


def _print_one(
    catalogue: Catalogue, carrier: CarrierRecord, unit: UnitRecord | None, document: DocumentRecord, rulebook: str,
    languages: tuple[str, ...], folder: Path, shared: Path | None,
) -> Printed:  # fmt: skip
    from .. import printing  # the checklist and the report form, which know nothing of carriers

    kind, language = document.kind, "-".join(languages)
    code = print_code(taken(carrier, unit, kind, languages, catalogue.publisher.base_address))
    if unit is None:
        out = folder / f"{kind}.{rulebook}.{language}.pdf"
        return printing.render_report_form(
            catalogue, rulebook, language, out, carrier=carrier, name=f"{carrier.id}.{kind}.{rulebook}.{language}.{code}"
        )
    out = folder / unit.id / f"{kind}.{rulebook}.{language}.pdf"
    if document.what == "checklist":
        return _checklist(catalogue, carrier, unit, document.variant, rulebook, language, out, shared, code)
    covers = [_cover(catalogue, carrier, unit, document, rulebook, one) for one in languages]
    setting = CardSetting(document.format, document.paper, document.duplex, document.marks, document.ink == "mono",
                          document.punch)  # fmt: skip
    owner = [carrier.id] if document.card.is_index else []
    name = ".".join([*owner, unit.id, document.format, rulebook, language, code])
    if document.languages != "each":
        both = (languages[0], languages[1]), document.languages
        return render_bilingual_cards(catalogue, rulebook, *both, out, setting, unit, (covers[0], covers[1]), name)
    return render_cards(catalogue, rulebook, language, out, setting, unit, covers[0], name)


def _checklist(
    catalogue: Catalogue, carrier: CarrierRecord, unit: UnitRecord, variant: str, rulebook: str, language: str, out: Path,
    shared: Path | None, code: str,
) -> Printed:  # fmt: skip
    """A unit's checklist. Units that are made up alike share all of it but the strip that says whose it is."""
    from .checklist import VARIANTS

    view = view_carrier(catalogue, carrier, unit, rulebook, language)
    words = {key: in_language(text, language) for key, text in catalogue.words.items()}
    strip = owner_strip(view, words, language, VARIANTS[variant]["size"], catalogue.edition.date, code)
    sheet, pages = _sheet_of_rows(catalogue, unit, variant, rulebook, language, strip.height, shared or out.parent)
    put_whole(out, with_owner(sheet.read_bytes(), strip))
    if shared is None:
        sheet.unlink()
    return Printed(out, pages, 0)


def _sheet_of_rows(
    catalogue: Catalogue, unit: UnitRecord, variant: str, rulebook: str, language: str, strip: float, shared: Path
) -> tuple[Path, int]:
    """The checklist of all units that are made up alike, with room for a strip so high, made once; and its pages."""
    from .. import printing

    asked = json.dumps([rulebook, language, variant, strip, unit.vehicles, unit.equipment])
    name = hashlib.sha256(asked.encode()).hexdigest()
    made = next(shared.glob(f"{name}.*.pdf"), None)
    if made is None:
        # Two processes may make the same one at once: each has its own file until it is whole.
        own = shared / f"{os.getpid()}.pdf"
        called = f"checklist.{rulebook}.{language}.{unit.make_up}"
        pages = printing.render_checklist(
            catalogue, rulebook, language, own, unit=unit, variant=variant, name=called, strip=strip
        ).pages
        own.write_bytes(with_room(own.read_bytes(), strip))
        made = own.replace(shared / f"{name}.{pages}.pdf")
    return made, int(made.name.split(".")[1])


def _cover(
    catalogue: Catalogue, carrier: CarrierRecord, unit: UnitRecord, document: DocumentRecord, rulebook: str,
    language: str,
) -> Cover:  # fmt: skip
    view = view_carrier(catalogue, carrier, unit, rulebook, language)
    words = {key: in_language(text, language) for key, text in catalogue.words.items()}
    return cover_of(view, words, format_on(document.format, document.paper))


def _row(
    catalogue: Catalogue, carrier: CarrierRecord, unit: UnitRecord | None, rulebook: str, languages: tuple[str, ...],
    made: Printed, folder: Path, document: DocumentRecord,
) -> dict[str, Any]:  # fmt: skip
    own = taken(carrier, unit, document.kind, languages, catalogue.publisher.base_address)
    return {
        "path": made.path.relative_to(folder.parent).as_posix(),
        "document": document.kind,
        "carrier": carrier.id,
        "unit": unit.id if unit else "",
        "rulebook": rulebook,
        "language": "+".join(languages),
        "edition": catalogue.edition.code,
        "pages": made.pages,
        "cards": made.cards,
        "sha256": hash_of(made.path),
        "print_code": print_code(own),
        "own_file": json.dumps(own, ensure_ascii=False),
    }
