"""The books of a site: one for each rulebook in each language, and the ways from one to the others."""

from __future__ import annotations

from dataclasses import dataclass

from ..catalogue import Catalogue
from .wording import in_language


@dataclass(frozen=True, slots=True)
class Book:
    """Everything about one rulebook in one language."""

    rulebook_id: str
    rulebook_name: str
    language: str
    language_name: str
    folder: str
    """Where it stands below the site: "" for the first book, otherwise such as "qc-list-1/fr"."""

    @property
    def prefix(self) -> str:
        """The folder as the beginning of an address: "" or "qc-list-1/fr/"."""
        return f"{self.folder}/" if self.folder else ""

    @property
    def up(self) -> str:
        """The way from the book's first page to the top of the site: "" or "../../"."""
        return "../" * (self.folder.count("/") + 1) if self.folder else ""


def view_books(catalogue: Catalogue) -> tuple[Book, ...]:
    """A book for each rulebook in each language; the first stands at the top of the site."""
    found = []
    for rulebook in catalogue.rulebooks:
        for language in catalogue.languages:
            folder = f"{rulebook.id}/{language.code}" if found else ""
            name = in_language(rulebook.short_name, language.code)
            found.append(Book(rulebook.id, name, language.code, language.name, folder))
    return tuple(found)


def is_first(books: tuple[Book, ...], rulebook_id: str, language: str) -> bool:
    """Whether a book stands at the top of the site."""
    return any(not book.folder and (book.rulebook_id, book.language) == (rulebook_id, language) for book in books)


def border_sheet_name(other_id: str) -> str:
    """Name of the file of a book's border sheet for the rulebook that a driver crosses into."""
    return f"border-{other_id}.pdf"


@dataclass(frozen=True, slots=True)
class WayAcross:
    """A link from a page of one book to the same page of another, or to the other's first page."""

    address: str
    """Relative to the page."""
    key: str
    """Rulebook and language, such as "qc-list-1/fr": what a device remembers of the choice."""
    rulebook_id: str
    rulebook_name: str
    language: str
    language_name: str
    here: bool
    """Whether it is the book that the page belongs to."""


def view_ways_across(
    catalogue: Catalogue, books: tuple[Book, ...], rulebook_id: str, language: str, page: str
) -> tuple[WayAcross, ...]:
    """The ways from a page to every book, its own included; none where there is one book only.

    Args:
        page: the page's path in its book, such as "components/horn.md" or "index.html".
    """
    if len(books) < 2:
        return ()
    own = next(book for book in books if (book.rulebook_id, book.language) == (rulebook_id, language))
    to_top = "../" * page.count("/") + own.up
    ways = []
    for book in books:
        there = _has_page(catalogue, book, page)
        target = page.removesuffix(".md").removesuffix(".html") + ".html" if there else "index.html"
        ways.append(
            WayAcross(
                address=f"{to_top}{book.prefix}{target}",
                key=f"{book.rulebook_id}/{book.language}",
                rulebook_id=book.rulebook_id,
                rulebook_name=book.rulebook_name,
                language=book.language,
                language_name=book.language_name,
                here=book == own,
            )
        )
    return tuple(ways)


def _has_page(catalogue: Catalogue, book: Book, page: str) -> bool:
    """Whether a book has a page at a path: pages of components, severities and actions differ between books."""
    folder, _, name = page.removesuffix(".md").removesuffix(".html").rpartition("/")
    if name == "index" or not folder:
        return True
    rulebook = catalogue.rulebook[book.rulebook_id]
    if folder == "components":
        return any(entry.rulings_under(rulebook.id) for entry in catalogue.entries_of.get(name, ()))
    if folder == "severity":
        return any(severity.id == name for severity in rulebook.severities)
    if folder == "actions":
        return any(action.id == name for action in rulebook.actions)
    if folder == "compare":
        return name != rulebook.id and any(other.id == name for other in catalogue.rulebooks)
    return True
