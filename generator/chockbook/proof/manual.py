"""The printed manual against the catalogue: every entry in one block, every list complete."""

from __future__ import annotations

import re
from bisect import bisect_right
from collections import Counter
from collections.abc import Iterable, Iterator

from ..catalogue import Catalogue, Entry, LimitRecord, Ruling
from ..catalogue.wording import in_language
from .facts import Reader, reader_of
from .objection import Objection
from .read_pdf import PdfReading
from .reading import PLACE, compare, squash
from .scan import Phrases
from .texts import all_texts


def prove_manual(catalogue: Catalogue, reading: PdfReading, name: str, rulebook_id: str,
                 language: str) -> Iterator[Objection]:  # fmt: skip
    """Objections to the manual of one rulebook in one language."""
    reader = reader_of(catalogue, language)
    entries = [entry for entry in catalogue.entries if entry.rulings_under(rulebook_id)]
    yield from page_furniture(reader, reading, name)
    yield from page_numbers(reader, reading, name)
    blocks, objections = _blocks(reader, reading, entries, rulebook_id, name)
    yield from objections
    yield from _entries(reader, reading, blocks, rulebook_id, name)
    yield from _lists(reader, reading, entries, rulebook_id, name)
    yield from _other_pages(catalogue, reading, blocks, rulebook_id, language, name)


def page_furniture(reader: Reader, reading: PdfReading, name: str) -> Iterator[Objection]:
    """Edition, dates, the aid line and the short caution stand on every page."""
    edition = reader.catalogue.edition
    wanted = [f"{reader.word('edition')} {edition.code}", f"{reader.word('issued')} {edition.date}",
              f"{reader.word('check-by')} {edition.check_by}", reader.word("caution-short"),
              reader.word("uncontrolled")]  # fmt: skip
    aids = [squash(reader.word("aid-line")), squash(reader.word("aid-short"))]
    if not reading.pages:
        yield Objection(name, "pages", "there are none")
    for number, (text, furniture) in enumerate(zip(reading.page_texts, reading.furniture, strict=True), 1):
        whole = text + furniture
        for line in wanted:
            if squash(line) not in whole:
                yield Objection(f"{name} page {number}", "every page", f"does not say: {line}")
        if not any(aid in whole for aid in aids):
            yield Objection(f"{name} page {number}", "every page", f"does not say: {reader.word('aid-line')}")


def page_numbers(reader: Reader, reading: PdfReading, name: str) -> Iterator[Objection]:
    """Every page says which of how many it is."""
    for number, furniture in enumerate(reading.furniture, 1):
        line = squash(f"{reader.word('print-page')} {number} {reader.word('print-of')} {len(reading.pages)}")
        if line not in furniture:
            yield Objection(f"{name} page {number}", "every page", f"does not say: {line}")


_LETTERS_AND_NUMBERS = re.compile(r"\([a-z]\)|[\W\d_]+")
"""Letters of items, page numbers and punctuation."""
SHORTEST_PHRASE = 5
"""Characters; shorter texts are inside other words, and are looked for between them."""
FIGURES_BESIDE_AN_ENTRY = 4
"""A limit with more figures of its own than this is printed in the chapter of figures only."""

Block = tuple[int, int, Entry]
"""Begin and end of an entry's block in the text, and the entry."""


def _blocks(reader: Reader, reading: PdfReading, entries: list[Entry], rulebook_id: str,
            name: str) -> tuple[list[Block], list[Objection]]:  # fmt: skip
    """The block of each entry: its heading with the answer right behind it, up to the next bookmark."""
    text = reading.text
    ends = sorted({begin for _, begin, _ in reading.sections()} | {len(text)})
    blocks, objections = [], []
    outcomes = [in_language(entry.rulings_under(rulebook_id)[0].severity.outcome, reader.language) for entry in entries]
    leads = [squash(reader.heading(entry)) + squash(outcome) for entry, outcome in zip(entries, outcomes, strict=True)]
    places_of = all_places(text, leads)
    for entry, outcome, lead in zip(entries, outcomes, leads, strict=True):
        places = places_of[lead]
        if len(places) != 1:
            times = "is missing" if not places else f"stands {len(places)} times, and belongs here once"
            objections.append(Objection(name, entry.id, f"{times} with its answer: {outcome}"))
        blocks += [(at, ends[bisect_right(ends, at)], entry) for at in places[:1]]
    return sorted(blocks, key=lambda block: block[0]), objections


def all_places(text: str, wanted: Iterable[str]) -> dict[str, list[int]]:
    """Every place of each wanted text, found in one passage over the text however many are wanted."""
    places: dict[str, list[int]] = {one: [] for one in wanted if one}
    length = min(map(len, places), default=0)
    begun: dict[str, list[str]] = {}
    for one in places:
        begun.setdefault(one[:length], []).append(one)
    for at in range(len(text) - length + 1 if begun else 0):
        for one in begun.get(text[at : at + length], ()):
            if text.startswith(one, at):
                places[one].append(at)
    return places


def _entries(reader: Reader, reading: PdfReading, blocks: list[Block], rulebook_id: str,
             name: str) -> Iterator[Objection]:  # fmt: skip
    begins = [begin for begin, _, _ in blocks]
    for at, (begin, end, entry) in enumerate(blocks):
        following = begins[at + 1] if at + 1 < len(begins) else end
        result = compare(reading.text[begin : min(end, following)], _required(reader, entry, rulebook_id),
                         reader.neutral_words)  # fmt: skip
        output = f"{name} page {reading.page_at(begin)}"
        for text in result.missing:
            yield Objection(output, entry.id, f"does not say: {text}")
        for text in result.beyond:
            if not _page_reference(reader, text):
                yield Objection(output, entry.id, f"says what the catalogue does not: {text}")


def _page_reference(reader: Reader, text: str) -> bool:
    """Whether a text is only a number, or leads to a page."""
    # In any language: where the word is not written yet, another language's stands, its code taken for a text.
    words = sorted(reader.catalogue.words["print-page"].values(), key=len, reverse=True)
    page = "|".join(re.escape(squash(word)) for word in words)
    return re.fullmatch(rf"[\W_]*(?:(?:{page})?\d+[\W_]*)+", text, re.IGNORECASE) is not None


def _required(reader: Reader, entry: Entry, rulebook_id: str) -> Iterator[str]:
    yield reader.heading(entry)
    yield in_language(entry.check, reader.language)
    yield from reader.vehicles(entry)
    yield from (reader.word(f"fitted-{equipment}") for equipment in entry.component.fitted)
    for ruling in entry.rulings_under(rulebook_id):
        yield from reader.outcome(ruling)
        yield from reader.actions(ruling)
        yield from reader.source(ruling)
        yield from _letter(reader, ruling)
    for limit in entry.limits:
        yield from _figures(reader, limit, rulebook_id)


def _figures(reader: Reader, limit: LimitRecord, rulebook_id: str) -> Iterator[str]:
    """The rulebook's own figures where they are few; a longer table stands in its own chapter."""
    yield in_language(limit.quantity, reader.language)
    own = [row for row in limit.rows if row.rulebook == rulebook_id]
    if any(row.basis == "from-memory" for row in own):
        yield reader.word("not-confirmed")
    if len(own) <= FIGURES_BESIDE_AN_ENTRY:
        for row in own:
            yield in_language(row.label, reader.language)
            yield in_language(row.printed, reader.language)
            if limit.compare != "between":
                yield reader.word(f"compare-{limit.compare}")


def _letter(reader: Reader, ruling: Ruling) -> Iterator[str]:
    if ruling.item.locator_basis == "from-memory" and ruling.item.basis != "from-memory":
        yield reader.word("letter-not-confirmed")


def _lists(reader: Reader, reading: PdfReading, entries: list[Entry], rulebook_id: str,
           name: str) -> Iterator[Objection]:  # fmt: skip
    """The schedule names each entry under each of its items; the list by severity names it once a ruling."""
    rulings = [(entry, ruling) for entry in entries for ruling in entry.rulings_under(rulebook_id)]
    wanted = {
        "print-schedule": Counter(_condition(reader, entry) for entry, r in rulings for _ in (r.item, *r.also)),
        "print-by-severity": Counter(_condition(reader, entry) for entry, _ in rulings),
    }
    rulebook = reader.catalogue.rulebook[rulebook_id]
    # An item may say the same as a condition that it covers.
    items = "\0".join(squash(in_language(item.text, reader.language))
                      for schedule in rulebook.schedules for part in schedule.parts for item in part.items)  # fmt: skip
    for key, counts in wanted.items():
        title = reader.word(key)
        section = next(((b, e) for mark, b, e in reading.sections() if mark.level == 0 and mark.title == title), None)
        if section is None:
            yield Objection(name, title, "is missing from the outline")
            continue
        found = listed(reader, reading.text[section[0] : section[1]], entries)
        for entry in entries:
            times, due = found[_condition(reader, entry)], counts[_condition(reader, entry)]
            if not due <= times <= due + items.count(_condition(reader, entry)):
                yield Objection(name, entry.id, f"stands {times} times in {title!r}, not {due}")


def _other_pages(catalogue: Catalogue, reading: PdfReading, blocks: list[Block], rulebook_id: str, language: str,
                 name: str) -> Iterator[Objection]:  # fmt: skip
    """Outside the entries and the word index nothing stands that the tables do not have, beside page numbers."""
    pieces = (piece for text in all_texts(catalogue, language) for piece in PLACE.split(text))
    inside = (in_language(text, language).lower() for key, text in catalogue.words.items() if key.startswith("vehicle-"))
    texts = (*pieces, *inside, f".{rulebook_id}.{language}", f"manual.{rulebook_id}.{language}")
    known = {squash(text) for text in texts}
    # A word that is not written yet in this language stands after the code of another.
    known |= {re.sub(r"^\[[a-z-]+\]", "", text) for text in known}
    phrases = Phrases((text, "text", None) for text in known if len(text) >= SHORTEST_PHRASE)
    first, last = (blocks[0][0], blocks[-1][1]) if blocks else (0, 0)
    index_from = max((begin for mark, begin, _ in reading.sections() if mark.level == 0), default=len(reading.text))
    for begin, end in ((0, first), (last, index_from)):
        for at, means in phrases.read(reading.text[begin:end]):
            if isinstance(means, str) and _LETTERS_AND_NUMBERS.sub("", _without_short(means, known)):
                page = reading.page_at(begin + at)
                yield Objection(f"{name} page {page}", "text", f"says what the tables do not: {means}")


def _without_short(text: str, known: set[str]) -> str:
    """A text without the known short ones that stand alone in it, between digits and punctuation."""
    return "".join(part for part in re.split(r"[\W\d_]+", text) if part not in known)


def listed(reader: Reader, section: str, entries: list[Entry]) -> Counter[str]:
    """How often each condition stands in a section; long ones are taken out before short ones."""
    found: Counter[str] = Counter()
    taken = bytearray(len(section))
    places = all_places(section, {_condition(reader, entry) for entry in entries})
    for condition in sorted(places, key=lambda text: -len(text)):
        for at in places[condition]:
            if taken.find(1, at, at + len(condition)) < 0:
                taken[at : at + len(condition)] = b"\1" * len(condition)
                found[condition] += 1
    return found


def _condition(reader: Reader, entry: Entry) -> str:
    return squash(in_language(entry.condition, reader.language))
