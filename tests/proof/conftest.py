"""A small project built whole, once; each test changes a copy of its output."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from projects import SHIPPED, tiny_tables

from chockbook.build import Built, build
from chockbook.project import Project


@pytest.fixture(scope="session")
def built(tmp_path_factory: pytest.TempPathFactory) -> Built:
    """The tiny tables with the shipped words, built."""
    root = tmp_path_factory.mktemp("project")
    tiny_tables(root).rename(root / "source_tables")
    shutil.copyfile(SHIPPED / "words.yaml", root / "source_tables" / "words.yaml")
    words = (root / "source_tables" / "words.yaml").read_text(encoding="utf-8")
    assert "id: rolling" in words
    shutil.copyfile(SHIPPED.parent / "mkdocs.yml", root / "mkdocs.yml")
    return build(Project(root))


@pytest.fixture
def output(built: Built, tmp_path: Path) -> Path:
    """A copy of the built output that a test may spoil."""
    return Path(shutil.copytree(built.output, tmp_path / "dist"))
