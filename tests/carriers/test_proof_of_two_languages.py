"""The proof of decks in two languages objects to nothing that is right, and sees what one of the languages lacks."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest
from demo_carriers import carrier
from print_reading import squash

from chockbook.catalogue import Catalogue
from chockbook.printing import cards_for_carriers
from chockbook.proof import prove_carriers
from chockbook.proof.carrier_cards import prove_deck
from chockbook.proof.read_pdf import PdfReading, Piece, read_pdf

RULEBOOKS = ("on-s1", "us-fmcsr", "qc-list-1")
WAYS = {
    "wall-letter-side-by-side": {"format": "wall", "languages": "side-by-side"},
    "a6-letter-long-edge-front-and-back": {"format": "a6", "languages": "front-and-back"},
    "a6-letter-fold-front-and-back": {"format": "a6", "languages": "front-and-back", "duplex": "fold"},
    "a6-press-letter-front-and-back": {"format": "a6", "languages": "front-and-back", "duplex": "fold", "marks": "press"},
}
UNIT = {"id": "u1", "name": "1", "vehicles": ["converter-dolly"], "equipment": ["air-brakes"]}
TWICE = carrier(id="twice-told", languages=["en", "fr"], rulebooks=RULEBOOKS, units=[UNIT],
                documents=[{"what": "deck", **way} for way in WAYS.values()])  # fmt: skip


@pytest.fixture(scope="module")
def printed(shipped: Catalogue, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("twice")
    assert cards_for_carriers(shipped, [TWICE], folder, workers=1).failed == []
    return folder


@pytest.fixture(scope="module")
def objections(shipped: Catalogue, printed: Path) -> list[str]:
    return [str(one) for one in prove_carriers(shipped, [TWICE], printed, processes=1).objections]


def deck(way: str, rulebook: str) -> str:
    return f"twice-told/u1/deck-{way}.{rulebook}.en-fr.pdf"


def read(folder: Path, way: str) -> PdfReading:
    return read_pdf((folder / deck(way, "us-fmcsr")).read_bytes())


def objections_to(catalogue: Catalogue, folder: Path, way: str, texts: list[str]) -> list[str]:
    """What the proof objects to in a deck whose pages say these texts."""
    document = TWICE.documents[list(WAYS).index(way)]
    with (folder / "register.csv").open(encoding="utf-8", newline="") as file:
        row = next(row for row in csv.DictReader(file) if row["path"] == deck(way, "us-fmcsr"))
    pages = zip(texts, read(folder, way).furniture, strict=True)
    changed = PdfReading(tuple((Piece(text, False), Piece(furniture, True)) for text, furniture in pages), ())
    found = prove_deck(catalogue, TWICE, TWICE.units[0], document, changed, "deck", "us-fmcsr", ("en", "fr"),
                       int(row["cards"]), row["print_code"])  # fmt: skip
    return [str(one) for one in found]


@pytest.mark.parametrize("rulebook", RULEBOOKS)
@pytest.mark.parametrize("way", WAYS)
def test_a_deck_in_two_languages_is_proved(way: str, rulebook: str, printed: Path, objections: list[str]) -> None:
    assert (printed / deck(way, rulebook)).is_file()
    assert [one for one in objections if deck(way, rulebook) in one or not one.startswith("twice-told/")] == []


@pytest.mark.parametrize("way, pages_back", [
    ("a6-letter-long-edge-front-and-back", 2),
    ("a6-letter-fold-front-and-back", 1),
    ("a6-press-letter-front-and-back", 2),
])  # fmt: skip
def test_a_step_that_the_card_before_lacks_is_seen(way: str, pages_back: int, printed: Path, shipped: Catalogue) -> None:
    texts = list(read(printed, way).page_texts)
    step = next(squash(one.text["en"]) for one in shipped.rulebook["us-fmcsr"].actions if one.id == "satisfied-first")
    page = next(n for n, text in enumerate(texts) if "Thestepsareonthecardbefore" in text and step not in text)
    assert step in texts[page - pages_back]
    texts[page - pages_back] = texts[page - pages_back].replace(step, "")
    found = objections_to(shipped, printed, way, texts)
    assert any(one.startswith(f"deck page {page + 1}:") and "stands under other actions" in one for one in found), found


@pytest.mark.parametrize("mark", ["Notyetconfirmed", "Nonconfirmé"])
def test_a_mark_that_one_language_lacks_is_seen(mark: str, printed: Path, shipped: Catalogue) -> None:
    """The place of the law is the same text in both languages: each has its own mark behind it."""
    way = "wall-letter-side-by-side"
    texts = list(read(printed, way).page_texts)
    place = "49CFR393.53(a)-(c)·"
    page = next(n for n, text in enumerate(texts) if f"{place}Notyetconfirmed{place}Nonconfirmé" in text)
    texts[page] = texts[page].replace(f"{place}{mark}", place, 1)
    found = objections_to(shipped, printed, way, texts)
    assert any("is missing from the lane" in one and "393.53" in one for one in found), found
