"""Shared by all tests: the small projects are importable, and the shipped tables are read once."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))

from chockbook.catalogue import Catalogue  # noqa: E402
from projects import SHIPPED, TINY, assemble  # noqa: E402


@pytest.fixture(scope="session")
def shipped() -> Catalogue:
    """The shipped catalogue."""
    assembly = assemble(SHIPPED)
    assert assembly.catalogue is not None, "\n".join(map(str, assembly.faults))
    return assembly.catalogue


@pytest.fixture(scope="session")
def tiny() -> Catalogue:
    """The tiny catalogue."""
    catalogue = assemble(TINY).catalogue
    assert catalogue is not None
    return catalogue
