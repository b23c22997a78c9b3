"""The text of a print, run by run: each run has its own letters, and what nobody sees lends its letters to no neighbour."""

from __future__ import annotations

import io

import pikepdf
import pytest

from chockbook.proof.read_pdf import read_pdf

FONT = {"/Type": "/Font", "/Subtype": "/Type1", "/BaseFont": "/Helvetica"}


def page_with(drawing: str) -> bytes:
    """A PDF of one page with this drawing."""
    pdf = pikepdf.new()
    page = pdf.add_blank_page(page_size=(595, 842))
    font = pdf.make_indirect(pikepdf.Dictionary({key: pikepdf.Name(value) for key, value in FONT.items()}))
    page.Resources = pikepdf.Dictionary(Font=pikepdf.Dictionary(F1=font))
    page.Contents = pdf.make_stream(drawing.encode())
    out = io.BytesIO()
    pdf.save(out)
    return out.getvalue()


def runs_of(drawing: str) -> list[tuple[str, bool]]:
    """Text of each run that can be read, and whether it is furniture."""
    (page,) = read_pdf(page_with(drawing)).pages
    return [(piece.text.strip(), piece.furniture) for piece in page]


def test_runs_on_one_line_have_their_own_letters() -> None:
    drawing = "BT /F1 12 Tf 72 700 Td (Stop) Tj ( at once:) Tj ( air) Tj ET BT /F1 12 Tf 72 680 Td (leak) Tj ET"
    assert runs_of(drawing) == [("Stop", False), ("at once:", False), ("air", False), ("leak", False)]


@pytest.mark.parametrize(
    "hidden",
    ["1 1 1 rg ( may) Tj 0 0 0 rg", "3 Tr ( may) Tj 0 Tr", "/F1 0.5 Tf ( may) Tj /F1 12 Tf"],
    ids=["white", "not drawn", "tiny"],
)
def test_a_run_that_nobody_sees_lends_its_letters_to_no_neighbour(hidden: str) -> None:
    drawing = f"BT /F1 12 Tf 72 700 Td (You) Tj {hidden} ( stop) Tj ET"
    assert runs_of(drawing) == [("You", False), ("stop", False)]


def test_furniture_in_the_middle_of_a_line_is_told_apart() -> None:
    drawing = "BT /F1 12 Tf 72 700 Td (Card) Tj /Artifact BMC ( margin) Tj EMC ( one) Tj ET"
    assert runs_of(drawing) == [("Card", False), ("margin", True), ("one", False)]
