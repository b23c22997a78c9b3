"""The site of the shipped catalogue, built once, served from this machine, and opened in Chromium."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import pytest
from built_site import BuiltSite, build_pages, serve

from chockbook.catalogue import Catalogue


@pytest.fixture(scope="session")
def site(shipped: Catalogue, tmp_path_factory: pytest.TempPathFactory) -> BuiltSite:
    """The site of the shipped catalogue."""
    return build_pages(shipped, tmp_path_factory.mktemp("site"))


@pytest.fixture(scope="session")
def small(tiny: Catalogue, shipped: Catalogue) -> Catalogue:
    """The tiny catalogue with the fixed words of the shipped one."""
    return replace(tiny, words=shipped.words, search=shipped.search)


@pytest.fixture(scope="session")
def address(site: BuiltSite) -> Iterator[str]:
    """Where the site is served, ending in "/"."""
    with serve(site.site_dir) as where:
        yield where
