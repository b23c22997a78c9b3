"""Asks the proof about one changed file of a finished build, and of nothing else where that will do."""

from __future__ import annotations

from functools import cached_property
from pathlib import Path
from typing import Any

from lxml import html

from chockbook.catalogue import Catalogue
from chockbook.proof.changes import TOLD_OF_CHANGES, prove_changes
from chockbook.proof.data_files import prove_csv, prove_json
from chockbook.proof.facts import reader_of
from chockbook.proof.lookup_data import prove_lookup_file
from chockbook.proof.offline import prove_offline
from chockbook.proof.practice import prove_practice
from chockbook.proof.prove import BORDER, OF_A_BOOK, books
from chockbook.proof.read_pdf import PdfReading, read_pdf
from chockbook.proof.recite_page import recite
from chockbook.proof.roadside import prove_roadside
from chockbook.proof.schemas import prove_schemas
from chockbook.proof.search import prove_search
from chockbook.proof.sight import prove_sight
from chockbook.proof.site import prove_one_page, prove_whole
from chockbook.proof.whole_crossing import prove_whole_crossing


class Book:
    """A book of the build: one rulebook in one language, with what the proof reads once."""

    def __init__(self, catalogue: Catalogue, output: Path, book: tuple[str, str, str]) -> None:
        self.catalogue, self.output = catalogue, output
        self.rulebook_id, self.language, self.folder = book
        self.site = output / "site" / self.folder
        self.prints = output / "print" / self.folder
        self.readings: dict[Path, PdfReading] = {}
        self.recitals: dict[str, Any] = {}
        self.reader = reader_of(catalogue, self.language)
        self.below = tuple(f"{one.id}/" for one in catalogue.rulebooks)
        self.all_books = list(books(catalogue))
        found = sorted(path.relative_to(self.site).as_posix() for path in self.site.rglob("*.html"))
        self.pages = [page for page in found if not page.startswith(self.below) and page != "404.html"]
        self.roadside = output / (f"roadside.{self.rulebook_id}.{self.language}.html" if self.folder else "roadside.html")

    @cached_property
    def trees(self) -> dict[str, Any]:
        return {page: html.fromstring((self.site / page).read_bytes()) for page in self.pages}

    def page(self, page: str, source: bytes, reads: str = "content") -> bool:
        """Whether the proof objects to a page's content."""
        tree = html.fromstring(source)
        if page not in self.recitals:  # the same for every change of a page
            self.recitals[page] = recite(self.reader, self.rulebook_id, page, self.all_books)
        article = tree.find(".//article")
        if article is None or next(self.recitals[page].objections(article, page), None) or next(prove_sight(tree, page), None):
            return True
        known = self.reader.every_text_told if page in TOLD_OF_CHANGES else self.reader.every_text
        if next(prove_one_page(self.reader, self.rulebook_id, page, tree, self.all_books, known, page), None):
            return True
        trees = {**self.trees, page: tree}
        if page in TOLD_OF_CHANGES and next(prove_changes(self.catalogue, trees, self.rulebook_id, self.language, "site"), None):
            return True
        return next(prove_whole(self.reader, self.rulebook_id, trees, "site"), None) is not None

    def file(self, kind: str, folder: Path) -> bool:
        """Whether the proof objects to a file that stands changed in a folder of its own."""
        about = self.catalogue, folder, self.rulebook_id, self.language
        if kind == "lookup-data.js":
            return next(prove_lookup_file(*about, "site"), None) is not None
        if kind == "bank.js":
            return next(prove_practice(self.reader, folder, self.rulebook_id, "site"), None) is not None
        if kind == "search_index.json":
            return next(prove_search(self.trees, folder / "search" / kind, "site"), None) is not None
        if kind == "roadside.html":
            return next(prove_roadside(self.catalogue, folder / kind, self.rulebook_id, self.language, kind), None) is not None
        if kind == "sw.js":
            return next(prove_offline(folder, self.below, self.catalogue.edition.code, "site"), None) is not None
        raise ValueError(kind)

    def with_page(self, path: Path, number: int, changed: Path) -> PdfReading:
        """What a document says when one of its pages is another."""
        if path not in self.readings:
            self.readings[path] = read_pdf(path)
        whole = self.readings[path]
        return PdfReading((*whole.pages[:number], *read_pdf(changed).pages, *whole.pages[number + 1 :]), whole.bookmarks)

    def print(self, name: str, reading: PdfReading) -> bool:
        """Whether the proof objects to what a printed document says."""
        about = self.catalogue, reading, name, self.rulebook_id
        if name.startswith(BORDER):
            other = name.removeprefix(BORDER).removesuffix(".pdf")
            return next(prove_whole_crossing(*about, other, self.language), None) is not None
        return next(OF_A_BOOK[name](*about, self.language), None) is not None


def data_objected(catalogue: Catalogue, name: str, folder: Path) -> bool:
    """Whether the proof objects to a data file of the whole catalogue."""
    if name == "catalogue.json":
        return next(prove_json(catalogue, folder / name, name), None) is not None
    if name == "catalogue.csv":
        return next(prove_csv(catalogue, folder / name, name), None) is not None
    return next(prove_schemas(catalogue, folder, "schemas"), None) is not None
