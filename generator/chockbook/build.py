"""The order of the stages: tables to catalogue to views to files, then the proof, then the swap."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

from . import exports, pages, printing, proof
from .catalogue import Catalogue
from .faults import Fault
from .output import replacing
from .project import Project

Say = Callable[[str], None]
PAPERS = ("letter", "a4")


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
    """Everything but the proof. The printed documents are set while MkDocs builds the site."""
    with _stage("write the data", say, seconds):
        data = staging / "data"
        data.mkdir()
        exports.write_catalogue_json(catalogue, data / "catalogue.json")
        exports.write_catalogue_csv(catalogue, data / "catalogue.csv")
        exports.write_editor_schemas(data / "schemas")
    with ThreadPoolExecutor(1) as beside:
        started = time.perf_counter()
        prints = beside.submit(print_documents, catalogue, staging / "print")
        with _stage("write the pages", say, seconds):
            for rulebook, language in _editions(catalogue):
                pages.write_pages(catalogue, rulebook, language, staging / "pages")
        with _stage("build the site", say, seconds):
            pages.build_site(project.config, staging / "pages", staging / "site")
        printed = prints.result()
        seconds["set the printed documents"] = time.perf_counter() - started
        say(f"set the printed documents: {sum(p.pages for p in printed)} pages, beside the site")
    return printed


def print_documents(catalogue: Catalogue, folder: Path) -> list[printing.Printed]:
    """Manual, cards and checklist.

    Raises:
        CardOverflow: an entry does not fit on an empty card.
        SettingFailed: a document could not be set.
    """
    folder.mkdir(parents=True, exist_ok=True)
    printed = []
    for rulebook, language in _editions(catalogue):
        printed += [
            printing.render_manual(catalogue, rulebook, language, "letter", folder / "manual.pdf"),
            printing.render_manual(catalogue, rulebook, language, "a4", folder / "manual-a4.pdf"),
            printing.render_cards(catalogue, rulebook, language, folder / "cards.pdf"),
            printing.render_checklist(catalogue, rulebook, language, "letter", folder / "checklist.pdf"),
            printing.render_checklist(catalogue, rulebook, language, "a4", folder / "checklist-a4.pdf"),
        ]
    return printed


def _editions(catalogue: Catalogue) -> Iterator[tuple[str, str]]:
    for rulebook in catalogue.rulebooks:
        for language in catalogue.languages:
            yield rulebook.id, language.code


@contextmanager
def _stage(name: str, say: Say, seconds: dict[str, float]) -> Iterator[None]:
    started = time.perf_counter()
    yield
    seconds[name] = time.perf_counter() - started
    say(f"{name}: {seconds[name]:.1f} s")
