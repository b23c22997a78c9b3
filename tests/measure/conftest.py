"""Headless Chromium with the page's own scripts loaded: what they say is held against the program."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from chockbook.catalogue import Catalogue
from chockbook.views.measure import measure_data, view_measure

SCRIPTS = Path(__file__).parents[2] / "site_templates" / "web" / "assets" / "measure"
CHROMIUM_FLAGS = [
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
]  # fmt: skip


@pytest.fixture(scope="session")
def browser() -> Iterator[Any]:
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


@pytest.fixture(scope="session")
def in_page(browser: Any) -> Iterator[Callable[[str, Any], Any]]:
    """Runs a function of JavaScript on data, with the scripts that decide loaded."""
    page = browser.new_page()
    page.goto("about:blank")
    for name in ("number.js", "rule.js"):
        page.add_script_tag(content=(SCRIPTS / name).read_text(encoding="utf-8"))
    yield lambda function, data: page.evaluate(function, data)
    page.close()


@pytest.fixture(scope="session")
def data_of(shipped: Catalogue) -> Callable[[str], dict[str, Any]]:
    """What the page of a rulebook is given, as it comes out of JSON."""
    made = {r.id: json.loads(json.dumps(measure_data(view_measure(shipped, r.id, "en")))) for r in shipped.rulebooks}
    return made.__getitem__
