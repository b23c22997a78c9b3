"""The whole proof: every output of a finished folder against the catalogue."""

from __future__ import annotations

import multiprocessing
import os
import pickle
from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from pathlib import Path

from ..catalogue import Catalogue
from .cards import prove_cards
from .checklist import prove_sheet, prove_whole_route
from .data_files import prove_csv, prove_json
from .manual import prove_manual
from .objection import Objection
from .site import prove_site


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


def prove(catalogue: Catalogue, output: Path) -> Proof:
    """Open the finished files and compare each with the catalogue.

    A file that is missing or cannot be read is an objection, not an exception. Several books are shared out
    over the processor's cores.
    """
    tasks = [(kind, *book) for book in books(catalogue) for kind in OF_A_BOOK]
    tasks += [(kind, "", "", "") for kind in OF_ALL]
    if len(tasks) <= len(OF_A_BOOK) + len(OF_ALL):
        found = [_judge(catalogue, output, *task) for task in tasks]
    else:
        workers = min(os.cpu_count() or 1, len(tasks))
        spawn, pickled = multiprocessing.get_context("spawn"), pickle.dumps(catalogue)
        with ProcessPoolExecutor(workers, mp_context=spawn, initializer=_take, initargs=(pickled, output)) as pool:
            found = list(pool.map(_judge_here, tasks))
    return Proof(len(catalogue.entries), (*OF_ALL, *OF_A_BOOK), tuple(one for part in found for one in part))


_AT_WORK: list[tuple[Catalogue, Path]] = []
"""Catalogue and output in a worker."""


def _take(pickled: bytes, output: Path) -> None:
    _AT_WORK[:] = [(pickle.loads(pickled), output)]


def _judge_here(task: tuple[str, str, str, str]) -> list[Objection]:
    return _judge(*_AT_WORK[0], *task)


def _judge(catalogue: Catalogue, output: Path, kind: str, rulebook_id: str, language: str, folder: str) -> list[Objection]:
    if kind in OF_ALL:
        return list(OF_ALL[kind](catalogue, output / "data" / kind, f"data/{kind}"))
    if kind == "site":
        name = f"site/{folder}".rstrip("/")
        return list(prove_site(catalogue, output / "site" / folder, rulebook_id, language, name))
    name = f"print/{folder}/{kind}" if folder else f"print/{kind}"
    return list(OF_A_BOOK[kind](catalogue, output / "print" / folder / kind, name, rulebook_id, language))


OF_ALL: dict[str, Callable[..., Iterator[Objection]]] = {"catalogue.json": prove_json, "catalogue.csv": prove_csv}
"""Files of the whole catalogue, and what proves them."""
OF_A_BOOK: dict[str, Callable[..., Iterator[Objection]]] = {
    "site": prove_site,
    "manual.pdf": prove_manual,
    "cards.pdf": prove_cards,
    "checklist-all.pdf": prove_whole_route,
    "checklist.pdf": prove_sheet,
    "report.pdf": prove_sheet,
}
"""Outputs of each book, and what proves them."""


def books(catalogue: Catalogue) -> Iterator[tuple[str, str, str]]:
    """Rulebook, language and folder of each book: the first stands at the top, the others below their names."""
    first = True
    for rulebook in catalogue.rulebooks:
        for language in catalogue.languages:
            yield rulebook.id, language.code, "" if first else f"{rulebook.id}/{language.code}"
            first = False
