"""The printed documents of the shipped catalogue, set once, and a tiny catalogue with every fixed word."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

import pytest

from chockbook.catalogue import Catalogue
from chockbook.printing import Printed, render_cards, render_checklist, render_manual

RULEBOOK = "on-s1"


@pytest.fixture(scope="session")
def printed(shipped: Catalogue, tmp_path_factory: pytest.TempPathFactory) -> dict[str, Printed]:
    """Every document of the shipped catalogue by name; set side by side, since the compiler frees the GIL."""
    folder = tmp_path_factory.mktemp("print")
    with ThreadPoolExecutor(2) as pool:
        running = {
            "manual": pool.submit(render_manual, shipped, RULEBOOK, "en", "letter", folder / "manual.pdf"),
            "manual-a4": pool.submit(render_manual, shipped, RULEBOOK, "en", "a4", folder / "manual-a4.pdf"),
            "cards": pool.submit(render_cards, shipped, RULEBOOK, "en", folder / "cards.pdf"),
            "checklist": pool.submit(
                render_checklist, shipped, RULEBOOK, "en", "letter", folder / "checklist.pdf"
            ),
            "checklist-a4": pool.submit(
                render_checklist, shipped, RULEBOOK, "en", "a4", folder / "checklist-a4.pdf"
            ),
        }
        return {name: job.result() for name, job in running.items()}


@pytest.fixture(scope="session")
def deck(shipped: Catalogue, tmp_path_factory: pytest.TempPathFactory) -> Printed:
    """The cards of the shipped catalogue."""
    return render_cards(shipped, RULEBOOK, "en", tmp_path_factory.mktemp("cards") / "cards.pdf")


@pytest.fixture(scope="session")
def worded(tiny: Catalogue, shipped: Catalogue) -> Catalogue:
    """The tiny catalogue with the fixed words of the shipped one."""
    return replace(tiny, words=shipped.words)
