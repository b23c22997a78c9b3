"""The proof objects to every change of what the page of cards says of an edition, or can answer of a code."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from lxml import html

from chockbook.catalogue import Catalogue
from chockbook.editions import catalogue_as_data
from chockbook.lookup import write_lookup
from chockbook.pages import build_site, write_pages
from chockbook.proof.changes import prove_changes
from chockbook.proof.facts import reader_of
from chockbook.proof.recite_page import prove_page
from chockbook.proof.sight import prove_sight

MKDOCS_YML = Path(__file__).parents[2] / "mkdocs.yml"


@pytest.fixture(scope="module")
def book(tiny: Catalogue, shipped: Catalogue, tmp_path_factory: pytest.TempPathFactory) -> tuple[Catalogue, dict[str, str]]:
    """A catalogue with two former editions, one whose cards say the same, and the pages of its book in English."""
    catalogue = replace(tiny, words=shipped.words, languages=shipped.languages, search=shipped.search)
    stale, same = catalogue_as_data(catalogue), catalogue_as_data(catalogue)
    stale["edition"]["code"], same["edition"]["code"] = "00a11eaf", "5a5a5a5a"
    same["edition"]["check_by"] = "2026-06-01"
    stale["entries"][1]["rulings"][0]["severity"] = "minor"
    catalogue = replace(catalogue, former=(same, stale))
    folder = tmp_path_factory.mktemp("book")
    write_pages(catalogue, "demo", "en", folder / "pages")
    write_lookup(catalogue, "demo", "en", folder / "pages")
    build_site(MKDOCS_YML, folder / "pages", folder / "site", date(2026, 1, 5))
    pages = {path.relative_to(folder / "site").as_posix(): path.read_text(encoding="utf-8")
             for path in (folder / "site").rglob("*.html")}  # fmt: skip
    return catalogue, pages


def objections(catalogue: Catalogue, pages: dict[str, str]) -> Iterator[str]:
    trees = {name: html.fromstring(text) for name, text in pages.items()}
    tree = trees["card.html"]
    yield from map(str, prove_page(reader_of(catalogue, "en"), "demo", "card.html", tree, [], "card.html"))
    yield from map(str, prove_changes(catalogue, trees, "demo", "en", "site"))
    yield from map(str, prove_sight(tree, "card.html"))


def test_the_page_as_it_is_written_is_proved(book):
    assert list(objections(*book)) == []


@pytest.mark.parametrize(("old", "new", "expected"), [
    ('data-current-past="Your card is of the newest edition', 'data-current-past="Your card is current: the newest edition',
     "current-past: is not said as"),
    ('data-same-past="', 'data-same-gone="', "same-past: is not said as"),
    ("Do not rely on yours until it is checked.", "Rely on it.", "stale: is not said as"),
    ('data-kept="Answered from the copy kept on this device. ', 'data-kept="', "kept: is not said as"),
    ('data-check-by="2026-06-01"', 'data-check-by="2029-06-01"', "5a5a5a5a: is not to be checked by 2026-06-01"),
    ("Check by 2026-06-01", "Check by 2029-06-01", "says …"),
    ("ask your carrier.</p>", "all is well.</p>", "says …"),
    ("The newest edition known here is", "The newest edition is", "says …"),
    ("stale, cards changed since", "the current one", "00a11eaf: is not said to be stale"),
    ("<li>Tire</li>", "<li>City horn</li>", "says …"),
    ("<li>Tire</li>", "", "says …"),
    ("Look for these on your cards, and ask your carrier", "Ask nobody", "look: is not said as"),
    ('data-state="same"', 'data-state="current"', "5a5a5a5a: is not said to be same"),
    ('<div id="card-bounds">', '<div id="card-bounds" hidden>', "is hidden"),
])  # fmt: skip
def test_another_verdict_date_or_bound_is_seen(book, old, new, expected):
    catalogue, pages = book
    assert old in pages["card.html"]
    found = list(objections(catalogue, {**pages, "card.html": pages["card.html"].replace(old, new, 1)}))
    assert any(expected in one for one in found), found
