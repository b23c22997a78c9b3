"""The finished page, opened from a folder with no server: it measures, judges a set, and falls back without scripts."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest

from chockbook.catalogue import Catalogue
from chockbook.lookup import seal_pages, write_lookup
from chockbook.pages import build_site, write_pages

MKDOCS_YML = Path(__file__).parents[2] / "mkdocs.yml"


@pytest.fixture(scope="module")
def address(shipped: Catalogue, tmp_path_factory: pytest.TempPathFactory) -> str:
    """Where the sealed page of the first rulebook stands on disk."""
    folder = tmp_path_factory.mktemp("measure")
    write_pages(shipped, "on-s1", "en", folder / "pages")
    write_lookup(shipped, "on-s1", "en", folder / "pages")
    build_site(MKDOCS_YML, folder / "pages", folder / "site", date(2026, 3, 4))
    seal_pages(folder / "site")
    return (folder / "site" / "measure.html").as_uri()


def test_a_stroke_over_its_limit_is_the_defect(browser: Any, address: str) -> None:
    page = browser.new_page(viewport={"width": 360, "height": 640})
    page.goto(address)
    page.select_option("#measure-limit", "pushrod-stroke")
    page.select_option("#measure-row", label="Type 30, standard stroke: no more than 51 mm (2 in)")
    page.fill("#measure-value", "2 1/4")
    said = page.inner_text("#measure-result")
    assert "Over the figure, by 1/4 in (6.35 mm)" in said
    assert "Do not drive" in said
    page.fill("#measure-value", "2 in")
    said = page.inner_text("#measure-result")
    assert "Exactly at the figure, still within it" in said
    assert "Do not drive" not in said
    page.fill("#measure-value", "2")
    assert "A unit is never guessed" in page.inner_text("#measure-result")
    page.select_option("#measure-unit", "in")
    assert "Exactly at the figure" in page.inner_text("#measure-result")
    assert page.evaluate("document.documentElement.scrollWidth") <= 360
    page.close()


def test_one_brake_settles_the_set_in_ontario(browser: Any, address: str) -> None:
    page = browser.new_page()
    page.goto(address)
    page.click("#set-add")
    page.fill("#set-brakes fieldset:nth-of-type(1) input", "30 mm")
    assert "Pick what it applies to" in page.inner_text("#set-brakes fieldset:nth-of-type(1) .brake__said")
    for brake in (1, 2):
        page.select_option(f"#set-brakes fieldset:nth-of-type({brake}) select", "0")
    assert page.inner_text("#set-result").strip() == ""
    page.fill("#set-brakes fieldset:nth-of-type(2) input", "33 mm")
    said = page.inner_text("#set-result")
    assert "Past the limit: 1 of 2 brakes." in said
    assert "Do not drive" in said
    page.close()


def test_targets_are_large(browser: Any, address: str) -> None:
    page = browser.new_page(viewport={"width": 360, "height": 640})
    page.goto(address)
    heights = page.eval_on_selector_all(
        "#measure select, #measure input, #measure-set select, #measure-set input, #measure-set button",
        "all => all.filter(one => one.offsetParent).map(one => one.getBoundingClientRect().height)",
    )
    assert len(heights) >= 8
    assert min(heights) >= 48
    page.close()


def test_without_scripts_the_page_leads_to_the_figures(browser: Any, address: str) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(address)
    assert page.is_visible("#measure-without-script a[href$='figures.html']")
    assert not page.is_visible("#measure")
    context.close()
