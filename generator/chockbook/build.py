"""The order of the stages: tables to catalogue to views to files, then the proof, then the swap."""

from __future__ import annotations

import os
import shutil
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from pathlib import Path

from . import exports, lookup, pages, printing, proof
from .catalogue import Catalogue
from .catalogue.wording import in_language
from .faults import Fault
from .manifest import write_manifest
from .output import OutputForeign, replacing
from .project import Project
from .views.books import Book, border_sheet_name, view_books
from .views.pairs import has_pairs
from .workers import catalogue_at_work, workers

Say = Callable[[str], None]


class FaultyTables(Exception):
    """The tables have errors, so nothing was written."""

    def __init__(self, faults: list[Fault]) -> None:
        self.faults = faults
        super().__init__(f"{len(faults)} faults in the tables")

    def __reduce__(self) -> tuple[type[FaultyTables], tuple[list[Fault]]]:
        """How it travels from a worker process."""
        return FaultyTables, (self.faults,)


class ProofFailed(Exception):
    """The finished files and the catalogue do not agree, so nothing was replaced."""

    def __init__(self, result: proof.Proof) -> None:
        self.proof = result
        super().__init__(f"{len(result.objections)} objections of the proof, the first: {next(iter(result.objections), None)}")

    def __reduce__(self) -> tuple[type[ProofFailed], tuple[proof.Proof]]:
        """How it travels from a worker process."""
        return ProofFailed, (self.proof,)


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
    books = view_books(catalogue)
    _keep_apart(project, target)
    with replacing(target) as staging, workers(catalogue, min(len(books), os.cpu_count() or 1)) as pool:
        with _stage("write the data", say, seconds):
            write_data(catalogue, staging / "data")
        with _stage("write the books", say, seconds):
            # The longest work comes first: at the end no core waits long for the last one.
            sites = [pool.submit(_write_site, project, staging, book, books) for book in books]
            manuals = [pool.submit(_print_manual, staging / "print", book) for book in books]
            others = [pool.submit(_print_others, staging / "print", book) for book in books]
            for book, site in zip(books, sites, strict=True):
                _put(site.result(), staging / "site" / book.folder)
            printed = [document for manual, rest in zip(manuals, others, strict=True)
                       for document in (manual.result(), *rest.result())]  # fmt: skip
            copy_border_sheets(staging, books)
        with _stage("prove", say, seconds):
            result = proof.prove(catalogue, staging, pool)
        if result.objections:
            raise ProofFailed(result)
        write_manifest(catalogue, staging)
        files = sum(1 for path in staging.rglob("*") if path.is_file())
    return Built(target, catalogue, assembly.faults, result, files, seconds, printed)


def _keep_apart(project: Project, target: Path) -> None:
    """Raises OutputForeign where the output would take the place of the tables, or stand among them."""
    out, tables = Path(os.path.realpath(target)), Path(os.path.realpath(project.tables))
    if tables.is_relative_to(out) or out.is_relative_to(tables):
        raise OutputForeign(f"{target} holds the tables or stands among them; name another output folder")


def _put(finished: Path, place: Path) -> None:
    """Move a finished site to its place: sites stand in each other's folders, and MkDocs clears what it builds in."""
    place.parent.mkdir(parents=True, exist_ok=True)
    finished.rename(place)


def preview(project: Project, folder: Path, rulebook_id: str | None = None, language: str | None = None) -> Built:
    """Build and prove the site of one book alone, for somebody who works on the tables.

    Args:
        project: where the tables and mkdocs.yml are.
        folder: the folder to write; the site stands in its folder site.
        rulebook_id: which rulebook; the first where it is left out.
        language: which language; the first where it is left out.

    Raises:
        FaultyTables, ProofFailed, SiteFault, OSError: as for build.
        LookupError: the tables have no such book.
    """
    seconds: dict[str, float] = {}
    with _stage("check the tables", _quiet, seconds):
        assembly = project.assemble()
    if assembly.catalogue is None:
        raise FaultyTables(assembly.faults)
    catalogue = assembly.catalogue
    wanted = (book for book in view_books(catalogue)
              if rulebook_id in (None, book.rulebook_id) and language in (None, book.language))  # fmt: skip
    book = next(wanted, None)
    if book is None:
        raise LookupError(f"there is no book of {rulebook_id or 'any rulebook'} in {language or 'any language'}")
    alone = replace(book, folder="")
    with replacing(folder, mark="site/index.html") as staging:
        with _stage("write the book", _quiet, seconds):
            _put(write_book_site(catalogue, project, staging, alone, (alone,)), staging / "site")
        with _stage("prove", _quiet, seconds):
            result = proof.prove_one_site(catalogue, staging / "site", alone.rulebook_id, alone.language)
        if result.objections:
            raise ProofFailed(result)
    return Built(folder, catalogue, assembly.faults, result, seconds=seconds)


def _quiet(line: str) -> None:
    """Says nothing."""


def write_data(catalogue: Catalogue, folder: Path) -> None:
    """The catalogue for other programs, and schemas of the tables and of carriers' files for editors."""
    folder.mkdir()
    exports.write_catalogue_json(catalogue, folder / "catalogue.json")
    exports.write_catalogue_csv(catalogue, folder / "catalogue.csv")
    exports.write_editor_schemas(folder / "schemas")


def pages_folder(output: Path, book: Book) -> Path:
    """Where the Markdown pages of a book stand: the first book's where mkdocs.yml looks for them."""
    return output / "pages-of-books" / book.folder if book.folder else output / "pages"


def roadside_name(book: Book) -> str:
    """Name of the single-file lookup of a book: roadside.html for the first."""
    return f"roadside.{book.rulebook_id}.{book.language}.html" if book.folder else "roadside.html"


def write_book_site(catalogue: Catalogue, project: Project, staging: Path, book: Book, books: tuple[Book, ...]) -> Path:
    """Pages, lookup and site of one book, finished in a folder of its own.

    Args:
        catalogue: the checked catalogue.
        project: where mkdocs.yml is.
        staging: the folder of all outputs.
        book: the book to write.
        books: all books that it leads across to.

    Returns:
        The folder of the finished site.

    Raises:
        SiteFault: the site could not be built.
    """
    folder = pages_folder(staging, book)
    pages.write_pages(catalogue, book.rulebook_id, book.language, folder, books)
    lookup.write_lookup(catalogue, book.rulebook_id, book.language, folder, books)
    lookup.write_roadside(catalogue, book.rulebook_id, book.language, staging / roadside_name(book))
    if len(books) > 1:
        write_border_sheets(catalogue, book, folder / "compare")
    site = staging / f"site-of-{book.rulebook_id}-{book.language}"
    build_book_site(catalogue, project, folder, site, book.language)
    try:
        lookup.seal_pages(site)
    except lookup.Unsealable as error:
        told = f"{error}; pages run no foreign script and style, so look for it in {project.config.name}"
        raise pages.SiteFault([told], []) from error
    lookup.write_service_worker(site, catalogue.edition.code)
    return site


def build_book_site(catalogue: Catalogue, project: Project, folder: Path, site: Path, language: str) -> None:
    """The site of one book from the folder of its pages.

    Raises:
        SiteFault: the site could not be built.
    """
    names = tuple(in_language(catalogue.words[key], language) for key in ("web-go-dark", "web-go-light"))
    pages.build_site(project.config, folder, site, catalogue.edition.date, language, names)


def _write_site(project: Project, staging: Path, book: Book, books: tuple[Book, ...]) -> Path:
    return write_book_site(catalogue_at_work(), project, staging, book, books)


def _print_manual(folder: Path, book: Book) -> printing.Printed:
    return print_manual(catalogue_at_work(), folder, book)


def _print_others(folder: Path, book: Book) -> list[printing.Printed]:
    return print_others(catalogue_at_work(), folder, book)


def print_manual(catalogue: Catalogue, folder: Path, book: Book) -> printing.Printed:
    """The manual of a book, which takes as long as all its other documents; the first book's stands at the top.

    Raises:
        SettingFailed: it could not be set.
    """
    place = folder / book.folder
    return printing.render_manual(catalogue, book.rulebook_id, book.language, place / "manual.pdf")


def print_others(catalogue: Catalogue, folder: Path, book: Book) -> list[printing.Printed]:
    """Cards, checklists, report form and teaching sheets of a book; the first book's stand at the top of the folder.

    Raises:
        CardOverflow: an entry does not fit on an empty card.
        SettingFailed: a document could not be set.
    """
    place = folder / book.folder
    place.mkdir(parents=True, exist_ok=True)
    about = catalogue, book.rulebook_id, book.language
    return [
        printing.render_fitting_cards(*about, place / "cards.pdf"),
        printing.render_checklist(*about, place / "checklist.pdf"),
        printing.render_checklist(*about, place / "checklist-all.pdf", printing.WHOLE_ROUTE),
        printing.render_report_form(*about, place / "report.pdf"),
        printing.render_walk_sheet(*about, place / "walk.pdf"),
        printing.render_score_sheet(*about, place / "score.pdf"),
        *([printing.render_pairs(*about, place / "pairs.pdf")] if has_pairs(catalogue, book.rulebook_id) else []),
    ]


def write_border_sheets(catalogue: Catalogue, book: Book, place: Path) -> None:
    """The sheet for a driver who crosses from the book's rulebook into another, beside the page that leads to it.

    Raises:
        SettingFailed: a sheet could not be set.
    """
    for other in catalogue.rulebooks:
        if other.id != book.rulebook_id:
            out = place / border_sheet_name(other.id)
            printing.render_comparison(catalogue, book.rulebook_id, other.id, book.language, out)


def copy_border_sheets(output: Path, books: tuple[Book, ...]) -> None:
    """Put each border sheet with the printed documents too: the site keeps its own, since it is often copied alone."""
    for book in books:
        for sheet in sorted((output / "site" / book.folder / "compare").glob(border_sheet_name("*"))):
            shutil.copyfile(sheet, output / "print" / book.folder / sheet.name)


@contextmanager
def _stage(name: str, say: Say, seconds: dict[str, float]) -> Iterator[None]:
    started = time.perf_counter()
    yield
    seconds[name] = time.perf_counter() - started
    say(f"{name}: {seconds[name]:.1f} s")
