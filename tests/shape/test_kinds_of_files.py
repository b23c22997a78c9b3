"""The repository holds sources and nothing that was made from them, and pictures only where the README shows them."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path, PurePosixPath

import pytest

ROOT = Path(__file__).parents[2]
KNOWN = {".py", ".yaml", ".md", ".typ", ".css", ".js", ".j2", ".json", ".tsv", ".toml", ".yml", ".png"}
BY_NAME = {"LICENSE", ".gitignore", ".ci/run"}
PICTURES = PurePosixPath("tests/references")
FINDS = PurePosixPath("tests/fuzz/corpus")
"""What a long run found, byte by byte, under the name of its hash."""
BUILT = ("dist", "__pycache__", "build", "venv", "node_modules")
"""Beginnings of the names of folders that tools and builds fill."""


def files() -> list[PurePosixPath]:
    """What git keeps; without git every file but those in hidden folders and in those that tools and builds fill."""
    if (ROOT / ".git").exists() and shutil.which("git"):
        listed = subprocess.run(["git", "-C", str(ROOT), "ls-files", "-z"], capture_output=True, check=True).stdout
        return [PurePosixPath(name) for name in listed.decode("utf-8").split("\0") if name]
    found = (PurePosixPath(path.relative_to(ROOT).as_posix()) for path in ROOT.rglob("*") if path.is_file())
    return [path for path in found
            if not any(part.startswith((".", *BUILT)) or part.endswith(".egg-info") for part in path.parts[:-1])]  # fmt: skip


def strange(paths: list[PurePosixPath]) -> list[str]:
    """Files of a kind that the project does not know, and pictures in other places."""
    return [
        str(path) for path in paths
        if str(path) not in BY_NAME and FINDS not in path.parents
        and (path.suffix not in KNOWN or (path.suffix == ".png" and path.parent != PICTURES))
    ]  # fmt: skip


def test_every_file_is_of_a_kind_that_the_project_knows():
    found = files()
    assert len(found) > 300
    assert strange(found) == []


@pytest.mark.parametrize("name", ["chockbook-1.0-py3-none-any.whl", "site_templates/web/assets/logo.png", "notes", "tests/x.pdf"])
def test_a_file_that_was_made_or_slipped_in_is_told(name):
    assert strange([PurePosixPath(name)]) == [name]
