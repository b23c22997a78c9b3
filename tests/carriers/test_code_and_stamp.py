"""The code on either face of card 1 is found, and what prints depend on makes them anew."""

from __future__ import annotations

from dataclasses import replace

import pikepdf
import pytest
from demo_carriers import ALL_EQUIPMENT, carrier

from chockbook.printing import cards_for_carriers
from chockbook.proof import prove_carriers

CONTACTS = [
    {"role": role, "name": "Someone With A Long Name", "phone": f"555-01{n:02}", "hours": "06:00-22:00, not on Sunday"}
    for n, role in enumerate(("dispatch", "maintenance", "safety", "other", "other", "other"))
]
UNIT = {"id": "u", "name": "1", "vehicles": ["tractor", "trailer"], "equipment": list(ALL_EQUIPMENT)}


@pytest.fixture(scope="module")
def crowded(shipped, tmp_path_factory):
    """A deck whose first card is so full of contacts that the code stands on its back."""
    folder = tmp_path_factory.mktemp("crowded")
    one = carrier(contacts=CONTACTS, units=[UNIT])
    assert cards_for_carriers(shipped, [one], folder, workers=1).failed == []
    return one, folder


def paths_of(page) -> int:
    """Strokes of the largest drawing on a page: a code has hundreds."""
    most = count = 0
    for _, operator in pikepdf.parse_content_stream(page):
        if str(operator) in ("m", "l", "c", "re", "h"):
            count += 1
        else:
            most, count = max(most, count), 0
    return most


def test_a_code_on_the_back_of_the_first_card_is_found(crowded, shipped):
    one, folder = crowded
    (path,) = folder.rglob("*.pdf")
    with pikepdf.open(path) as pdf:
        assert paths_of(pdf.pages[0]) < 150 < paths_of(pdf.pages[1])
    assert prove_carriers(shipped, [one], folder, processes=1).objections == ()


def test_a_code_on_the_back_that_leads_elsewhere_is_seen(crowded, shipped):
    one, folder = crowded
    other = one.model_copy(update={"base_address": "https://plaim.example/"})
    found = [str(objection) for objection in prove_carriers(shipped, [other], folder, processes=1).objections]
    assert any("code: does not lead to https://plaim.example/" in text for text in found), found


def test_the_code_says_which_edition_the_card_is_of(crowded, shipped):
    """Whoever scans a laminated card years later is told whether it is still current."""
    zxingcpp = pytest.importorskip("zxingcpp")
    pypdfium2 = pytest.importorskip("pypdfium2")
    (path,) = crowded[1].rglob("*.pdf")
    picture = pypdfium2.PdfDocument(path)[1].render(scale=200 / 72, grayscale=True).to_pil()
    assert [code.text for code in zxingcpp.read_barcodes(picture)] == [f"https://plain.example/card.html#{shipped.edition.code}"]


@pytest.mark.parametrize("change", ["locator", "language"])
def test_one_changed_label_makes_prints_anew(tiny, shipped, tmp_path, change):
    tiny = replace(tiny, words=shipped.words)
    one = carrier(rulebooks=["demo"], documents=[{"what": "report"}])
    assert cards_for_carriers(tiny, [one], tmp_path, workers=1).made == ["plain-haulage"]
    assert cards_for_carriers(tiny, [one], tmp_path, workers=1).kept == ["plain-haulage"]
    if change == "locator":
        changed = replace(tiny, locators=(*tiny.locators, {"en": "Part", "fr": "partie"}))
    else:
        changed = replace(tiny, languages=(tiny.languages[0].model_copy(update={"name": "Plain English"}), *tiny.languages[1:]))
    assert changed.edition == tiny.edition
    assert cards_for_carriers(changed, [one], tmp_path, workers=1).made == ["plain-haulage"]
