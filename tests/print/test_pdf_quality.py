"""Every printed document is a tagged, titled, self-contained PDF that prints at its own size."""

from __future__ import annotations

import itertools
import re

import pikepdf
import pypdfium2
import pytest
from print_reading import MM, letters, squash, squashed_pages

from chockbook.catalogue import Catalogue
from chockbook.printing import Printed, render_cards, render_checklist, render_manual, render_report_form

COMMON = (210.0, 279.4)
"""Fits a sheet of A4 and a sheet of letter."""
DOCUMENTS = [
    "manual",
    "cards",
    "checklist",
    "checklist-all",
    "checklist-big",
    "checklist-laminated",
    "report",
]
SMALLEST_TYPE = 10.0
"""Points: the floor for what is read at arm's length in bad light. CAP 676 (UK Civil Aviation Authority, on the design of
checklists) gives it; the number is known from others who quote it, not read in the document."""


@pytest.fixture(params=DOCUMENTS)
def document(request: pytest.FixtureRequest, printed: dict[str, Printed]) -> tuple[str, Printed]:
    return request.param, printed[request.param]


@pytest.fixture(params=[name for name in DOCUMENTS if name != "cards"])
def paged(request: pytest.FixtureRequest, printed: dict[str, Printed]) -> Printed:
    """A document of pages; cards hold no tables and carry their edition card by card (test_cards.py)."""
    return printed[request.param]


def structure(pdf: pikepdf.Pdf) -> list[pikepdf.Dictionary]:
    """Every structure element, in reading order."""
    found: list[pikepdf.Dictionary] = []
    waiting = [pdf.Root.StructTreeRoot.K]
    while waiting:
        node = waiting.pop()
        if isinstance(node, pikepdf.Array):
            waiting.extend(reversed(list(node)))
        elif isinstance(node, pikepdf.Dictionary):
            if "/S" in node:
                found.append(node)
            if "/K" in node:
                waiting.append(node.K)
    return found


def test_pages_have_their_paper_size_and_number(document: tuple[str, Printed]) -> None:
    _name, made = document
    pages = list(pypdfium2.PdfDocument(made.path))
    assert len(pages) == made.pages
    assert {tuple(round(side / MM, 1) for side in page.get_size()) for page in pages} == {COMMON}


def test_it_is_tagged_and_says_what_it_is(document: tuple[str, Printed], shipped: Catalogue) -> None:
    name, made = document
    with pikepdf.open(made.path) as pdf:
        assert bool(pdf.Root.MarkInfo.Marked)
        assert str(pdf.Root.Lang) == "en"
        assert bool(pdf.Root.ViewerPreferences.DisplayDocTitle)
        kind = name.split("-")[0]
        assert str(pdf.docinfo["/Title"]).startswith(
            f"Chockbook {shipped.words[f'print-title-{kind}']['en']}"
        )
        metadata = bytes(pdf.Root.Metadata.read_bytes()).decode()
        assert re.search(r"<pdfuaid:part>1</pdfuaid:part>", metadata)
        assert str(pdf.docinfo["/CreationDate"]).startswith(f"D:{shipped.edition.date:%Y%m%d}")


def test_the_print_dialog_is_asked_not_to_scale(document: tuple[str, Printed]) -> None:
    with pikepdf.open(document[1].path) as pdf:
        assert str(pdf.Root.ViewerPreferences.PrintScaling) == "/None"


def test_page_labels_are_the_printed_numbers(document: tuple[str, Printed]) -> None:
    _name, made = document
    with pikepdf.open(made.path) as pdf:
        assert [page.label for page in pdf.pages] == [str(number) for number in range(1, made.pages + 1)]


def test_headings_skip_no_level(document: tuple[str, Printed]) -> None:
    with pikepdf.open(document[1].path) as pdf:
        levels = [int(str(node.S)[2:]) for node in structure(pdf) if re.fullmatch(r"/H[1-6]", str(node.S))]
    assert levels[0] == 1
    assert all(after <= before + 1 for before, after in itertools.pairwise(levels))


def test_tables_have_header_cells(paged: Printed) -> None:
    with pikepdf.open(paged.path) as pdf:
        kinds = [str(node.S) for node in structure(pdf)]
    assert kinds.count("/TH") >= kinds.count("/Table")


def test_every_font_is_embedded_and_ours(document: tuple[str, Printed]) -> None:
    names = set()
    with pikepdf.open(document[1].path) as pdf:
        for thing in pdf.objects:
            if isinstance(thing, pikepdf.Dictionary) and thing.get("/Type") == "/FontDescriptor":
                names.add(str(thing.FontName).split("+")[-1])
                assert "/FontFile2" in thing or "/FontFile3" in thing
    assert names == {"AtkinsonHyperlegible-Regular", "AtkinsonHyperlegible-Bold"}


def test_bookmarks_lead_to_pages(document: tuple[str, Printed]) -> None:
    outline = list(pypdfium2.PdfDocument(document[1].path).get_toc())
    assert len(outline) >= 4
    assert all(0 <= mark.get_dest().get_index() < document[1].pages for mark in outline)


def test_no_type_is_smaller_than_the_floor(document: tuple[str, Printed]) -> None:
    sizes = {round(letter.size, 2) for page in letters(document[1].path) for letter in page}
    assert min(sizes) >= SMALLEST_TYPE
    assert len(sizes) >= 2


def test_no_letter_leaves_the_printable_area(document: tuple[str, Printed]) -> None:
    width, height = (side * MM for side in COMMON)
    edge = 6.9 * MM
    outside = [
        letter
        for page in letters(document[1].path)
        for letter in page
        if letter.left < edge
        or letter.right > width - edge
        or letter.top < edge
        or letter.bottom > height - edge
    ]
    assert outside == []


@pytest.mark.parametrize("render", [render_manual, render_cards, render_checklist, render_report_form])
def test_the_same_tables_give_the_same_bytes(render, worded: Catalogue, tmp_path) -> None:
    for name in ("one.pdf", "two.pdf"):
        render(worded, "demo", "en", tmp_path / name)
    assert (tmp_path / "one.pdf").read_bytes() == (tmp_path / "two.pdf").read_bytes()


def test_the_edition_and_the_cautions_stand_on_every_page(paged: Printed, shipped: Catalogue) -> None:
    edition = shipped.edition
    for number, text in enumerate(squashed_pages(paged.path), start=1):
        for wanted in (
            shipped.words["caution-short"]["en"],
            shipped.words["aid-short"]["en"],
            f"Edition {edition.code}",
            f"Issued {edition.date}",
            f"Check by {edition.check_by}",
            f"Page {number} of {paged.pages}",
        ):
            assert squash(wanted) in text, (number, wanted)
