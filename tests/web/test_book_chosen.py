"""The book chosen last is where the site's first page leads; other addresses stay as they are."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from built_site import serve
from projects import SHIPPED, tiny_tables

from chockbook.build import build
from chockbook.project import Project

pytestmark = pytest.mark.browser
FRENCH = "demo/fr/index.html"


@pytest.fixture(scope="module")
def two_books(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The site of the tiny tables, in English and in French."""
    root = tmp_path_factory.mktemp("two-books")
    tiny_tables(root).rename(root / "source_tables")
    shutil.copyfile(SHIPPED / "words.yaml", root / "source_tables" / "words.yaml")
    shutil.copyfile(SHIPPED.parent / "mkdocs.yml", root / "mkdocs.yml")
    return build(Project(root)).output / "site"


@pytest.fixture
def address(two_books: Path) -> Iterator[str]:
    with serve(two_books) as where:
        yield where


@pytest.fixture
def context(browser):
    made = browser.new_context(viewport={"width": 390, "height": 844})
    yield made
    made.close()


def choose(page, book: str) -> None:
    page.wait_for_load_state("networkidle")  # a page that leads on at once has the same list, and takes the click with it
    page.click(".books summary")
    page.click(f".books a[data-book='{book}']")


def choose_french(page, address: str) -> None:
    page.goto(address)
    choose(page, "demo/fr")
    page.wait_for_url(address + FRENCH)


def test_the_first_page_leads_to_the_book_chosen_last(context, address):
    page = context.new_page()
    choose_french(page, address)
    page.goto(address)
    page.wait_for_url(address + FRENCH)
    choose(page, "demo/en")
    page.wait_for_url(address + "index.html")
    page.goto(address)
    page.wait_for_load_state("networkidle")
    assert page.url == address


def test_the_book_in_force_is_in_sight_before_anything_is_typed(context, address):
    page = context.new_page()
    choose_french(page, address)
    shown = page.locator(".books summary")
    assert shown.is_visible()
    assert "Français" in shown.inner_text()
    assert shown.bounding_box()["y"] < 844 / 2


@pytest.mark.parametrize("place", ["?w=flat", "#lookup", "components/tire.html", "index.html?d=tire.flat"])
def test_an_address_that_names_something_is_never_changed(context, address, place):
    page = context.new_page()
    choose_french(page, address)
    page.goto(address + place)
    page.wait_for_load_state("networkidle")
    assert page.url == address + place


def test_where_nothing_can_be_kept_the_books_still_open(context, address):
    context.add_init_script("Object.defineProperty(window, 'localStorage', {get() { throw new Error('blocked'); }})")
    page = context.new_page()
    said = []
    page.on("pageerror", lambda error: said.append(error.stack))
    choose_french(page, address)
    page.goto(address)
    page.wait_for_load_state("networkidle")
    assert page.url == address
    assert [stack for stack in said if "book.js" in stack] == []


def test_with_no_network_a_book_that_is_not_saved_is_not_led_to(context, address):
    page = context.new_page()
    page.goto(address)
    page.wait_for_selector("#offline-state:not([hidden])")
    page.evaluate("localStorage.setItem('chockbook-book', 'demo/fr')")
    context.set_offline(True)
    page.goto(address)
    page.wait_for_selector("#lookup[data-ready='yes']")
    assert page.url == address


def test_with_no_network_a_saved_book_opens_from_the_first_page(context, address):
    page = context.new_page()
    page.goto(address)
    page.wait_for_selector("#offline-state:not([hidden])")
    choose_french(page, address)
    page.wait_for_selector("#offline-state:not([hidden])")
    context.set_offline(True)
    page.goto(address)
    page.wait_for_url(address + FRENCH)
    page.wait_for_selector("#lookup[data-ready='yes']")


def test_a_choice_that_the_site_does_not_have_leads_nowhere(context, address):
    page = context.new_page()
    page.goto(address)
    page.evaluate("localStorage.setItem('chockbook-book', 'https://elsewhere.example/')")
    page.goto(address)
    page.wait_for_load_state("networkidle")
    assert page.url == address
