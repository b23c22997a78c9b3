"""The finished site of the first rulebook in both languages, sealed and served, and windows onto it."""

from __future__ import annotations

import json
import shutil
import sys
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest

sys.path.insert(0, str(Path(__file__).parents[1] / "lookup"))
sys.path.insert(0, str(Path(__file__).parents[1] / "drill"))

from lookup_site import Server

from chockbook.catalogue import Catalogue
from chockbook.exports import write_catalogue_json
from chockbook.lookup import seal_pages, write_lookup, write_service_worker
from chockbook.pages import build_site, write_pages

MKDOCS_YML = Path(__file__).parents[2] / "mkdocs.yml"


@pytest.fixture(scope="session")
def school_sites(shipped: Catalogue, tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], Path]:
    """The site of Ontario's schedule 1 in a language, made when it is first asked for."""
    made: dict[str, Path] = {}

    def site_in(language: str) -> Path:
        if language not in made:
            folder = tmp_path_factory.mktemp(f"school-{language}")
            write_pages(shipped, "on-s1", language, folder / "pages")
            write_lookup(shipped, "on-s1", language, folder / "pages")
            build_site(MKDOCS_YML, folder / "pages", folder / "site", date(2026, 3, 4), language, ("Dark", "Light"))
            seal_pages(folder / "site")
            write_service_worker(folder / "site", shipped.edition.code)
            made[language] = folder / "site"
        return made[language]

    return site_in


@pytest.fixture(scope="session")
def school_addresses(school_sites: Callable[[str], Path]) -> Iterator[Callable[[str], str]]:
    """Where the site of a language is served, ending in "/"."""
    servers: dict[str, Server] = {}

    def address_of(language: str) -> str:
        if language not in servers:
            servers[language] = Server(school_sites(language)).start()
        return servers[language].address

    yield address_of
    for server in servers.values():
        server.stop()


@pytest.fixture
def open_school(browser: Any, school_addresses: Callable[[str], str]) -> Iterator[Callable[..., Any]]:
    """Opens a page in a fresh window without a service worker; gives it with what it said and asked for.

    Its own `before` is a script that runs first; `at` is the day and time that the page takes it to be.
    """
    contexts = []

    def opened(path: str, language: str = "en", width: int = 390, scheme: str = "light", *, before: str = "",
               at: str = "", **settings: Any) -> Any:  # fmt: skip
        height = 844 if width < 1000 else 800
        context = browser.new_context(viewport={"width": width, "height": height}, color_scheme=scheme,
                                      service_workers="block", **settings)  # fmt: skip
        contexts.append(context)
        if before:
            context.add_init_script(before)
        if at:
            context.clock.set_fixed_time(at)
        page = context.new_page()
        page.said, page.asked = [], []
        page.on("pageerror", lambda error: page.said.append(str(error)))
        page.on("request", lambda request: page.asked.append((request.method, request.url)))
        page.home = school_addresses(language)
        page.goto(page.home + path)
        page.wait_for_load_state("networkidle")
        return page

    yield opened
    for context in contexts:
        context.close()


@pytest.fixture
def open_offline(browser: Any, school_sites: Callable[[str], Path], tmp_path: Path) -> Iterator[Callable[[str], Any]]:
    """Opens a page of a site that was visited once and whose server has stopped since."""
    folder = tmp_path / "served"
    shutil.copytree(school_sites("en"), folder)
    server = Server(folder).start()
    context = browser.new_context(viewport={"width": 390, "height": 844})

    def opened(path: str) -> Any:
        page = context.new_page()
        page.goto(server.address + "index.html")
        for _ in range(400):
            if page.evaluate("navigator.serviceWorker.controller?.state === 'activated'"):
                break
            page.wait_for_timeout(50)
        server.stop()
        page.goto(server.address + path)
        return page

    yield opened
    server.stop()
    context.close()


@pytest.fixture(scope="session")
def exported(shipped: Catalogue, tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    """catalogue.json, as any other program reads it."""
    path = tmp_path_factory.mktemp("data") / "catalogue.json"
    write_catalogue_json(shipped, path)
    return json.loads(path.read_text(encoding="utf-8"))


def judged_by_axe(page: Any) -> None:
    """Holds a page against the rules of axe, the size of targets among them.

    Raises:
        AssertionError: axe finds something.
    """
    axe_of = pytest.importorskip("axe_playwright_python.sync_playwright", reason="axe is not installed")
    found = axe_of.Axe().run(page, options={"rules": {"target-size": {"enabled": True}}})
    assert found.violations_count == 0, found.generate_report()
    assert found.response["passes"], "axe judged nothing"


@pytest.fixture(scope="session")
def judge() -> Callable[[Any], None]:
    """Holds a page against the rules of axe."""
    return judged_by_axe
