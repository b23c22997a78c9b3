"""The site's pages against the catalogue: every entry whole on its page, every list complete."""

from __future__ import annotations

import copy
import json
import posixpath
import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from lxml import etree, html

from ..catalogue import Catalogue, Entry
from ..catalogue.wording import in_language
from .changes import TOLD_OF_CHANGES, prove_changes
from .facts import Reader, reader_of
from .lookup_data import prove_lookup_file
from .objection import Objection
from .offline import prove_offline
from .pairs import prove_pairs_page
from .practice import prove_practice
from .reading import PLACE, Vocabulary, compare, squash
from .recite_page import pages_of_book, prove_page
from .search import prove_search
from .sight import prove_policy, prove_sight

ENTRY = ".//*[@data-entry]"
_PLAIN = etree.HTMLParser()
"""Gives elements as they are: lxml.html's own looks up a class for each, every time it is met."""


def prove_site(catalogue: Catalogue, folder: Path, rulebook_id: str, language: str, name: str = "site",
               books: list[tuple[str, str, str]] | None = None) -> Iterator[Objection]:  # fmt: skip
    """Objections to the pages of one book: one rulebook in one language.

    Args:
        catalogue: what has to be there.
        folder: the book's folder; books below it, each in a folder named after a rulebook, are passed over.
        rulebook_id: the book's rulebook.
        language: the book's language.
        name: how the folder is named in objections.
        books: rulebook, language and folder of each book that stands in the same site; none for a book alone.
    """
    reader = reader_of(catalogue, language)
    below = tuple(f"{rulebook.id}/" for rulebook in catalogue.rulebooks)
    found = ((path.relative_to(folder).as_posix(), path) for path in sorted(folder.rglob("*.html")))
    pages = {page: path for page, path in found if not page.startswith(below)}
    if not pages:
        yield Objection(name, "pages", "there are none")
        return
    trees: dict[str, Any] = {}
    for page, path in pages.items():
        if page != "404.html":
            trees[page] = html.fromstring(path.read_bytes(), parser=_PLAIN)
            vocabulary = reader.every_text_told if page in TOLD_OF_CHANGES else reader.every_text
            yield from prove_one_page(reader, rulebook_id, page, trees[page], books or [], vocabulary, f"{name}/{page}")
    for page in sorted(pages_of_book(catalogue, rulebook_id) - trees.keys()):
        yield Objection(f"{name}/{page}", "page", "is missing")
    yield from prove_changes(catalogue, trees, rulebook_id, language, name)
    yield from prove_whole(reader, rulebook_id, trees, name)
    yield from prove_practice(reader, folder, rulebook_id, name)
    yield from prove_search(trees, folder / "search" / "search_index.json", f"{name}/search/search_index.json")
    yield from prove_lookup_file(catalogue, folder, rulebook_id, language, name)
    yield from prove_offline(folder, below, catalogue.edition.code, name)


def prove_whole(reader: Reader, rulebook_id: str, trees: dict[str, Any], name: str) -> Iterator[Objection]:
    """What only all pages together can show to be wrong: an entry that stands nowhere or twice, a list with a gap."""
    entries = [entry for entry in reader.catalogue.entries if entry.rulings_under(rulebook_id)]
    yield from _entries(reader, trees, rulebook_id, entries, name)
    yield from _lists(reader, trees, rulebook_id, name)
    yield from prove_pairs_page(reader, trees.get("pairs.html"), rulebook_id, f"{name}/pairs.html")


def prove_one_page(reader: Reader, rulebook_id: str, page: str, tree: Any, books: list[tuple[str, str, str]],
                   known: Vocabulary, output: str) -> Iterator[Objection]:  # fmt: skip
    """What a page by itself can show to be wrong: what it says, where it leads, what it hides.

    Args:
        known: every text that the page may say.
    """
    if tree.find(".//article") is None:
        yield Objection(output, "page", "has no article")
        return
    yield from _page_furniture(reader, tree, output)
    yield from prove_page(reader, rulebook_id, page, tree, books, output)
    yield from prove_sight(tree, output)
    yield from prove_policy(tree, output)
    yield from _only_known_texts(known, tree, output)


def component_page(entry: Entry) -> str:
    """The page on which an entry stands."""
    return f"components/{entry.component.id}.html"


def _entries(reader: Reader, trees: dict[str, Any], rulebook_id: str, entries: list[Entry],
             name: str) -> Iterator[Objection]:  # fmt: skip
    """Each entry stands once, on its component's page, in full and in sight."""
    found: dict[str, list[tuple[str, Any]]] = {}
    for page, tree in trees.items():
        for block in tree.iterfind(ENTRY):
            found.setdefault(block.get("data-entry"), []).append((page, block))
    for entry in entries:
        places = found.pop(entry.id, [])
        output = f"{name}/{component_page(entry)}"
        if [page for page, _ in places] != [component_page(entry)]:
            where = ", ".join(page for page, _ in places) or "nowhere"
            yield Objection(output, entry.id, f"stands {where}, and belongs here once")
            continue
        block = places[0][1]
        if block.find(f".//*[@id='{entry.slug}']") is None:
            yield Objection(output, entry.id, f"has no anchor {entry.slug!r}")
        result = compare(visible_text(block), _required(reader, entry, rulebook_id), reader.neutral_words)
        for text in result.missing:
            yield Objection(output, entry.id, f"does not say: {text}")
        for text in result.beyond:
            yield Objection(output, entry.id, f"says what the catalogue does not: {text}")
    on_page: dict[str, list[Entry]] = {}
    for entry in entries:
        on_page.setdefault(component_page(entry), []).append(entry)
    for page, here in on_page.items():
        if page in trees:
            yield from _choices(reader, trees[page], f"{name}/{page}", here, rulebook_id)
    for entry_id, places in found.items():
        yield Objection(f"{name}/{places[0][0]}", str(entry_id), "is not in the catalogue, or not in this rulebook")


def _choices(reader: Reader, tree: Any, output: str, entries: list[Entry], rulebook_id: str) -> Iterator[Objection]:
    """Where the reader picks what is seen, each entry stands once, under its own answer."""
    outcome, offered = "", []
    for element in tree.iterfind(".//nav[@class='choose']//*"):
        if "choose__outcome" in (element.get("class") or ""):
            outcome = visible_text(element).strip()
        elif element.tag == "a":
            offered.append((element.get("href"), squash(visible_text(element)), outcome))
    for entry in entries:
        answer = in_language(entry.rulings_under(rulebook_id)[0].severity.outcome, reader.language)
        words = squash(in_language(entry.condition, reader.language))
        found = [outcome for address, text, outcome in offered if address == f"#{entry.slug}" and text == words]
        if len(found) != 1:
            yield Objection(output, entry.id, "is not offered where the reader picks what is seen")
        elif squash(found[0]) != squash(answer):
            yield Objection(output, entry.id, f"is offered under {found[0]!r}, not {answer!r}")


def _required(reader: Reader, entry: Entry, rulebook_id: str) -> Iterator[str]:
    language = reader.language
    yield reader.heading(entry)
    yield in_language(entry.check, language)
    rulings = entry.rulings_under(rulebook_id)
    otherwise = reader.otherwise(rulings)
    if otherwise:
        yield otherwise
    for ruling in rulings:
        yield from reader.outcome(ruling)
        if ruling.item.basis == "from-memory":
            yield reader.word("not-confirmed")
        yield from reader.actions(ruling)
        for action in ruling.actions:
            yield reader.word(f"by-{action.by}")
        yield from reader.source(ruling)
        if "from-memory" in (ruling.item.basis, ruling.item.locator_basis):
            yield reader.word("letter-not-confirmed")
    for limit in entry.limits:
        yield from reader.figures(limit)
    yield from reader.vehicles(entry)
    yield from entry.aliases.get(language, ())


def visible_text(block: Any) -> str:
    """The text of a block as a reader sees it."""
    return " ".join(block.itertext())


def _page_furniture(reader: Reader, tree: Any, output: str) -> Iterator[Objection]:
    """Edition, dates, aid line and cautions stand on every page."""
    edition = reader.catalogue.edition
    text = squash(visible_text(tree.find(".//article")))
    wanted = [
        f"{reader.word('edition')} {edition.code}",
        f"{reader.word('issued')} {edition.date}",
        f"{reader.word('check-by')} {edition.check_by}",
        reader.word("aid-line"),
        reader.word("caution-short"),
        reader.catalogue.publisher.name,
    ]
    wanted += [in_language(c.avoid, reader.language) for c in reader.catalogue.cautions]
    for line in wanted:
        if squash(line) not in text:
            yield Objection(output, "every page", f"does not say: {line}")


def _lists(reader: Reader, trees: dict[str, Any], rulebook_id: str, name: str) -> Iterator[Objection]:
    """Pages by severity and by action, and the schedule, name exactly the entries they are for."""
    rulings = [(entry, r) for entry in reader.catalogue.entries for r in entry.rulings_under(rulebook_id)]
    rulebook = reader.catalogue.rulebook[rulebook_id]
    wanted: dict[str, Counter[str]] = {
        "schedule.html": Counter(entry.id for entry, r in rulings for _ in (r.item, *r.also))
    }
    for severity in rulebook.severities:
        entries = Counter(entry.id for entry, r in rulings if r.item.severity == severity.id)
        wanted[f"severity/{severity.id}.html"] = entries
    for action in rulebook.actions:
        wanted[f"actions/{action.id}.html"] = Counter(entry.id for entry, r in rulings if action in r.actions)
    for page, entries in wanted.items():
        if page not in trees:
            if entries:
                yield Objection(f"{name}/{page}", "page", "is missing")
            continue
        found = Counter(_linked_entries(reader, trees[page], page))
        for entry_id in (entries - found).elements():
            yield Objection(f"{name}/{page}", entry_id, "is missing from the list")
        for entry_id in (found - entries).elements():
            yield Objection(f"{name}/{page}", entry_id, "does not belong in the list")
        count = reader.word("web-n-entries").replace("{number}", str(len(entries)))
        if page != "schedule.html" and squash(count) not in squash(visible_text(trees[page].find(".//article"))):
            yield Objection(f"{name}/{page}", "count", f"does not say: {count}")


def _linked_entries(reader: Reader, tree: Any, name: str) -> Iterator[str]:
    """Ids of the entries that a page links to with their own words."""
    by_address = {f"{component_page(entry)}#{entry.slug}": entry for entry in reader.catalogue.entries}
    for link in tree.iterfind(".//article//a[@href]"):
        address = posixpath.normpath(posixpath.join(posixpath.dirname(name), link.get("href")))
        entry = by_address.get(address)
        if entry is not None:
            text = squash(visible_text(link))
            if text in (squash(reader.heading(entry)), squash(in_language(entry.condition, reader.language))):
                yield entry.id
            else:
                yield f"{entry.id} under other words"


def _only_known_texts(anything: Vocabulary, tree: Any, output: str) -> Iterator[Objection]:
    """Texts of a page's article that neither the tables nor the fixed words have, data for scripts included."""
    article = tree.find(".//article")
    if article.find(".//mark") is not None:
        # Words that differ are marked in the middle of a text: what is judged is the text.
        article = copy.deepcopy(article)
        etree.strip_tags(article, "mark")
    for text in _texts(article):
        for part in anything.beyond(squash(text)):
            if not re.sub(r"[\W_]", "", part).isdigit():
                yield Objection(output, "text", f"says what the tables do not: {text.strip()}")
                break


def _texts(article: Any) -> Iterator[str]:
    for element in article.iter():
        if element.tag == "script":
            if element.get("type") == "application/json":
                yield from _sentences(json.loads(element.text or "null"))
        elif isinstance(element.tag, str) and element.tag != "style" and element.text:
            yield element.text
        if element.tail:
            yield element.tail


def _sentences(data: Any) -> Iterator[str]:
    """The strings of some data that a reader would read: those of more than one word."""
    if isinstance(data, str):
        yield from (piece for piece in PLACE.split(data) if " " in piece.strip())
    elif isinstance(data, dict):
        for value in data.values():
            yield from _sentences(value)
    elif isinstance(data, list):
        for value in data:
            yield from _sentences(value)
