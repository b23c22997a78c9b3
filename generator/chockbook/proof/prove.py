"""The whole proof: every output of a finished folder against the catalogue."""

from __future__ import annotations

from collections.abc import Callable, Iterator
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

    A file that is missing or cannot be read is an objection, not an exception.
    """
    checks = {
        "catalogue.json": lambda: prove_json(catalogue, output / "data" / "catalogue.json", "data/catalogue.json"),
        "catalogue.csv": lambda: prove_csv(catalogue, output / "data" / "catalogue.csv", "data/catalogue.csv"),
        "site": lambda: _site(catalogue, output),
        "manual.pdf": lambda: _printed(catalogue, output, "manual.pdf", prove_manual),
        "cards.pdf": lambda: _printed(catalogue, output, "cards.pdf", prove_cards),
        "checklist-all.pdf": lambda: _checklists(catalogue, output),
        "checklist.pdf and report.pdf": lambda: _sheets(catalogue, output),
    }
    objections = tuple(objection for check in checks.values() for objection in check())
    return Proof(len(catalogue.entries), tuple(checks), objections)


def _site(catalogue: Catalogue, output: Path) -> Iterator[Objection]:
    for rulebook_id, language, folder in books(catalogue):
        yield from prove_site(catalogue, output / "site" / folder, rulebook_id, language, f"site/{folder}".rstrip("/"))


def books(catalogue: Catalogue) -> Iterator[tuple[str, str, str]]:
    """Rulebook, language and folder of each book: the first stands at the top, the others below their names."""
    first = True
    for rulebook in catalogue.rulebooks:
        for language in catalogue.languages:
            yield rulebook.id, language.code, "" if first else f"{rulebook.id}/{language.code}"
            first = False


def _printed(catalogue: Catalogue, output: Path, file: str, check: Callable[..., Iterator[Objection]]) -> Iterator[Objection]:
    for rulebook_id, language, folder in books(catalogue):
        name = f"print/{folder}/{file}" if folder else f"print/{file}"
        yield from check(catalogue, output / "print" / folder / file, name, rulebook_id, language)


def _checklists(catalogue: Catalogue, output: Path) -> Iterator[Objection]:
    for _, language, folder in books(catalogue):
        name = f"print/{folder}/checklist-all.pdf" if folder else "print/checklist-all.pdf"
        yield from prove_whole_route(catalogue, output / "print" / folder / "checklist-all.pdf", name, language)


def _sheets(catalogue: Catalogue, output: Path) -> Iterator[Objection]:
    for rulebook_id, language, folder in books(catalogue):
        for file in ("checklist.pdf", "report.pdf"):
            name = f"print/{folder}/{file}" if folder else f"print/{file}"
            yield from prove_sheet(catalogue, output / "print" / folder / file, name, rulebook_id, language)
