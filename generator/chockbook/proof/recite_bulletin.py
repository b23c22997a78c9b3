"""The recital of a bulletin for drivers: what changed for them, and which prints of a carrier are to be handed in."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from ..catalogue import Catalogue
from ..catalogue.carrier import CarrierRecord
from ..editions import READERS, Change, Difference, Judged, OwnChange
from .facts import Reader, reader_of
from .objection import Objection
from .print_recital import plain_text
from .read_pdf import PdfReading
from .reading import squash
from .recital import Recital, unlike
from .recite_changes import name_of, said_of


def prove_bulletin(
    catalogue: Catalogue, difference: Difference, rulebook_ids: Sequence[str], language: str, reading: PdfReading, name: str,
    owner: tuple[CarrierRecord, Sequence[Judged]] | None = None,
) -> Iterator[Objection]:  # fmt: skip
    """Objections to a bulletin: it says what changed, what is to be handed in, and no word beside.

    Args:
        catalogue: whose words it is written in.
        difference: what changed.
        rulebook_ids: whose changes it tells, one rulebook after the other.
        language: of the bulletin.
        reading: the finished file.
        name: of the file.
        owner: the carrier whose bulletin it is, with its prints; None for one that is for everybody.
    """
    told = Recital(reader_of(catalogue, language), rulebook_ids[0], name)
    word = told.reader.word
    said = plain_text(reading.text)
    told.say(word("title"), word("print-title-bulletin"), owner[0].name if owner else "",
             " · ".join(told.text(catalogue.rulebook[one].name) for one in rulebook_ids))  # fmt: skip
    old, new = difference.old, difference.new
    if old["code"] == new["code"]:
        told.word("changes-same-edition", new=new["code"], new_date=new["date"])
    else:
        told.word("changes-from-to", old=old["code"], old_date=old["date"], new=new["code"], new_date=new["date"])
    told.word("reader-driver-says")
    if owner:
        told.say(word("print-demo-carrier") if owner[0].demo else "", word("bulletin-hand-in"))
        _hand_in(told, *owner, new["code"])
        _own_file(told, *owner)
    changes = [(book, one) for book in rulebook_ids for one in _of_drivers(difference.under(book, language), book, owner)]
    begun = len(told.told)
    for kept in range(len(changes), -1, -1):
        del told.told[begun:]
        _changes(told, changes[:kept], several=len(rulebook_ids) > 1)
        if not changes and not owner:
            told.word("reader-nothing")
        if kept < len(changes):
            told.word("bulletin-more", number=len(changes) - kept)
        if kept == len(changes):
            whole = list(told.told)
        if plain_text(squash("".join(told.told))) == said:
            break
    else:
        yield from unlike(said, plain_text(squash("".join(whole))), name)
    yield from _feet(told.reader, reading, name, new, [*([owner[0].id] if owner else []), *rulebook_ids, language, old["code"]])


def _of_drivers(
    changes: Sequence[Change], rulebook_id: str, owner: tuple[CarrierRecord, Sequence[Judged]] | None
) -> list[Change]:
    """The changes that a driver acts on; in a carrier's bulletin those that stand on its stale prints."""
    kinds = READERS["driver"]
    found = [one for kind in kinds for one in changes if one.kind == kind]
    if owner is None:
        return found
    printed = [change for one in owner[1] if one.row.get("rulebook") == rulebook_id for change in one.changes]
    return [one for one in found if one in printed]


def _changes(told: Recital, changes: Sequence[tuple[str, Change]], several: bool) -> None:
    """Each change, below its kind where the kind is another than before."""
    word, last = told.reader.word, None
    for book, one in changes:
        if (book, one.kind) != last:
            of = f"{told.text(told.catalogue.rulebook[book].short_name)}: " if several else ""
            told.say(of, word(f"change-{one.kind}"))
        last = (book, one.kind)
        told.say(name_of(told, one))
        if one.field == "whole":
            continue
        for key, value in (("changes-was", one.before), ("changes-is", one.after)):
            told.say(word(key), ":", f"{said_of(told, one, value).removesuffix('.')}.")
        if one.field == "severity":
            outcomes = [severity.outcome for severity in told.catalogue.rulebook[book].severities if severity.name == one.after]
            told.say(*(f"{told.text(outcome)}." for outcome in outcomes))


def _hand_in(told: Recital, carrier: CarrierRecord, prints: Sequence[Judged], edition: str) -> None:
    """The prints to hand in: units with the same of them stand together, in the order of the register. Then which
    editions stay good: that in force, and those of prints that say the same."""
    word = told.reader.word
    stale: dict[str, list[Judged]] = {}
    good = [edition]
    for one in prints:
        if one.state in ("stale", "unknown"):
            stale.setdefault(one.row.get("unit", ""), []).append(one)
        elif one.row.get("edition", "") not in good:
            good.append(one.row.get("edition", ""))
    told.word("bulletin-hand-in-says" if stale else "bulletin-none-stale")
    told.word("bulletin-keep", codes=", ".join(good))
    names = {unit.id: unit.name for unit in carrier.units}
    together: dict[tuple[bool, frozenset[tuple[str, bool]]], tuple[list[str], list[str]]] = {}
    for unit, of_unit in stale.items():
        lines = list(_lines(told, of_unit, edition))
        units, _ = together.setdefault((bool(unit), frozenset(lines)), ([], [line for line, _ in lines]))
        units.append(names.get(unit, unit))
    for (has_unit, _), (units, lines) in together.items():
        told.say(f"{word('bulletin-units')}: {', '.join(units)}" if has_unit else word("bulletin-all-units"))
        told.say(*(f"•{line}" for line in dict.fromkeys(lines)))


def _lines(told: Recital, prints: Sequence[Judged], edition: str) -> Iterator[tuple[str, bool]]:
    """Each document of a unit with the languages in which it is to be handed in, and whether it was replaced.

    A register can be older than a book or a format: what has no name any more stands as the register has it.
    """
    catalogue, word = told.catalogue, told.reader.word
    spoken: dict[tuple[Any, ...], list[str]] = {}
    for one in prints:
        row = one.row
        key = (row.get("document", ""), row.get("rulebook", ""), row.get("edition", ""), row.get("print_code", ""), one.new_code,
               tuple(_reasons(one)), row.get("state") == "replaced")  # fmt: skip
        languages = spoken.setdefault(key, [])
        if row.get("language") and row["language"] not in languages:
            languages.append(row["language"])
    of_language = {one.code: one.name for one in catalogue.languages}
    for (document, book, printed, code, new_code, reasons, replaced), languages in spoken.items():
        kind, *shape = document.split("-")
        what = word(f"bulletin-{kind}") if f"bulletin-{kind}" in catalogue.words else document
        if kind == "deck" and shape:
            of_format = f"bulletin-format-{shape[0]}"
            what += f" ({word(of_format) if of_format in catalogue.words else shape[0]})"
        held_to = told.text(catalogue.rulebook[book].short_name) if book in catalogue.rulebook else book
        both = (" + ".join(of_language.get(code, code) for code in one.split("+")) for one in languages)
        line = " · ".join([what, held_to, ", ".join(both), _codes(told, printed, code), *map(word, reasons)])
        if new_code and (printed, code) != (edition, new_code):
            line += f" · {word('bulletin-new')}: {_codes(told, edition, new_code)}"
        yield line, replaced


def _codes(told: Recital, edition: str, code: str) -> str:
    own = f", {told.reader.word('print-code')} {code}" if code else ""
    return f"{told.reader.word('edition')} {edition}{own}"


def _reasons(one: Judged) -> Iterator[str]:
    """Keys of the words for what of the carrier's file is another thing now, each once, then for what nobody can judge."""
    said = []
    for change in one.own:
        key = {"contact": "contacts", "contact-order": "contacts"}.get(change.what, change.what)
        if key not in said:
            said.append(key)
            yield f"prints-{key}"
    yield from (f"prints-{why}" for why in one.unjudged)


def _own_file(told: Recital, carrier: CarrierRecord, prints: Sequence[Judged]) -> None:
    """What the carrier's file no longer says as the prints do, each thing once; of units, which."""
    word = told.reader.word
    names = {unit.id: unit.name for unit in carrier.units}
    units: dict[OwnChange, list[str]] = {}
    for one in prints:
        for change in one.own:
            if change.what not in ("unit-gone", "document-gone"):
                units.setdefault(change, []).append(one.row.get("unit", ""))
    told.say(word("own-changes") if units else "")
    for change, of in units.items():
        if change.what in ("equipment", "vehicles", "unit"):
            told.say(f"{word('bulletin-units')}: {', '.join(dict.fromkeys(names.get(one, one) for one in of))} · ")
        roles = ("dispatch", "maintenance", "safety", "other")
        if change.what == "contact":
            told.say(word(f"role-{change.about}") if change.about in roles else change.about)
        else:
            told.word(f"own-{change.what}")
        for key, values in (("changes-was", change.before), ("changes-is", change.after)):
            told.say(word(key), ":", f"{_own_values(told, change.what, values).removesuffix('.')}.")


def _own_values(told: Recital, what: str, values: Sequence[str]) -> str:
    word, words = told.reader.word, told.catalogue.words
    if what == "demo":
        return word("lookup-yes") if values == ("True",) else word("lookup-no")
    named = {"equipment": ("fitted", ", "), "vehicles": ("vehicle", " + ")}.get(what)
    if named is None:
        return " · ".join(values) or "–"
    keys = [f"{named[0]}-{one}" for one in values]
    return named[1].join(word(key) if key in words else one for key, one in zip(keys, values, strict=True)) or "–"


def _feet(reader: Reader, reading: PdfReading, name: str, new: dict[str, str], called: list[str]) -> Iterator[Objection]:
    """The foot of every page: caution, aid line, the newer edition, the bulletin's own name, and the page of how many."""
    word, pages = reader.word, len(reading.pages)
    edition = reader.catalogue.edition
    for number, found in enumerate(reading.furniture, 1):
        pieces = [f"{word('edition')} {new['code']}", f"{word('issued')} {new['date']}", f"{word('check-by')} {edition.check_by}",
                  word("uncontrolled"), ".".join(["bulletin", *called]),
                  f"{word('print-page')} {number} {word('print-of')} {pages}"]  # fmt: skip
        wanted = f"{word('caution-short')} {word('aid-short')} {' · '.join(pieces)}"
        yield from unlike(plain_text(found), plain_text(squash(wanted)), f"{name} page {number}")
