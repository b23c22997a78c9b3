"""A carrier's deck against the catalogue and the carrier's own file: no entry more, none less, no one else's word."""

from __future__ import annotations

import re
from collections import Counter, deque
from collections.abc import Iterable, Iterator
from functools import lru_cache
from typing import Any

from ..catalogue import Catalogue, Entry
from ..catalogue.carrier import CarrierRecord, DocumentRecord, UnitRecord
from ..catalogue.wording import in_language
from .cards import _key, _phrases, _Reads
from .facts import Reader
from .objection import Objection
from .read_pdf import PdfReading
from .reading import squash
from .scan import Phrases

_LETTERS = re.compile(r"[^\W\d_]")
_CARD_NUMBERS = re.compile(r"\W*(\d{1,3}([–,]\d{1,3})*)?\W*")
"""What may stand between phrases: the numbers of cards, alone or as runs. A telephone number is no such thing."""


def has(unit: UnitRecord, entry: Entry) -> bool:
    """Whether a unit has the vehicle that an entry is about, and all of the equipment that its part belongs to."""
    return bool(set(entry.vehicles) & set(unit.vehicles)) and set(entry.component.fitted) <= set(unit.equipment)


def prove_deck(
    catalogue: Catalogue, carrier: CarrierRecord, unit: UnitRecord, document: DocumentRecord, reading: PdfReading,
    name: str, rulebook_id: str, languages: tuple[str, ...], n_cards: int, code: str,
) -> Iterator[Objection]:  # fmt: skip
    """Objections to a deck.

    Args:
        catalogue: what is true of defects.
        carrier: what is true of the carrier.
        unit: the unit that the deck is for.
        document: what was asked for.
        reading: the finished file.
        name: of the file, for the objections.
        rulebook_id: the rulebook that the deck is about.
        languages: of the deck; two for a deck that says everything twice.
        n_cards: how many cards the register says it has.
        code: of what it takes from the carrier's file.
    """
    readers = [Reader(catalogue, language) for language in languages]
    owner = [carrier.id] if document.card.is_index else []
    deck_id = ".".join([*owner, unit.id, document.format, rulebook_id, "-".join(languages), code])
    known = _With(_base(catalogue, rulebook_id, languages), own_texts(readers, carrier, unit, rulebook_id, deck_id))
    counts = Counter[str]()
    index = document.card.is_index
    before: deque[list[dict[str, set[str]]]] = deque(maxlen=_pages_back(document))
    found: list[Counter[tuple[str, ...]]] = [Counter() for _ in readers]
    components: set[tuple[str, str]] = set()
    for number, (text, furniture) in enumerate(zip(reading.page_texts, reading.furniture, strict=True), 1):
        place = f"{name} page {number}"
        full = len(before) == before.maxlen
        reads = [_Reads(reader, rulebook_id, place, before[0][n] if full else {}) for n, reader in enumerate(readers)]
        row = ""
        for _, means in known.read(text):
            if isinstance(means, str):
                yield from _unknown(place, means)
                continue
            for kind, what in means:
                counts[f"{kind} {what}" if kind == "own" else kind] += 1
            if index:
                row = next((what for kind, what in means if kind == "row"), row)
                components |= {(row, what) for kind, what in means if kind == "component"}
                continue
            for language, one in zip(languages, reads, strict=True):
                own = [(kind, what[1]) for kind, what in means if isinstance(what, tuple) and what[0] == language]
                if own:
                    yield from one.take(own)
        for _, means in known.read(furniture):
            if isinstance(means, str):
                yield from _unknown(place, means)
        for one, more in zip(found, reads, strict=True):
            one += more.found
        before.append([one.steps for one in reads])
        if not index:
            faces = len(_card_numbers(readers, carrier).findall(text)) // (2 if document.languages == "side-by-side" else 1)
            yield from _feet(readers, carrier, unit, document, deck_id, place, text + furniture, faces)
    if index:  # its backs say whose it is, its fronts have no room for it
        yield from _feet(readers, carrier, unit, document, deck_id, name, reading.text, n_cards)
        yield from _index(readers[0], unit, rulebook_id, name, components)
    else:
        for reader, one in zip(readers, found, strict=True):
            yield from _entries(reader, unit, rulebook_id, name, one)
    yield from _numbers(readers, carrier, reading, name, n_cards, twice=document.languages == "side-by-side")
    yield from _contacts(carrier, document, name, readers, counts)


def _pages_back(document: DocumentRecord) -> int:
    """How many pages before a card, in its language, the card before it can stand that has its steps.

    With a language on each face, every second page is in the other language; over a fold both are on one page, except
    for a print shop, which gets a page for each face.
    """
    folded = document.duplex == "fold" and document.marks == "office"
    return 2 if document.languages == "front-and-back" and not folded else 1


def own_texts(
    readers: list[Reader], carrier: CarrierRecord, unit: UnitRecord, rulebook_id: str, deck_id: str
) -> list[tuple[str, str, Any]]:
    """What only this carrier's documents may say, as phrases."""
    base = carrier.base_address or readers[0].catalogue.publisher.base_address
    texts = [carrier.name, deck_id, *(one.phone for one in carrier.contacts)]
    for reader in readers:
        texts += [f"{reader.word('print-unit')} {unit.name}"]
        texts += [f"{reader.word(f'role-{one.role}')} {one.phone}" for one in carrier.contacts]
        texts += [wording(text, reader.language) for one in carrier.contacts for text in (one.hours, one.name) if text]
        if base:
            texts.append(address_of(reader.catalogue, base, rulebook_id, reader.language))
    return [(text, "own", text) for text in dict.fromkeys(texts)]


def wording(text: str | dict[str, str], language: str) -> str:
    """A contact's text in a language: one text is the same in all of them."""
    return text if isinstance(text, str) else in_language(text, language)


def every_wording(text: str | dict[str, str] | None) -> list[str]:
    """A contact's text in every language that it is written in; nothing where there is none."""
    return list(text.values()) if isinstance(text, dict) else [text] if text else []


def address_of(catalogue: Catalogue, base: str, rulebook_id: str, language: str) -> str:
    """Where a book tells whether a card of this edition is current, below a site's address: the first book stands at the top."""
    first = rulebook_id == catalogue.rulebooks[0].id and language == catalogue.languages[0].code
    book = base if first else f"{base}{rulebook_id}/{language}/"
    return f"{book}card.html#{catalogue.edition.code}"


class _With(Phrases):
    """Phrases that all decks of a book share, and those of one carrier."""

    def __init__(self, base: Phrases, own: Iterable[tuple[str, str, Any]]) -> None:
        super().__init__(own)
        self._base = base

    def _at(self, text: str, at: int) -> tuple[str, list[tuple[str, Any]]] | None:
        own, shared = super()._at(text, at), self._base._at(text, at)
        if own is None or (shared is not None and len(shared[0]) > len(own[0])):
            return shared
        return own


@lru_cache(maxsize=32)
def _base_of(key: int, rulebook_id: str, languages: tuple[str, ...], edition: str) -> Phrases:
    catalogue = _HELD[key]
    phrases: list[tuple[str, str, Any]] = []
    for language in languages:
        reader = Reader(catalogue, language)
        phrases += [(text, kind, (language, what)) for text, kind, what in _phrases(reader, rulebook_id)]
        phrases += [(f"{in_language(s.name, language)}:", "row", s.id) for s in catalogue.systems]
        phrases += [(in_language(c.name, language), "component", c.id) for c in catalogue.components]
    phrases += [(text, "edition", text) for text in
                (catalogue.edition.code, str(catalogue.edition.date), str(catalogue.edition.check_by))]  # fmt: skip
    return Phrases(dict.fromkeys(phrases))


_HELD: dict[int, Catalogue] = {}


def _base(catalogue: Catalogue, rulebook_id: str, languages: tuple[str, ...]) -> Phrases:
    _HELD[id(catalogue)] = catalogue  # held, so that no other catalogue gets its number
    return _base_of(id(catalogue), rulebook_id, languages, catalogue.edition.code)


def _unknown(place: str, text: str) -> Iterator[Objection]:
    if _LETTERS.search(text):
        yield Objection(place, "text", f"says what neither the tables nor the carrier's file do: {text}")
    elif not _CARD_NUMBERS.fullmatch(text):
        yield Objection(place, "number", f"is neither a card's nor one of the carrier's: {text}")


def _entries(
    reader: Reader, unit: UnitRecord, rulebook_id: str, name: str, found: Counter[tuple[str, ...]]
) -> Iterator[Objection]:
    catalogue = reader.catalogue
    wanted = Counter(_key(reader, entry, ruling) for entry in catalogue.entries if has(unit, entry)
                     for ruling in entry.rulings_under(rulebook_id))  # fmt: skip
    for key in (wanted - found).elements():
        yield Objection(name, key[0], f"is missing from the lane {key[1]!r} under {key[3]!r}")
    for key in (found - wanted).elements():
        why = "" if has(unit, catalogue.entry[key[0]]) else ", as the unit lacks it"
        yield Objection(name, key[0], f"does not belong in the lane {key[1]!r} under {key[3]!r}{why}, or stands twice")


def _index(
    reader: Reader, unit: UnitRecord, rulebook_id: str, name: str, found: set[tuple[str, str]]
) -> Iterator[Objection]:
    catalogue = reader.catalogue
    worst = len(catalogue.rulebook[rulebook_id].severities) - 1
    wanted = {(entry.system.id, entry.component.id) for entry in catalogue.entries if has(unit, entry)
              for ruling in entry.rulings_under(rulebook_id) if ruling.rank == worst}  # fmt: skip
    names = {c.id: squash(in_language(c.name, reader.language)) for c in catalogue.components}
    said = {(system, names[component]) for system, component in found}
    asked = {(system, names[component]) for system, component in wanted}
    for system, component in sorted(asked - said):
        yield Objection(name, system, f"does not name {component}")
    for system, component in sorted(said - asked):
        yield Objection(name, system, f"names {component}, which stops nothing on this unit")


def _card_numbers(readers: list[Reader], carrier: CarrierRecord) -> re.Pattern[str]:
    # The carrier's name follows on its first card, and may begin with a figure.
    end = rf"(?=\D|$|{re.escape(squash(carrier.name))})"
    ways = "|".join(f"{re.escape(squash(r.word('print-card')))}(\\d+){re.escape(squash(r.word('print-of')))}(\\d+?){end}"
                    for r in readers)  # fmt: skip
    return re.compile(ways)


def _feet(
    readers: list[Reader], carrier: CarrierRecord, unit: UnitRecord, document: DocumentRecord, deck_id: str,
    place: str, text: str, faces: int,
) -> Iterator[Objection]:  # fmt: skip
    """Every face says whose it is, of which deck and edition, and how to take it; no face is another unit's."""
    edition = readers[0].catalogue.edition
    lines = [[deck_id]]
    if document.card.names_owner:
        lines.append([f"{carrier.name}, {r.word('print-unit')} {unit.name}" for r in readers])
    facts = {"caution-short": "", "aid-short": "", "edition": edition.code, "check-by": edition.check_by}
    lines += [[f"{r.word(key)}{value}" for r in readers] for key, value in facts.items()]
    for line in lines:
        if sum(text.count(one) for one in {squash(one) for one in line}) < faces:
            yield Objection(place, "every card", f"does not say: {line[0]}")


def _numbers(
    readers: list[Reader], carrier: CarrierRecord, reading: PdfReading, name: str, n_cards: int, twice: bool
) -> Iterator[Objection]:
    """The cards are numbered from 1 to their number, each as often as the others."""
    seen: Counter[int] = Counter()
    for text in reading.page_texts:
        for groups in _card_numbers(readers, carrier).findall(text):
            number, of = [int(one) for one in groups if one][:2]
            seen[number] += 1
            if of != n_cards:
                yield Objection(name, f"card {number}", f"says that there are {of} cards; the register says {n_cards}")
    if set(seen) != set(range(1, n_cards + 1)):
        yield Objection(name, "cards", f"are not numbered from 1 to {n_cards}")
    elif len(set(seen.values())) != 1:
        yield Objection(name, "cards", "are not all there with both of their sides")


def _contacts(
    carrier: CarrierRecord, document: DocumentRecord, name: str, readers: list[Reader], counts: Counter[str]
) -> Iterator[Objection]:
    """The first contact stands under every outcome; all of them stand on the first card."""
    def said(text: str) -> int:
        return sum(count for key, count in counts.items() if key.startswith("own ") and text in key)

    first, n_languages = carrier.contacts[0], len(readers)
    if document.card.is_index:
        least = 1
    else:
        least = n_languages + (counts["outcome"] if document.card.names_owner else 0)
        for one in carrier.contacts[1:]:
            if said(one.phone) < n_languages:
                yield Objection(name, "contacts", f"does not say: {one.phone}")
    if said(first.phone) < least:
        yield Objection(name, "contacts", f"says {first.phone} on {said(first.phone)} of {least} places")
    for one in () if document.card.is_index else carrier.contacts:  # which has room for one number
        # Nobody is named twice: a name that is the role's own word stands there as the role.
        roles = [reader.word(f"role-{one.role}") for reader in readers]
        texts = [wording(text, reader.language) for text in (one.hours, one.name) if text for reader in readers]
        for text, least in Counter(text for text in texts if text not in roles).items():
            if said(text) < least:
                yield Objection(name, "contacts", f"does not say: {text}")
