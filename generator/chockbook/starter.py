"""`chockbook new`: a starter project with its own copy of the tables, that builds as it stands."""

from __future__ import annotations

import shutil
from pathlib import Path

from .project import CONFIG, TABLES
from .resources import shipped


class FolderInUse(FileExistsError):
    """The folder for a new project already holds something."""


PUBLISHER = """\
# Who issues the outputs. Write your own name and contact; both stand on every card and page.
# Remove "demo" when the name is yours: until then, outputs say that the publisher is invented.
name: Your school or carrier
contact: office@example.org
# The address at which the site will stand, ending in "/", such as https://example.org/defects/
# base_address: https://example.org/defects/
demo: true
"""


def make_starter(folder: Path) -> Path:
    """Write a starter project: tables, mkdocs.yml and a place for name and contact.

    Raises:
        FolderInUse: the folder exists and is not empty, or is a file.
        OSError: the folder cannot be written.
    """
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise FolderInUse(f"{folder} is in use; name a folder that does not exist or is empty")
    fresh = not folder.exists()
    folder.mkdir(parents=True, exist_ok=True)
    try:
        _copy_tables(shipped(TABLES), folder / TABLES)
        shutil.copyfile(shipped(CONFIG), folder / CONFIG)
        (folder / TABLES / "publisher.yaml").write_text(PUBLISHER, encoding="utf-8", newline="\n")
        (folder / ".gitignore").write_text("/dist*/\n/.chockbook-*\n", encoding="utf-8", newline="\n")
    except BaseException:
        shutil.rmtree(folder / TABLES, ignore_errors=True)
        for name in (CONFIG, ".gitignore"):
            (folder / name).unlink(missing_ok=True)
        if fresh:
            folder.rmdir()
        raise
    return folder


def _copy_tables(shipped_tables: Path, tables: Path) -> None:
    """The tables, without the editions of whoever ships them, and writable: an installed file may be locked."""
    for path in sorted(shipped_tables.rglob("*.yaml")):
        place = tables / path.relative_to(shipped_tables)
        place.parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(path, place)
