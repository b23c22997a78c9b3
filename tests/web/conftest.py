"""The site of the shipped catalogue, built once, served from this machine, and opened in Chromium."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from built_site import BuiltSite, build_pages, serve

from chockbook.catalogue import Catalogue

CHROMIUM_FLAGS = [
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
]  # fmt: skip


@pytest.fixture(scope="session")
def site(shipped: Catalogue, tmp_path_factory: pytest.TempPathFactory) -> BuiltSite:
    """The site of the shipped catalogue."""
    return build_pages(shipped, tmp_path_factory.mktemp("site"))


@pytest.fixture(scope="session")
def small(tiny: Catalogue, shipped: Catalogue) -> Catalogue:
    """The tiny catalogue with the fixed words of the shipped one."""
    return replace(tiny, words=shipped.words)


@pytest.fixture(scope="session")
def address(site: BuiltSite) -> Iterator[str]:
    """Where the site is served, ending in "/"."""
    with serve(site.site_dir) as where:
        yield where


@pytest.fixture(scope="session")
def browser() -> Iterator[object]:
    """Headless Chromium: the one of the system, or the one that Playwright installed."""
    api = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
    found = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)
    with api.sync_playwright() as playwright:
        own = Path(playwright.chromium.executable_path)
        if found is None and not own.exists():
            pytest.skip("no Chromium was found, neither on the path nor installed by playwright")
        opened = playwright.chromium.launch(executable_path=found, args=CHROMIUM_FLAGS)
        yield opened
        opened.close()
