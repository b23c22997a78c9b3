"""The start page leads to every page of the site's menu, for readers who do not open the menu."""

from __future__ import annotations

import re
from pathlib import Path

from chockbook.lookup import write_lookup

MENU = Path(__file__).parents[2] / "mkdocs.yml"
REACHED_ONE_BY_ONE = {"severity/index.html", "actions/index.html"}
"""Lists of what the start page has a way in for each: severities and actions."""


def test_the_start_page_leads_to_every_page_of_the_menu(shipped, tmp_path):
    menu = re.search(r"(?m)^nav:\n((?:  - .*\n)+)", MENU.read_text(encoding="utf-8"))[1]
    pages = {line.removeprefix("  - ").replace(".md", ".html") for line in menu.splitlines()}
    assert len(pages) > 15
    write_lookup(shipped, "on-s1", "en", tmp_path)
    links = set(re.findall(r'<a href="([^"#]+)"', (tmp_path / "index.md").read_text(encoding="utf-8")))
    assert pages - links == REACHED_ONE_BY_ONE | {"index.html"}
