"""The two sides of a comparison: a catalogue.json, a dist folder, a project, the code of a kept edition, or a git
revision of the tables."""

from __future__ import annotations

import io
import json
import subprocess
import tarfile
import tempfile
from pathlib import Path
from typing import Any

from .checks import assemble_folder
from .checks.kept_editions import FOLDER
from .editions import EditionUnreadable, catalogue_as_data, read_edition
from .faults import errors
from .output import put_whole
from .project import TABLES, Project

GIT_SECONDS = 60


class NoEdition(ValueError):
    """A name leads to no edition; the message says why in one line."""


def edition_named(name: str, project: Project) -> dict[str, Any]:
    """The edition that a name leads to, as plain data.

    Args:
        name: a catalogue.json, an output folder that holds data/catalogue.json, a project's folder, the code of an
            edition that the project keeps, or a git revision of the project.
        project: where kept editions and git revisions are looked for.

    Raises:
        NoEdition: there is no such thing, or it cannot be read.
    """
    path = Path(name)
    kept = project.tables / FOLDER / f"{name}.json"
    try:
        if (path / "data" / "catalogue.json").is_file() and not (path / TABLES).is_dir():
            path = path / "data" / "catalogue.json"
        if path.is_file():
            return read_edition(path.read_bytes(), name)
        if (path / TABLES).is_dir():
            return edition_of(path / TABLES, name)
        if path.is_dir():
            raise NoEdition(f"{name} holds neither data/catalogue.json nor {TABLES}")
        if name.isalnum() and kept.is_file():
            return read_edition(kept.read_bytes(), kept.name)
    except EditionUnreadable as error:
        raise NoEdition(str(error)) from None
    except OSError as error:
        raise NoEdition(f"{name} cannot be read: {error.strerror}") from None
    return _revision(name, project)


def edition_of(tables: Path, name: str) -> dict[str, Any]:
    """The edition of a folder of tables; their fixed words may be of an older program.

    Raises:
        NoEdition: the tables have faults; the first is told.
    """
    assembly = assemble_folder(tables)
    if assembly.catalogue is None:
        wrong = errors(assembly.faults)
        raise NoEdition(f"the tables of {name} have {len(wrong)} faults, the first: {str(wrong[0]).splitlines()[0]}")
    return catalogue_as_data(assembly.catalogue)


def _revision(name: str, project: Project) -> dict[str, Any]:
    found = _git(project.root, "rev-parse", "--verify", "--quiet", "--end-of-options", f"{name}^{{commit}}")
    if found is None or not found.strip():
        raise NoEdition(f"there is no file, folder, kept edition or git revision {name!r}")
    commit = found.decode().strip()
    archive = _git(project.root, "archive", "--format=tar", commit, TABLES)
    if archive is None:
        raise NoEdition(f"the git revision {name!r} has no {TABLES} in this folder")
    with tempfile.TemporaryDirectory(prefix="chockbook-") as folder:
        with tarfile.open(fileobj=io.BytesIO(archive)) as tar:
            tar.extractall(folder, filter="data")
        return edition_of(Path(folder) / TABLES, name)


def _git(folder: Path, *arguments: str) -> bytes | None:
    """What git prints; None where it objects or is not there."""
    try:
        done = subprocess.run(["git", "-C", str(folder), *arguments], capture_output=True, timeout=GIT_SECONDS, check=False)
    except (OSError, ValueError, subprocess.TimeoutExpired):
        return None
    return done.stdout if done.returncode == 0 else None


def is_kept(code: str, project: Project) -> bool:
    """Whether the project keeps the edition of a code."""
    return (project.tables / FOLDER / f"{code}.json").is_file()


def keep(data: dict[str, Any], project: Project) -> tuple[Path, bool]:
    """Write an edition among those that the project keeps; the file, and whether it is new.

    Raises:
        OSError: the file cannot be written.
        NoEdition: an edition that is already kept cannot be read.
    """
    folder = project.tables / FOLDER
    path = folder / f"{data['edition']['code']}.json"
    if path.is_file():
        return path, False
    try:
        numbers = [read_edition(one.read_bytes(), one.name).get("kept", 0) for one in sorted(folder.glob("*.json"))]
    except EditionUnreadable as error:
        raise NoEdition(str(error)) from None
    put_whole(path, one_record_a_line({"kept": max(numbers, default=0) + 1, **data}).encode())
    return path, True


def one_record_a_line(data: dict[str, Any]) -> str:
    """JSON with each record of a list on a line of its own, so that versions of it can be compared by eye."""

    def plain(value: Any) -> str:
        return json.dumps(value, ensure_ascii=False, separators=(",", ":"))

    parts = []
    for key, value in data.items():
        if isinstance(value, list) and value and isinstance(value[0], dict):
            parts.append(f"{plain(key)}:[\n" + ",\n".join(plain(one) for one in value) + "\n]")
        else:
            parts.append(f"{plain(key)}:{plain(value)}")
    return "{" + ",\n".join(parts) + "}\n"
