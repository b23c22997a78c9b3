"""The printed documents of the shipped catalogue, set once, and a tiny catalogue with every fixed word."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

import pytest

from chockbook.catalogue import Catalogue
from chockbook.printing import (
    WHOLE_ROUTE,
    Printed,
    render_cards,
    render_checklist,
    render_manual,
    render_report_form,
)

RULEBOOK = "on-s1"


@pytest.fixture(scope="session")
def printed(shipped: Catalogue, tmp_path_factory: pytest.TempPathFactory) -> dict[str, Printed]:
    """Every document of the shipped catalogue by name; set side by side, since the compiler frees the GIL."""
    folder = tmp_path_factory.mktemp("print")
    with ThreadPoolExecutor(2) as pool:
        running = {
            "manual": pool.submit(render_manual, shipped, RULEBOOK, "en", folder / "manual.pdf"),
            "cards": pool.submit(render_cards, shipped, RULEBOOK, "en", folder / "cards.pdf"),
            "checklist": pool.submit(render_checklist, shipped, RULEBOOK, "en", folder / "checklist.pdf"),
            "checklist-all": pool.submit(
                render_checklist, shipped, RULEBOOK, "en", folder / "checklist-all.pdf", WHOLE_ROUTE
            ),
            "checklist-big": pool.submit(
                render_checklist, shipped, RULEBOOK, "en", folder / "checklist-big.pdf", variant="big"
            ),
            "checklist-laminated": pool.submit(
                render_checklist,
                shipped,
                RULEBOOK,
                "en",
                folder / "checklist-laminated.pdf",
                variant="laminated",
            ),
            "report": pool.submit(render_report_form, shipped, RULEBOOK, "en", folder / "report.pdf"),
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
