"""The site's full-text search against its pages: every page and heading can be found, with the words it has."""

from __future__ import annotations

import json
import re
from collections import Counter
from collections.abc import Iterator
from html import unescape
from pathlib import Path
from typing import Any

from .objection import Objection
from .reading import squash
from .recital import said

HEADINGS = ("h1", "h2", "h3", "h4", "h5", "h6")
FILLED = ("measure.html", "practice.html", "walk.html")
"""Pages that a script fills: what search knows of them comes from parts that it moves and from empty headings."""
LISTS = ("actions/", "severity/", "compare/", "sources.html#coverage", "standing.html#entries", "standing.html#facts")
"""Where what stands under a heading lists defects or facts that search finds in their own places."""
_TAG = re.compile(r"<[^<>]*>")


def prove_search(trees: dict[str, Any], path: Path, output: str) -> Iterator[Objection]:
    """Objections to the search index of a site.

    Args:
        trees: the pages by their address in the site.
        path: where the index is.
        output: its name in objections.
    """
    try:
        documents = [(one["location"], one["title"], one["text"])
                     for one in json.loads(path.read_text(encoding="utf-8"))["docs"]]  # fmt: skip
    except (OSError, ValueError, KeyError, TypeError) as error:
        yield Objection(output, "file", f"cannot be read: {error}")
        return
    by_page: dict[str, list[tuple[str, str, str]]] = {}
    for location, title, text in documents:
        by_page.setdefault(location.partition("#")[0], []).append((location, title, text))
    if list(by_page) != sorted(by_page, key=_place) or [one for one in documents if "#" not in one[0]] != [
            by_page[page][0] for page in by_page] or documents != [one for page in by_page.values() for one in page]:  # fmt: skip
        yield Objection(output, "order", "is not that of the pages, each followed by its headings")
    for page, tree in trees.items():
        yield from _page(page, tree, by_page.pop(page, []), output)
    for page in by_page:
        yield Objection(output, page, "is found by search, and is no page")


def _place(page: str) -> list[tuple[int, bool, str]]:
    """The place of a page in the index: the first page of a folder, its others by name, then the folders in it."""
    *folders, name = page.split("/")
    return [*((1, True, folder) for folder in folders), (0, name != "index.html", name)]


def _page(page: str, tree: Any, documents: list[tuple[str, str, str]], output: str) -> Iterator[Objection]:
    """A page is found by itself and by each of its headings, and what is found is what it says, in its order."""
    article = tree.find(".//article")
    headings = {f"{page}#{one.get('id')}": squash(said(one)) for one in article.iter(*HEADINGS) if one.get("id")}
    title = squash((tree.findtext(".//title") or "").partition(" - ")[0])
    places = Counter(location for location, _, _ in documents)
    for location in [page, *headings]:
        if location not in places:
            yield Objection(output, location, "cannot be found by search")
    for location, times in places.items():
        if times > 1 or location not in (page, *headings):
            yield Objection(output, location, "is found by search, and does not stand on the page, or stands twice")
    told = _with_text(article, page)
    words, at = squash(said(article, marks=False)), 0
    for location, name, text in documents:
        # A heading in a part that search leaves out is found under the page's own title, and has no words.
        known = {title, *([headings[location]] if location in headings else list(headings.values())[:1])}
        other = location in headings and squash(unescape(name)) != headings[location] and text and page not in FILLED
        if squash(unescape(name)) not in known or other:
            yield Objection(output, location, f"is found as {name!r}")
        if location in told and not text.strip() and page not in FILLED:
            yield Objection(output, location, "is found without the words that stand there")
        for piece in _TAG.split(text):
            found = words.find(squash(unescape(piece)), at)
            if found < 0:
                yield Objection(output, location, f"is found with words that it does not have there: {piece.strip()}")
                break
            at = 0 if page in FILLED else found


def _with_text(article: Any, page: str) -> set[str]:
    """Places of a page where running text stands under a heading; the first is left out, as the page is found by it."""
    found: list[str] = []
    place = ""
    for one in article.iter():
        if one.tag in HEADINGS:
            place = f"{page}#{one.get('id')}" if one.get("id") else ""
            found.append(place)
        elif one.tag in ("p", "li") and place and (one.text or len(one)) and next(one.iterancestors("table"), None) is None:
            found.append(f"{place} ")
    first = next((place for place in found if place), "").strip()
    return {one.strip() for one in found if one.endswith(" ")} - {first} - {
        one.strip() for one in found if one.startswith(LISTS)}  # fmt: skip
