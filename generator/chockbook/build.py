"""The order of the stages: tables to catalogue to views to files, then the proof, then the swap."""

from __future__ import annotations

import os
import shutil
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

from . import exports, lookup, pages, printing, proof
from .catalogue import Catalogue
from .catalogue.wording import in_language
from .faults import Fault
from .output import replacing
from .project import Project
from .views.books import Book, border_sheet_name, view_books
from .workers import catalogue_at_work, workers

Say = Callable[[str], None]


class FaultyTables(Exception):
    """The tables have errors, so nothing was written."""

    def __init__(self, faults: list[Fault]) -> None:
        self.faults = faults
        super().__init__(f"{len(faults)} faults in the tables")


class ProofFailed(Exception):
    """The finished files and the catalogue do not agree, so nothing was replaced."""

    def __init__(self, result: proof.Proof) -> None:
        self.proof = result
        super().__init__(f"{len(result.objections)} objections of the proof")


@dataclass
class Built:
    """What a build made, and how long each stage took."""

    output: Path
    catalogue: Catalogue
    warnings: list[Fault]
    proof: proof.Proof
    files: int = 0
    seconds: dict[str, float] = field(default_factory=dict)
    printed: list[printing.Printed] = field(default_factory=list)


def build(project: Project, output: Path | None = None, say: Say = lambda line: None) -> Built:
    """Build every output of a project and put it in place, proven, in one step.

    Args:
        project: where the tables and mkdocs.yml are.
        output: the folder to write; the project's dist/ where it is left out.
        say: takes one line for each stage.

    Raises:
        FaultyTables: the tables have errors.
        ProofFailed: an output does not say what the catalogue says.
        OutputBusy, OutputForeign: the output folder is in use, or not ours.
        SiteFault: the site could not be built from the pages.
        CardOverflow: an entry does not fit on an empty card.
        OSError: the output cannot be written.
    """
    seconds: dict[str, float] = {}
    with _stage("check the tables", say, seconds):
        assembly = project.assemble()
    if assembly.catalogue is None:
        raise FaultyTables(assembly.faults)
    catalogue = assembly.catalogue
    target = output or project.output
    with replacing(target) as staging:
        printed = _write(catalogue, project, staging, say, seconds)
        with _stage("prove", say, seconds):
            result = proof.prove(catalogue, staging)
        if result.objections:
            raise ProofFailed(result)
        files = sum(1 for path in staging.rglob("*") if path.is_file())
    return Built(target, catalogue, assembly.faults, result, files, seconds, printed)


def _write(catalogue: Catalogue, project: Project, staging: Path, say: Say,
           seconds: dict[str, float]) -> list[printing.Printed]:  # fmt: skip
    """Everything but the proof. The printed documents are set while MkDocs builds the sites."""
    books = view_books(catalogue)
    with _stage("write the data", say, seconds):
        data = staging / "data"
        data.mkdir()
        exports.write_catalogue_json(catalogue, data / "catalogue.json")
        exports.write_catalogue_csv(catalogue, data / "catalogue.csv")
        exports.write_editor_schemas(data / "schemas")
    with workers(catalogue, min(len(books), os.cpu_count() or 1)) as pool:
        prints = [pool.submit(_print, staging / "print", book) for book in books]
        sites = []
        with _stage("write the pages", say, seconds):
            for book in books:
                folder = pages_folder(staging, book)
                pages.write_pages(catalogue, book.rulebook_id, book.language, folder, books)
                lookup.write_lookup(catalogue, book.rulebook_id, book.language, folder, books)
                lookup.write_roadside(catalogue, book.rulebook_id, book.language, staging / roadside_name(book))
                sites.append(pool.submit(_build_site, project, staging, book))
        with _stage("build the sites and set the documents", say, seconds):
            for site in sites:
                site.result()
            printed = [document for documents in prints for document in documents.result()]
        copy_border_sheets(staging, books)
    with _stage("seal the pages", say, seconds):
        for folder in sorted((book.folder for book in books), reverse=True):
            lookup.seal_pages(staging / "site" / folder)
            lookup.write_service_worker(staging / "site" / folder, catalogue.edition.code)
    return printed


def pages_folder(output: Path, book: Book) -> Path:
    """Where the Markdown pages of a book stand: the first book's where mkdocs.yml looks for them."""
    return output / "pages-of-books" / book.folder if book.folder else output / "pages"


def roadside_name(book: Book) -> str:
    """Name of the single-file lookup of a book: roadside.html for the first."""
    return f"roadside.{book.rulebook_id}.{book.language}.html" if book.folder else "roadside.html"


def build_book_site(catalogue: Catalogue, project: Project, staging: Path, book: Book) -> None:
    """The site of one book from its pages.

    Raises:
        SiteFault: the site could not be built.
    """
    names = tuple(in_language(catalogue.words[key], book.language) for key in ("web-go-dark", "web-go-light"))
    pages.build_site(project.config, pages_folder(staging, book), staging / "site" / book.folder, book.language, names)


def _build_site(project: Project, staging: Path, book: Book) -> None:
    build_book_site(catalogue_at_work(), project, staging, book)


def _print(folder: Path, book: Book) -> list[printing.Printed]:
    return print_documents(catalogue_at_work(), folder, book)


def print_documents(catalogue: Catalogue, folder: Path, book: Book) -> list[printing.Printed]:
    """Manual, cards, checklists, report form and border sheets of a book; the first book's stand at the top.

    Raises:
        CardOverflow: an entry does not fit on an empty card.
        SettingFailed: a document could not be set.
    """
    place = folder / book.folder
    place.mkdir(parents=True, exist_ok=True)
    about = catalogue, book.rulebook_id, book.language
    return [
        printing.render_manual(*about, place / "manual.pdf"),
        printing.render_fitting_cards(*about, place / "cards.pdf"),
        printing.render_checklist(*about, place / "checklist.pdf"),
        printing.render_checklist(*about, place / "checklist-all.pdf", printing.WHOLE_ROUTE),
        printing.render_report_form(*about, place / "report.pdf"),
        *print_border_sheets(*about, place),
    ]


def print_border_sheets(
    catalogue: Catalogue, rulebook_id: str, language: str, place: Path
) -> list[printing.Printed]:
    """The sheet for a driver who crosses into it, for each other rulebook.

    Raises:
        SettingFailed: a sheet could not be set.
    """
    return [
        printing.render_comparison(catalogue, rulebook_id, other.id, language, place / border_sheet_name(other.id))
        for other in catalogue.rulebooks
        if other.id != rulebook_id
    ]


def copy_border_sheets(output: Path, books: tuple[Book, ...]) -> None:
    """Put a copy of each border sheet beside the page that leads to it: the site is often copied alone."""
    for book in books:
        for sheet in sorted((output / "print" / book.folder).glob(border_sheet_name("*"))):
            shutil.copyfile(sheet, output / "site" / book.folder / "compare" / sheet.name)


@contextmanager
def _stage(name: str, say: Say, seconds: dict[str, float]) -> Iterator[None]:
    started = time.perf_counter()
    yield
    seconds[name] = time.perf_counter() - started
    say(f"{name}: {seconds[name]:.1f} s")
