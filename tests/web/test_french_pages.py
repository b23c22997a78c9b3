"""A reader of the French books finds no English of ours: every text of every French page is looked through."""

from __future__ import annotations

import html
import json
import re

import pytest

from chockbook.lookup import write_lookup, write_roadside
from chockbook.pages import write_pages
from chockbook.views.books import view_books

ENGLISH = frozenset(
    "the of and with when where which while this that these those is are was were be been not no read from"
    " at by for in on out its it has have does do if than then there their your you must should into over"
    " under above below after before each every any other part schedule section item row".split()
)
"""Words that hold English sentences and locators together."""
ALSO_FRENCH = frozenset("on section part".split())
"""Those that are French words too, or stand in French trade words."""


@pytest.fixture(scope="module")
def french_texts(shipped, tmp_path_factory):
    """Every line that the French books show, by book and page; with the single files."""
    books = view_books(shipped)
    found = {}
    for book in (book for book in books if book.language == "fr"):
        folder = tmp_path_factory.mktemp(book.rulebook_id)
        write_pages(shipped, book.rulebook_id, "fr", folder, books)
        write_lookup(shipped, book.rulebook_id, "fr", folder, books)
        write_roadside(shipped, book.rulebook_id, "fr", folder / "roadside.html")
        for path in sorted([*folder.rglob("*.md"), folder / "roadside.html"]):
            name = f"{book.rulebook_id}/{path.relative_to(folder).as_posix()}"
            found[name] = list(lines_of(path.read_text("utf-8")))
    return found


def lines_of(text):
    """The texts of a page, entities read, without markup, addresses, styles and scripts; of data its strings."""
    for data in re.findall(r'<script type="application/json"[^>]*>(.*?)</script>', text, re.DOTALL):
        yield from strings(json.loads(data))
    text = re.sub(r"<(script|style)\b.*?</\1>", "\n", text, flags=re.DOTALL)
    text = re.sub(r"\A---\n(.*?)\n---\n", lambda head: title_of(head[1]), text, flags=re.DOTALL)
    text = re.sub(r'<span lang="en">.*?</span>', "", text)
    text = re.sub(r"\]\([^)\s]*\)", "\n", text)
    text = re.sub(r"\{[ .#:][^}\n]*\}", "", text)
    text = re.sub(r"<[^>]*>", "\n", text)
    for line in html.unescape(text).split("\n"):
        if line.strip():
            yield line.strip()


def title_of(head):
    return "\n".join(json.loads(line[7:]) for line in head.split("\n") if line.startswith("title: "))


def strings(data):
    """What data for a script shows to a reader: the index of the lookup is letters and numbers only."""
    if isinstance(data, str):
        if " " in data or not ID.fullmatch(data):
            yield data
    elif isinstance(data, dict):
        yield from (one for key, inner in data.items() if key not in NOT_SHOWN for one in strings(inner))
    elif isinstance(data, list):
        yield from (one for inner in data for one in strings(inner))


NOT_SHOWN = ("index", "spellings", "when", "units")
ID = re.compile(r"[a-z0-9]+(?:[-.][a-z0-9]+)*")
"""What a script names things by, and shows to nobody."""


def exceptions(catalogue):
    """What stays in English on French pages: titles and issuers of sources, names of laws, the publisher."""
    for source in catalogue.sources:
        yield from (source.title.get("fr", ""), source.issuer, source.url or "")
    for rulebook in catalogue.rulebooks:
        yield from (rulebook.law.get("fr", ""), rulebook.name.get("fr", ""), rulebook.short_name.get("en", ""))
    yield from (jurisdiction.regulation.get("fr", "") for jurisdiction in catalogue.jurisdictions)
    yield "Security of Loads"  # the title of a regulation of Ontario that was not read in French
    yield from (catalogue.publisher.name, catalogue.publisher.contact or "")
    yield from (entry.id for entry in catalogue.entries)  # by which a change is told, the same in every language


def trade_names(catalogue):
    """What drivers say in French for a part or a fault, in the words of the trade, English ones included."""
    for component in catalogue.components:
        yield from (component.aliases or {}).get("fr", ())
    for entry in catalogue.entries:
        yield from entry.aliases.get("fr", ())


def english_words(line, allowed):
    for text in allowed:
        if text in line:
            line = re.sub(rf"(?<!\w){re.escape(text)}(?!\w)", " ", line)
    line = re.sub(r"\{[a-z_]+\}", "", line)  # the place of a number or a name
    words = re.findall(r"[^\W\d_]+(?:['’][^\W\d_]+)*", line.lower())
    return sorted(set(words) & (ENGLISH - ALSO_FRENCH))


def test_no_english_of_ours_stands_in_a_french_book(shipped, french_texts):
    allowed = sorted({text for text in (*exceptions(shipped), *trade_names(shipped)) if text}, key=len, reverse=True)
    assert len(french_texts) > 500
    seen, english = set(), {}
    for page, lines in french_texts.items():
        for line in lines:
            if line not in seen:
                seen.add(line)
                if words := english_words(line, allowed):
                    english[line] = (page, words)
    assert len(seen) > 5000
    assert english == {}


def test_the_check_finds_english(shipped):
    assert english_words("Annexe 1, item 3 (not read)", []) == ["item", "not", "read"]
    assert english_words("Freins à air, voir the rule of the road", []) == ["of", "the"]
    assert english_words("Le frein ne se relâche pas", []) == []


def test_no_text_of_a_french_book_falls_back_to_english(french_texts):
    assert [(page, line) for page, lines in french_texts.items() for line in lines if "[en] " in line] == []
