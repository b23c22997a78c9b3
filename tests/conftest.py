"""Shared by all tests: the small projects are importable, and the shipped tables are read once."""

from __future__ import annotations

import os
import shutil
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

sys.path.insert(0, str(Path(__file__).parent))

from projects import SHIPPED, TINY, assemble

from chockbook.catalogue import Catalogue

# No test is timed, and the examples are the same every time: a new failure is a change of ours. Long runs that look for
# new examples are in tests/fuzz.
settings.register_profile("same", deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("same")


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


CHROMIUM_FLAGS = [
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
]  # fmt: skip


@pytest.fixture(scope="session")
def browser() -> Iterator[object]:
    """Headless Chromium of the system. Without one the test is skipped, or fails where a browser is required."""
    found = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)
    if found is None:
        why = "no Chromium was found on the path"
        if os.environ.get("CHOCKBOOK_BROWSER_REQUIRED"):
            pytest.fail(f"{why}, and CHOCKBOOK_BROWSER_REQUIRED is set")
        pytest.skip(why)
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        opened = playwright.chromium.launch(executable_path=found, args=CHROMIUM_FLAGS)
        yield opened
        opened.close()
