"""Headless Chromium with the page's own scripts loaded: what they say is held against the program."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from chockbook.catalogue import Catalogue
from chockbook.views.measure import measure_data, view_measure

SCRIPTS = Path(__file__).parents[2] / "site_templates" / "web" / "assets" / "measure"


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
    made = {
        r.id: json.loads(json.dumps(measure_data(view_measure(shipped, r.id, "en"))))
        for r in shipped.rulebooks
    }
    return made.__getitem__
