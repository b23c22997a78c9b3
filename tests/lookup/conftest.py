"""The lookup of the shipped catalogue, built once, and headless Chromium."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from lookup_site import LookupSite, Server, build_lookup_site

from chockbook.catalogue import Catalogue
from chockbook.lookup import Finder, build_index


@pytest.fixture(scope="session")
def finder(shipped: Catalogue) -> Finder:
    """The finder of the shipped catalogue."""
    return Finder(build_index(shipped, "on-s1", "en"))


@pytest.fixture(scope="session")
def lookup_site(shipped: Catalogue, tmp_path_factory: pytest.TempPathFactory) -> LookupSite:
    """The finished site of the shipped catalogue and its single file."""
    return build_lookup_site(shipped, tmp_path_factory.mktemp("lookup"))


@pytest.fixture(scope="session")
def served(lookup_site: LookupSite) -> Iterator[str]:
    """Where the site is served, ending in "/"."""
    server = Server(lookup_site.site_dir).start()
    yield server.address
    server.stop()


@pytest.fixture
def open_lookup(browser, served):
    """Opens a page of the site in a fresh window, without a service worker; keeps what it says and asks."""
    contexts = []

    def opened(path="index.html", scheme="light", width=360, height=640, **settings):
        context = browser.new_context(
            viewport={"width": width, "height": height},
            color_scheme=scheme,
            service_workers="block",
            **settings,
        )
        contexts.append(context)
        page = context.new_page()
        listen(page)
        page.goto(served + path)
        page.wait_for_selector("#lookup[data-ready]")
        return page

    yield opened
    for context in contexts:
        context.close()


def listen(page) -> None:
    """Keeps what a page says and asks for."""
    page.said, page.asked = [], []

    def hear(message):
        if message.text != "Service Worker registration blocked by Playwright":
            page.said.append(f"{message.type}: {message.text}")

    page.on("console", hear)
    page.on("pageerror", lambda error: page.said.append(f"error: {error}"))
    page.on("request", lambda request: page.asked.append(request.url))
