"""The printed manual as a whole: its words from first to last, the page of every place, every running head."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import accumulate

from ..catalogue import Catalogue
from .manual import prove_manual
from .objection import Objection
from .print_recital import plain_text
from .read_pdf import PdfReading
from .reading import squash
from .recital import unlike
from .recite_manual import Manual, recite_by_severity_and_action, recite_defects, recite_opening, recite_rulebook
from .recite_manual_end import recite_figures, recite_index, recite_route, recite_sources, table_head

SURELY_IN_A_HEAD = 150
"""Letters, spaces left out, for which a running head has room in every case: those of the place, which may take two
lines, and twice those of the document's name, which takes one."""


def prove_whole_manual(catalogue: Catalogue, reading: PdfReading, name: str, rulebook_id: str,
                       language: str) -> Iterator[Objection]:  # fmt: skip
    """Objections to the manual of one rulebook in one language."""
    told = recited(catalogue, rulebook_id, language, name)
    titles = [squash(mark.title) for mark in reading.bookmarks]
    if titles != [squash(words) for _, words in told.headings]:
        yield Objection(name, "outline", "does not name every heading in its order")
        return
    pages = {place: mark.page + 1 for (place, _), mark in zip(told.headings, reading.bookmarks, strict=True) if place}
    wanted, begins = told.texts(pages)
    texts = [plain_text(text) for text in reading.page_texts]
    found = "".join(texts)
    yield from unlike(found, wanted, name)
    if found == wanted:
        ends = list(accumulate(map(len, texts)))
        for (place, words), begin, mark in zip(told.headings, begins, reading.bookmarks, strict=True):
            if place and not ends[mark.page] - len(texts[mark.page]) <= begin < ends[mark.page]:
                yield Objection(name, words, f"does not stand on page {mark.page + 1}, to which the manual leads")
    yield from _furniture(told, reading, pages, name)
    yield from prove_manual(catalogue, reading, name, rulebook_id, language)


def recited(catalogue: Catalogue, rulebook_id: str, language: str, name: str) -> Manual:
    """The manual from the catalogue alone, its pages not yet known."""
    told = Manual(catalogue, rulebook_id, language, name)
    for recite in (recite_opening, recite_rulebook, recite_defects, recite_by_severity_and_action, recite_figures, recite_route,
                   recite_sources, recite_index):  # fmt: skip
        recite(told)
    return told


def _furniture(told: Manual, reading: PdfReading, pages: dict[str, int], name: str) -> Iterator[Objection]:
    """Thumb marks, running head and foot of every page."""
    word, edition = told.reader.word, told.catalogue.edition
    numbers = {system.id: number for number, system in enumerate(told.catalogue.systems, 1)}
    sections = {page: words for (place, words) in told.headings if place.startswith("section ") for page in [pages[place]]}
    foot = squash(f"{word('caution-short')} {word('aid-short')}" + "\u00b7".join(
        [f"{word('edition')} {edition.code}", f"{word('issued')} {edition.date}", f"{word('check-by')} {edition.check_by}",
         word("uncontrolled")]))  # fmt: skip
    heads = {squash(table_head(told, limit)) for limit in told.catalogue.limits}
    section = ""
    for number, found in enumerate(reading.furniture, 1):
        section = sections.get(number, section)
        here = [entry for entry in told.entries if pages[f"entry {entry.id}"] == number]
        systems = dict.fromkeys((numbers[entry.system.id], told.text(entry.system.name)) for entry in here)
        bold = ", ".join(f"{mark} {system}" for mark, system in systems) or section
        parts = list(dict.fromkeys(told.text(entry.component.name) for entry in (here[0], here[-1]))) if here else []
        plain = "\u00b7" + " \u2013 ".join(parts) if len(systems) == 1 else ""
        page = f"{word('print-page')} {number} {word('print-of')} {len(reading.pages)}"
        own = f"{word('title')} manual.{told.rulebook.id}.{told.language}\u00b7{page}"
        marks = "".join(str(mark) for mark, _ in systems)
        ways = [f"{marks}{own}{place}{foot}" if number % 2 else f"{marks}{place}{own}{foot}" for place in (bold + plain, bold)]
        if len(squash(bold + plain)) + 2 * len(squash(own)) <= SURELY_IN_A_HEAD:
            ways = ways[:1]
        each = [plain_text(squash(one)) for one in ways]
        shown = plain_text(found)
        for head in heads:
            if plain_text(head) + plain_text(foot) in shown:
                shown = shown.replace(plain_text(head) + plain_text(foot), plain_text(foot))
        if shown not in each:
            yield from unlike(shown, each[0], f"{name} page {number}")
