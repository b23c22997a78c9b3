"""A small project built whole; changes are made to its finished files, one at a time."""

from __future__ import annotations

from pathlib import Path

import pytest
from projects import tiny_project

from chockbook.build import Built, build
from chockbook.project import Project


@pytest.fixture(scope="session")
def finished(tmp_path_factory: pytest.TempPathFactory) -> Built:
    """The tiny tables with the shipped words, built."""
    return build(Project(tiny_project(tmp_path_factory.mktemp("project"))))


@pytest.fixture(scope="session")
def output(finished: Built) -> Path:
    """Where it stands; tests only read it."""
    return finished.output
