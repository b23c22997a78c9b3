"""What other rulebooks say of a defect stands below it, and the proof objects to every change of it."""

from __future__ import annotations

from pathlib import Path

import pytest
from lxml import html

from chockbook.proof.facts import Reader
from chockbook.proof.recite_page import prove_page

RULEBOOK = "on-s1"
PAGE = "components/tire-pressure.html"


@pytest.fixture(scope="module")
def pages(site) -> dict[str, bytes]:
    """The pages of components, as written."""
    folder = Path(site.site_dir)
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in (folder / "components").glob("*.html")}


def objections(site, pages: dict[str, bytes]) -> list[str]:
    reader = Reader(site.catalogue, "en")
    return [str(one) for page, text in pages.items()
            for one in prove_page(reader, RULEBOOK, page, html.fromstring(text), [], f"site/{page}")]  # fmt: skip


def side_of(pages: dict[str, bytes], entry_id: str, rulebook: str) -> str:
    """What the page says of a defect under a rulebook, on one line."""
    tree = html.fromstring(pages[f"components/{entry_id.partition('.')[0]}.html"])
    [block] = tree.xpath(f"//details[@data-elsewhere='{entry_id}']")
    [side] = [s for s in block.xpath(".//div[@class='side']") if s.xpath("string(p[@class='side__whose'])") == rulebook]
    return " ".join(side.text_content().split())


def test_the_pages_say_what_the_catalogue_does(site, pages):
    assert objections(site, pages) == []


def test_a_flat_tire_is_told_of_under_the_other_rulebooks_in_their_own_words(pages):
    # 49 CFR 393.75(a)(3): no vehicle is operated on a tire that is flat or leaks audibly; the rules name no severity,
    # and the word here is the tables' own.
    assert "Forbidden" in side_of(pages, "tire-pressure.flat", "US federal rules")
    assert "393.75(a)" in side_of(pages, "tire-pressure.flat", "US federal rules")
    # C-24.2, r. 32, s. 170: a flat tire is a major defect of List 1.
    assert "Major" in side_of(pages, "tire-pressure.flat", "Quebec List 1")
    assert "Minor" not in side_of(pages, "tire-pressure.flat", "US federal rules")


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('<p class="side__whose">US federal rules</p>', '<p class="side__whose">Quebec List 1</p>'),
        ("Defect or deficiency", "Major"),
        ("393.75(a)", "393.75(b)"),
        ("mark--if-safe", "mark--no"),
        ("What other rulebooks say of it", "What other rulebooks say of it. All is well."),
    ],
)  # fmt: skip
def test_a_change_is_objected_to(site, pages, old, new):
    head, mark, tail = pages[PAGE].decode("utf-8").partition('<details class="elsewhere"')
    assert old in mark + tail
    found = objections(site, {PAGE: (head + (mark + tail).replace(old, new, 1)).encode("utf-8")})
    assert found != []


def test_answers_that_change_places_are_objected_to(site, pages):
    tree = html.fromstring(pages[PAGE])
    [block] = tree.xpath("//details[@data-elsewhere='tire-pressure.flat']")
    first, second = block.xpath(".//p[@class='side__outcome']")[:2]
    first.getparent().replace(first, html.fromstring(html.tostring(second)))
    assert objections(site, {PAGE: html.tostring(tree)}) != []
