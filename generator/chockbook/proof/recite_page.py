"""The recital of any page of a book: what stands on top, what the page is about, and its foot."""

from __future__ import annotations

import posixpath
from collections.abc import Callable, Iterator
from typing import Any

from ..catalogue import Catalogue
from ..catalogue.wording import in_language
from .facts import Reader
from .objection import Objection
from .recital import Recital
from .recite_changes import recite_card, recite_changes
from .recite_compare import recite_comparison, recite_crossing
from .recite_entry import recite_component
from .recite_facts import recite_cautions, recite_duties, recite_how_to_use, recite_provinces, recite_sources
from .recite_lists import (
    page_action,
    recite_action,
    recite_actions,
    recite_components,
    recite_figures,
    recite_schedule,
    recite_severities,
    recite_severity,
)
from .recite_pairs import recite_pairs
from .recite_route import recite_route, recite_station
from .recite_scripted import recite_measure, recite_practice, recite_standing, recite_walk
from .recite_start import recite_edition, recite_short_foot, recite_start

SINGLE: dict[str, tuple[str, Callable[[Recital], None]]] = {
    "components/index.html": ("web-components", recite_components),
    "severity/index.html": ("web-severities", recite_severities),
    "actions/index.html": ("web-actions", recite_actions),
    "schedule.html": ("web-schedule", recite_schedule),
    "figures.html": ("web-figures", recite_figures),
    "duties.html": ("web-duties", recite_duties),
    "cautions.html": ("web-cautions", recite_cautions),
    "how-to-use.html": ("web-how-to-use", recite_how_to_use),
    "provinces.html": ("web-provinces", recite_provinces),
    "sources.html": ("web-sources", recite_sources),
    "route.html": ("web-route", recite_route),
    "standing.html": ("web-standing", recite_standing),
    "walk.html": ("web-walk", recite_walk),
    "practice.html": ("web-practice", recite_practice),
    "measure.html": ("web-measure", recite_measure),
    "compare/index.html": ("web-compare", recite_comparison),
    "changes.html": ("web-changes", recite_changes),
    "card.html": ("web-card", recite_card),
    "pairs.html": ("web-pairs", recite_pairs),
}
"""Pages of which a book has one: the word that heads it, and what recites it."""


def prove_page(reader: Reader, rulebook_id: str, page: str, tree: Any, books: list[tuple[str, str, str]],
               output: str) -> Iterator[Objection]:  # fmt: skip
    """Objections to the words and links of a page's article, from first to last.

    Args:
        books: rulebook, language and folder of each book that the page leads across to; one where it leads to none.
    """
    articles = list(tree.iter("article"))
    if len(articles) != 1:
        yield Objection(output, "page", f"has {len(articles)} articles, and belongs to have one")
        return
    recital = recite(reader, rulebook_id, page, books)
    if recital is None:
        yield Objection(output, "page", "does not belong in this book")
        return
    yield from recital.objections(articles[0], output)


def recite(reader: Reader, rulebook_id: str, page: str, books: list[tuple[str, str, str]]) -> Recital | None:
    """The recital of a page, or nothing where a book has no such page."""
    recital = Recital(reader, rulebook_id, page)
    folder, _, file = page.rpartition("/")
    name = file.removesuffix(".html")
    catalogue, rulebook = reader.catalogue, recital.rulebook
    if page == "index.html":
        recite_start(recital, lambda: _ways_across(recital, books))
    elif page in SINGLE:
        heading, body = SINGLE[page]
        _top(recital, [], reader.word(heading), books)
        body(recital)
    elif folder == "components" and name != "index" and _has(reader, rulebook_id, page):
        component = catalogue.component[name]
        system = next(one for one in catalogue.systems if one.id == component.system)
        trail = [(reader.word("web-components"), "components/index.html"),
                 (recital.text(system.name), f"components/index.html#{system.id}")]  # fmt: skip
        _top(recital, trail, recital.text(component.name), books)
        recite_component(recital, name, lambda rulebook, slug: _same_page(recital, books, rulebook, slug))
    elif folder == "severity" and name in [one.id for one in rulebook.severities]:
        severity = next(one for one in rulebook.severities if one.id == name)
        title = f"{recital.text(severity.outcome)}: {recital.text(severity.name)}"
        _top(recital, [(reader.word("web-severities"), "severity/index.html")], title, books)
        recite_severity(recital, name)
    elif folder == "actions" and name in [one.id for one in rulebook.actions]:
        title = recital.text(page_action(recital, name).text)
        _top(recital, [(reader.word("web-actions"), "actions/index.html")], title, books)
        recite_action(recital, name)
    elif folder == "route" and name in [one.id for one in catalogue.stations]:
        station = next(one for one in catalogue.stations if one.id == name)
        _top(recital, [(reader.word("web-route"), "route.html")], recital.text(station.name), books)
        recite_station(recital, name)
    elif folder == "compare" and name in catalogue.rulebook and name != rulebook_id:
        here, there = (recital.text(one.short_name) for one in (rulebook, catalogue.rulebook[name]))
        title = recital.filled("across-into", here=here, there=there)
        _top(recital, [(reader.word("web-compare"), "compare/index.html")], title, books)
        recite_crossing(recital, name, len(books) > 1)
    else:
        return None
    if page == "index.html":
        recite_short_foot(recital)
        recital.say(reader.word("lookup-home-screen"), reader.word("uncontrolled"), ".")
    else:
        _foot(recital, cautions=page != "cautions.html")
    return recital


def _top(page: Recital, trail: list[tuple[str, str]], heading: str, books: list[tuple[str, str, str]]) -> None:
    for text, target in [(page.reader.word("web-start"), "index.html"), *trail]:
        page.link(text, target)
    _ways_across(page, books)
    page.say(heading)
    page.word("caution-short")


def _ways_across(page: Recital, books: list[tuple[str, str, str]]) -> None:
    """The same page of the other books, or their first page where they do not have it."""
    if len(books) < 2:
        return
    named = {language.code: language.name for language in page.catalogue.languages}
    title = {book: f"{in_language(page.catalogue.rulebook[book[0]].short_name, book[1])}, {named[book[1]]}" for book in books}
    own = next(book for book in books if book[:2] == (page.rulebook.id, page.language))
    page.say(page.reader.word("web-books"), title[own])
    for book in books:
        if book != own:
            target = posixpath.join(book[2], page.page if _has(page.reader, book[0], page.page) else "index.html")
            page.link(title[book], "../" * (own[2].count("/") + 1 if own[2] else 0) + target)


def _same_page(page: Recital, books: list[tuple[str, str, str]], rulebook_id: str, slug: str) -> str | None:
    """Where a page's entry stands in the book of another rulebook in the same language; nowhere on a site of one book."""
    if len(books) < 2:
        return None
    own = next(book for book in books if book[:2] == (page.rulebook.id, page.language))
    there = next(book for book in books if book[:2] == (rulebook_id, page.language))
    up = "../" * (own[2].count("/") + 1 if own[2] else 0)
    return f"{up}{posixpath.join(there[2], page.page)}#{slug}"


def _has(reader: Reader, rulebook_id: str, page: str) -> bool:
    """Whether the book of a rulebook has a page."""
    folder, _, file = page.rpartition("/")
    name = file.removesuffix(".html")
    known = reader.once(("has", rulebook_id), lambda: _names_in_folders(reader.catalogue, rulebook_id))
    return name == "index" or folder not in known or name in known[folder]


def _names_in_folders(catalogue: Catalogue, rulebook_id: str) -> dict[str, set[str]]:
    """By folder the pages in it that a rulebook's book has."""
    rulebook = catalogue.rulebook[rulebook_id]
    return {
        "components": {e.component.id for e in catalogue.entries if e.rulings_under(rulebook_id)},
        "severity": {severity.id for severity in rulebook.severities},
        "actions": {action.id for action in rulebook.actions},
        "compare": set(catalogue.rulebook) - {rulebook_id},
    }


def pages_of_book(catalogue: Catalogue, rulebook_id: str) -> set[str]:
    """Every page that a book has to have."""
    rulebook = catalogue.rulebook[rulebook_id]
    found = {"index.html", *SINGLE}
    found |= {f"components/{e.component.id}.html" for e in catalogue.entries if e.rulings_under(rulebook_id)}
    found |= {f"severity/{severity.id}.html" for severity in rulebook.severities}
    found |= {f"actions/{action.id}.html" for action in rulebook.actions}
    found |= {f"route/{station.id}.html" for station in catalogue.stations}
    return found | {f"compare/{other.id}.html" for other in catalogue.rulebooks if other.id != rulebook_id}


def _foot(page: Recital, cautions: bool) -> None:
    """The foot of a page: cautions, that it is an aid, the edition, and that a print is not kept current."""
    if cautions:
        recite_cautions(page)
    recite_edition(page, page.text(page.rulebook.name))
    page.say(page.reader.word("uncontrolled"), ".")
