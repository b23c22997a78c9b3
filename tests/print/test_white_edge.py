"""No ink comes nearer to the edge of a sheet than a printer can set it, in any language."""

from __future__ import annotations

from pathlib import Path

import pdfplumber
import pytest

from chockbook import printing
from chockbook.catalogue import Catalogue

LEAST = 6.35
"""Millimetres: a quarter of an inch, the margin that office printers commonly leave white. Our sheets aim at 7.2."""
MADE_BY = {
    "manual": lambda *about: printing.render_manual(*about),
    "checklist": lambda *about: printing.render_checklist(*about),
    "report": lambda *about: printing.render_report_form(*about),
    "walk": lambda *about: printing.render_walk_sheet(*about),
    "score": lambda *about: printing.render_score_sheet(*about),
    "border": lambda shipped, rulebook, language, path: printing.render_comparison(shipped, rulebook, "us-fmcsr", language, path),
}


@pytest.mark.parametrize("language", ["en", "fr"])
@pytest.mark.parametrize("document", MADE_BY)
def test_every_sheet_keeps_a_white_edge(document: str, language: str, shipped: Catalogue, tmp_path: Path) -> None:
    made = MADE_BY[document](shipped, "on-s1", language, tmp_path / "it.pdf")
    with pdfplumber.open(made.path) as pdf:
        pages = pdf.pages if len(pdf.pages) < 30 else [*pdf.pages[:4], *pdf.pages[60:64], *pdf.pages[-2:]]
        for page in pages:
            ink = [char for char in page.chars if char["text"].strip()]
            assert ink, page.page_number
            edges = {
                "left": min(char["x0"] for char in ink), "right": page.width - max(char["x1"] for char in ink),
                "top": min(char["top"] for char in ink), "bottom": page.height - max(char["bottom"] for char in ink),
            }  # fmt: skip
            near = {name: round(float(edge) / 72 * 25.4, 2) for name, edge in edges.items() if edge / 72 * 25.4 < LEAST}
            assert near == {}, f"page {page.page_number}"
