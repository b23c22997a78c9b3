"""The whole proof: every output of a finished folder against the catalogue."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import Executor
from dataclasses import dataclass
from pathlib import Path

from pypdfium2 import PdfiumError

from ..catalogue import Catalogue
from ..workers import catalogue_at_work, workers
from .card_order import prove_deck
from .data_files import prove_csv, prove_json
from .objection import Objection
from .pairs import wanted_pairs
from .print_recital import prove_every_checklist, prove_report, prove_usual_checklist
from .read_pdf import read_pdf
from .recite_pairs import prove_whole_pairs
from .roadside import prove_roadside
from .schemas import prove_schemas
from .site import prove_site
from .walk_recital import prove_whole_score, prove_whole_walk
from .whole_crossing import prove_whole_crossing
from .whole_manual import prove_whole_manual


@dataclass(frozen=True)
class Proof:
    """What the proof looked at and what it objects to."""

    entries: int
    outputs: tuple[str, ...]
    objections: tuple[Objection, ...]

    def summary(self) -> str:
        """One line: how much was compared, and with what result."""
        looked = f"{self.entries} entries in {', '.join(self.outputs)}"
        if not self.objections:
            return f"proved: {looked}: all agree with the catalogue"
        return f"not proved: {looked}: {len(self.objections)} objections"


def prove(catalogue: Catalogue, output: Path, pool: Executor | None = None) -> Proof:
    """Open the finished files and compare each with the catalogue.

    A file that is missing or cannot be read is an objection, not an exception. Several books are shared out
    over the processor's cores.

    Args:
        catalogue: what the files are to say.
        output: the folder of all outputs.
        pool: workers that hold the catalogue, where there are some; otherwise they are called up here.
    """
    tasks = [(output, kind, *book) for book in books(catalogue) for kind in _of_a_book(catalogue, book[0])]
    tasks += [(output, f"{BORDER}{other.id}.pdf", *book) for book in books(catalogue) for other in catalogue.rulebooks
              if other.id != book[0]]  # fmt: skip
    tasks += [(output, kind, "", "", "") for kind in OF_ALL]
    unclaimed = list(_unclaimed(catalogue, output))
    if pool is not None:
        return _proof(catalogue, (unclaimed, *_judged(pool, tasks)))
    cores = 1 if len(catalogue.rulebooks) * len(catalogue.languages) == 1 else os.cpu_count() or 1
    with workers(catalogue, cores) as called:
        return _proof(catalogue, (unclaimed, *_judged(called, tasks)))


def _judged(pool: Executor, tasks: list[Task]) -> Iterator[list[Objection]]:
    """What is found in each task, in the tasks' order; sites and manuals take longest, so they are begun first."""
    begun = {task: pool.submit(_judge, task) for task in sorted(tasks, key=lambda task: LONG.get(task[1], len(LONG)))}
    return (begun[task].result() for task in tasks)


def prove_one_site(catalogue: Catalogue, site: Path, rulebook_id: str, language: str) -> Proof:
    """Compare the site of one book alone with the catalogue."""
    return Proof(len(catalogue.entries), ("site",), tuple(prove_site(catalogue, site, rulebook_id, language, "site")))


def _proof(catalogue: Catalogue, found: Iterable[list[Objection]]) -> Proof:
    sheets = ("border sheets",) if len(catalogue.rulebooks) > 1 else ()
    return Proof(len(catalogue.entries), (*OF_ALL, *OF_A_BOOK, *sheets), tuple(one for part in found for one in part))


Task = tuple[Path, str, str, str, str]
"""The output's folder, the file or the site, and the book it belongs to: rulebook, language, folder."""


def _judge(task: Task) -> list[Objection]:
    output, kind, rulebook_id, language, folder = task
    catalogue = catalogue_at_work()
    if kind in OF_ALL:
        return list(OF_ALL[kind](catalogue, output / "data" / kind, f"data/{kind}"))
    area = "site" if kind == "site" else "print"
    name = "/".join(part for part in (area, folder, "" if kind == area else kind) if part)
    path = output / name
    if kind == "site":
        return list(prove_site(catalogue, path, rulebook_id, language, name, list(books(catalogue))))
    if kind == "roadside.html":
        file = f"roadside.{rulebook_id}.{language}.html" if folder else kind
        return list(prove_roadside(catalogue, output / file, rulebook_id, language, file))
    try:
        reading = read_pdf(path)
    except (OSError, PdfiumError) as error:
        return [Objection(name, "file", f"cannot be read: {error}")]
    if kind.startswith(BORDER):
        other = kind.removeprefix(BORDER).removesuffix(".pdf")
        return [*prove_whole_crossing(catalogue, reading, name, rulebook_id, other, language), *_same(output, folder, path)]
    return list(OF_A_BOOK[kind](catalogue, reading, name, rulebook_id, language))


LONG = {"site": 0, "manual.pdf": 1}
"""Outputs whose proof takes longest, the longest first."""
BORDER = "border-"
"""Beginning of the name of a border sheet; the rulebook that the driver crosses into follows."""


def _same(output: Path, folder: str, sheet: Path) -> Iterator[Objection]:
    """The site has the same border sheet beside the page that leads to it."""
    name = "/".join(part for part in ("site", folder, "compare", sheet.name) if part)
    try:
        if (output / name).read_bytes() != sheet.read_bytes():
            yield Objection(name, "file", "is not the sheet that stands with the printed documents")
    except OSError as error:
        yield Objection(name, "file", f"cannot be read: {error}")


def _unclaimed(catalogue: Catalogue, output: Path) -> Iterator[Objection]:
    """Files to hand out that no proof opens: to sign such a file off would say of it what nobody looked at.

    The site's own proofs tell its pages and what it keeps for the roadside; here are its printed sheets.
    """
    claimed = {f"data/{name}" for name in OF_ALL}
    for rulebook_id, language, folder in books(catalogue):
        claimed.add(f"roadside.{rulebook_id}.{language}.html" if folder else "roadside.html")
        sheets = [f"{BORDER}{other.id}.pdf" for other in catalogue.rulebooks if other.id != rulebook_id]
        claimed.update("/".join(filter(None, ("print", folder, name)))
                       for name in (*_of_a_book(catalogue, rulebook_id), *sheets) if name.endswith(".pdf"))  # fmt: skip
        claimed.update("/".join(filter(None, ("site", folder, "compare", name))) for name in sheets)
    found = [*output.glob("roadside*"), *output.glob("data/*"), *output.glob("print/**/*"), *output.glob("site/**/*.pdf")]
    for path in sorted(found):
        name = path.relative_to(output).as_posix()
        if name not in claimed and not (name.startswith("print/") and path.is_dir()):
            yield Objection(name, "file", "is not proved: no proof opens it")


OF_ALL: dict[str, Callable[..., Iterator[Objection]]] = {"catalogue.json": prove_json, "catalogue.csv": prove_csv,
                                                         "schemas": prove_schemas}  # fmt: skip
"""Files of the whole catalogue, and what proves them."""
OF_A_BOOK: dict[str, Callable[..., Iterator[Objection]]] = {
    "site": prove_site,
    "roadside.html": prove_roadside,
    "manual.pdf": prove_whole_manual,
    "cards.pdf": prove_deck,
    "checklist-all.pdf": prove_every_checklist,
    "checklist.pdf": prove_usual_checklist,
    "report.pdf": prove_report,
    "walk.pdf": prove_whole_walk,
    "score.pdf": prove_whole_score,
    "pairs.pdf": prove_whole_pairs,
}
"""Outputs of each book, and what proves them."""


def _of_a_book(catalogue: Catalogue, rulebook_id: str) -> list[str]:
    """Outputs that a book has: a sheet of pairs only where its rulebook has pairs."""
    none = set() if wanted_pairs(catalogue, rulebook_id) else {"pairs.pdf"}
    return [kind for kind in OF_A_BOOK if kind not in none]


def books(catalogue: Catalogue) -> Iterator[tuple[str, str, str]]:
    """Rulebook, language and folder of each book: the first stands at the top, the others below their names."""
    first = True
    for rulebook in catalogue.rulebooks:
        for language in catalogue.languages:
            yield rulebook.id, language.code, "" if first else f"{rulebook.id}/{language.code}"
            first = False
