"""A small project built whole, once; each test changes a copy of its output."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from projects import tiny_project

from chockbook.build import Built, build
from chockbook.project import Project


@pytest.fixture(scope="session")
def built(tmp_path_factory: pytest.TempPathFactory) -> Built:
    """The tiny tables with the shipped words, built."""
    return build(Project(tiny_project(tmp_path_factory.mktemp("project"))))


@pytest.fixture
def output(built: Built, tmp_path: Path) -> Path:
    """A copy of the built output that a test may spoil."""
    return Path(shutil.copytree(built.output, tmp_path / "dist"))
