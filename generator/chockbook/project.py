"""A project: the folder with its tables and mkdocs.yml, and the catalogue that they give."""

from __future__ import annotations

import os
from dataclasses import dataclass
from datetime import date
from functools import cache
from pathlib import Path

import yaml

from .checks import Assembly, assemble_folder, settings
from .faults import in_order
from .resources import shipped

TABLES = "source_tables"
CONFIG = "mkdocs.yml"


class NoProject(FileNotFoundError):
    """A folder has no tables of ours in it."""


@dataclass(frozen=True)
class Project:
    """Where a project's tables, site configuration and output are."""

    root: Path
    today: date | None = None
    """The day by which review dates are judged; the machine's day where it is left out. No output depends on it."""

    @property
    def tables(self) -> Path:
        """The folder of the tables."""
        return self.root / TABLES

    @property
    def config(self) -> Path:
        """The site's mkdocs.yml."""
        return self.root / CONFIG

    @property
    def output(self) -> Path:
        """Where a build goes where nothing else is said."""
        return self.root / "dist"

    def assemble(self) -> Assembly:
        """Read and check all tables, and the settings of the site as far as they are YAML."""
        assembly = assemble_folder(self.tables, needed_words(), self.today)
        wrong = settings.find(self.config)
        if not wrong:
            return assembly
        return Assembly(None, in_order([*assembly.faults, *wrong]))


def find_project(start: Path, today: date | None = None) -> Project:
    """The project in a folder or in the nearest folder above it.

    Raises:
        NoProject: neither the folder nor any above it has a folder source_tables.
    """
    start = Path(os.path.realpath(start))
    for folder in (start, *start.parents):
        if (folder / TABLES).is_dir():
            return Project(folder, today)
    raise NoProject(f"there is no folder {TABLES} in {start} or above it; make a project with: chockbook new DIR")


@cache
def needed_words() -> frozenset[str]:
    """Keys of the fixed words that the outputs use: those of the shipped words.yaml."""
    text = (shipped(TABLES) / "words.yaml").read_text(encoding="utf-8")
    return frozenset(yaml.load(text, getattr(yaml, "CBaseLoader", yaml.BaseLoader))["words"])
