"""A sample of the mutation test: what run.py does thousands of times to the shipped build, here sixty times."""

from __future__ import annotations

import contextlib
import random
from pathlib import Path

import pytest
from changes_of_pages import KINDS, NoPlace, Page, change_page
from judging import Book, data_objected
from lxml import html
from run import PARTLY, Run, words_of

from chockbook.build import Built
from chockbook.proof.prove import OF_A_BOOK, books
from chockbook.proof.read_pdf import read_pdf


@pytest.fixture(scope="module")
def book(finished: Built) -> Book:
    return Book(finished.catalogue, finished.output, next(iter(books(finished.catalogue))))


def test_what_is_not_changed_is_not_objected_to(book: Book, finished: Built) -> None:
    """Without this the judge could say yes to everything: read, written out again, every page still passes."""
    for page in book.pages:
        source = html.tostring(html.fromstring((book.site / page).read_bytes()), encoding="utf-8", doctype="<!doctype html>")
        assert not book.page(page, source), page
    for kind in ("lookup-data.js", "bank.js", "search_index.json", "sw.js"):
        assert not book.file(kind, book.site), kind
    assert not book.file("roadside.html", finished.output)
    for name in ("catalogue.json", "catalogue.csv"):
        assert not data_objected(finished.catalogue, name, finished.output / "data")
    printed = [name for name in OF_A_BOOK if name.endswith(".pdf") and (book.prints / name).exists()]
    assert len(printed) >= 6  # a sheet of pairs only where there are pairs
    for name in printed:
        assert not book.print(name, read_pdf(book.prints / name)), name


def test_every_seen_change_of_the_sample_is_objected_to(finished: Built) -> None:
    run = Run(finished.catalogue, finished.output, {"pages", "data", "prints"})
    changes = [change for change in run.changes(60, seed=20261125) if change.output not in PARTLY]
    assert len(changes) > 40
    assert len({change.kind for change in changes}) > 10
    assert [change for change in changes if not change.caught] == []


@pytest.mark.parametrize("kind", sorted(KINDS))
def test_a_change_of_each_kind_to_a_component_is_objected_to(kind: str, book: Book) -> None:
    source = (book.site / "components" / "tire.html").read_bytes()
    changes = []
    for seed in range(12):
        with contextlib.suppress(NoPlace):
            changes.append((seed, change_page(source, kind, words_of(book), random.Random(seed))))
        if len(changes) == 3:
            break
    assert changes, f"the page has no place for a change of the kind {kind}"
    for seed, changed in changes:
        assert changed != source
        assert book.page("components/tire.html", changed), seed


def test_a_change_that_nobody_sees_is_not_made() -> None:
    page = Page(b"<html><body><article><p>Go on </p></article></body></html>", {}, random.Random(1))
    place = (page.article.find("p"), "text", "Go on ")
    with pytest.raises(NoPlace):
        page.put(place, "Go  on")


def test_the_same_seed_makes_the_same_changes(finished: Built) -> None:
    one, other = (list(Run(finished.catalogue, Path(finished.output), {"data"}).changes(4, seed=3)) for _ in range(2))
    assert one == other
    assert len(one) == 4
