"""The page ranks as Python does: the same entries with the same scores, for every look-up."""

from __future__ import annotations

import pytest
from look_ups import read_look_ups
from lookup_site import core_script
from misspell import misspell
from synthetic import large_catalogue

from chockbook.lookup import Finder, build_index
from chockbook.lookup.ranking import MOST_COMPARED

pytestmark = pytest.mark.browser
FIRST = 5
IN_PAGE = """([index, looked]) => {
    const finder = new Finder(index);
    return looked.map((words) => finder.find(words).map(([place, score]) => [place, score]));
}"""
ODD = [
    "",
    "  ",
    "d'air",
    "Éclairage",
    "½ inch",
    "İstanbul",
    "straße",
    "won’t latch",
    "a" * 300,
    "7",
    "part 7 major a",
    "section 21",
    "x y z",
    "\u2028",
    "🛞 flat",
    "word " * 40,
    "ﬁfth wheel",
    "belt\t",
    "belt ",
    "K wheel",
]


TOLD_IN_PAGE = """([index, looked]) => {
    const finder = new Finder(index);
    return looked.map((words) => { const told = finder.lookUp(words); return [told.unlisted, told.loose]; });
}"""
NOT_LISTED = ["landing gear wont crank", "coolant leak", "jake brake dead", "hood wont latch", "drive shaft loose"]


def looked_up():
    words = [
        one.words for name in ("tuning_queries.tsv", "golden_queries.tsv") for one in read_look_ups(name)
    ]
    misspelt = [misspell(one, seed) for seed in (1, 2, 3) for one in words]
    half_typed = [one[:length] for one in words[:60] for length in range(1, len(one))]
    return [*words, *misspelt, *half_typed, *ODD]


def test_the_page_finds_the_same_as_python(browser, finder):
    looked = looked_up()
    assert len(looked) > 1500
    page = browser.new_page()
    page.add_script_tag(content=core_script())
    found = page.evaluate(IN_PAGE, [finder.index.plain(), looked])
    page.close()
    entries = finder.index.entries
    differ = []
    for words, there in zip(looked, found, strict=True):
        here = finder.find(words)
        if here[:FIRST] != [(entries[place].id, score) for place, score in there[:FIRST]] or len(here) != len(
            there
        ):
            differ.append(words)
    assert differ == []


def test_the_page_is_as_unsure_as_python(browser, finder):
    looked = [*looked_up()[:400], *ODD, *NOT_LISTED]
    page = browser.new_page()
    page.add_script_tag(content=core_script())
    told = page.evaluate(TOLD_IN_PAGE, [finder.index.plain(), looked])
    page.close()
    here = [[one.unlisted, one.loose] for one in map(finder.look_up, looked)]
    assert told == here
    assert sum(unlisted is not None for unlisted, _ in here) >= len(NOT_LISTED)
    assert any(loose for _, loose in here)


def test_the_page_finds_the_same_in_a_large_catalogue(browser, shipped):
    """Where more entries match than are compared phrase by phrase, the cut falls at the same place."""
    finder = Finder(build_index(large_catalogue(shipped, 2500), "on-s1", "en"))
    looked = [one.words for one in read_look_ups("tuning_queries.tsv")[:15]] + ["b", "br", "brake", "air le"]
    page = browser.new_page()
    page.add_script_tag(content=core_script())
    found = page.evaluate(IN_PAGE, [finder.index.plain(), looked])
    page.close()
    assert any(len(there) > MOST_COMPARED for there in found)
    for words, there in zip(looked, found, strict=True):
        here = finder.find(words)
        assert here == [(finder.index.entries[place].id, score) for place, score in there], words


def test_the_built_page_finds_the_same_as_python(open_lookup, finder):
    """The page as built, through its box: what is shown first is what Python finds first."""
    page = open_lookup()
    differ = []
    for one in read_look_ups("tuning_queries.tsv"):
        page.fill("#lookup-words", one.words)
        shown = page.eval_on_selector_all(
            "[data-part=results] > li:not([hidden]) a",
            f"rows => rows.slice(0, {FIRST}).map(row => new URL(row.href).searchParams.get('d'))",
        )
        if shown != [entry for entry, _ in finder.find(one.words, FIRST)]:
            differ.append(one.words)
    assert differ == []
    assert page.said == []
