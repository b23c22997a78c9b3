"""French look-ups: what francophone drivers of Quebec and Ontario type finds the right defects."""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass

import pytest
from look_ups import HERE, SEVERITIES
from lookup_site import core_script
from misspell import misspell

from chockbook.lookup import Finder, build_index

LISTS = ("french_held_out.tsv", "french_second_list.tsv", "french_tuning.tsv")
IN_PAGE = """([index, looked]) => {
    const finder = new Finder(index);
    return looked.map((words) => finder.find(words).slice(0, 5).map(([place, score]) => [place, score]));
}"""


@dataclass(frozen=True)
class FrenchLookUp:
    """What someone types, the entries that are right, and whether each of them stops the vehicle."""

    words: str
    right: frozenset[str]
    stops: bool


def read(catalogue, name):
    """A list: either the right entries stand in it, or a part of Schedule 1 with the severities."""
    rulings = {entry.id: entry.rulings_under("on-s1") for entry in catalogue.entries}
    found = []
    for line in (HERE / name).read_text("utf-8").splitlines():
        if not line or line.startswith("#"):
            continue
        words, language, *answer = line.split("\t")
        assert language == "fr", line
        if len(answer) == 1:
            right = frozenset(answer[0].split(","))
            assert all(rulings[one] for one in right), line
            stops = all({r.severity.id for r in rulings[one]} == {"major"} for one in right)
        else:
            part, severities = answer[0], {SEVERITIES[one] for one in answer[1]}
            right = frozenset(
                one for one, own in rulings.items()
                if any(r.part.part == part and r.severity.id in severities for r in own)
            )  # fmt: skip
            stops = severities == {"major"}
        found.append(FrenchLookUp(words, right, stops))
    return found


def missed(finder, look_ups, first, written=lambda words: words):
    """The look-ups without a right entry among the first so many."""
    return [
        one.words for one in look_ups
        if one.right.isdisjoint(entry for entry, _ in finder.find(written(one.words), first))
    ]  # fmt: skip


def without_accents(words):
    return "".join(c for c in unicodedata.normalize("NFD", words) if not unicodedata.combining(c))


@pytest.fixture(scope="module")
def french(shipped):
    return Finder(build_index(shipped, "on-s1", "fr"))


@pytest.fixture(scope="module")
def lists(shipped):
    return {name: read(shipped, name) for name in LISTS}


def test_there_are_look_ups_enough_to_judge_by(lists):
    assert [len(lists[name]) for name in LISTS] == [88, 40, 24]
    words = [one.words for look_ups in lists.values() for one in look_ups]
    assert len(set(words)) == len(words)


@pytest.mark.parametrize("name", LISTS)
def test_a_right_answer_stands_among_the_first_three(french, lists, name):
    look_ups = lists[name]
    lost = missed(french, look_ups, 3)
    assert 1 - len(lost) / len(look_ups) >= 0.95, lost


@pytest.mark.parametrize("name", LISTS)
def test_what_stops_the_vehicle_always_stands_among_the_first_three(french, lists, name):
    stops = [one for one in lists[name] if one.stops]
    assert len(stops) >= 10
    assert missed(french, stops, 3) == []


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_a_typing_error_seldom_hides_the_answer(french, lists, seed):
    look_ups = [one for name in LISTS for one in lists[name]]
    lost = missed(french, look_ups, 3, lambda words: misspell(words, seed))
    assert 1 - len(lost) / len(look_ups) >= 0.85, lost


def test_accents_are_optional(french, lists):
    for one in (one for look_ups in lists.values() for one in look_ups):
        assert french.find(one.words) == french.find(without_accents(one.words)), one.words
        assert french.find(one.words) == french.find(unicodedata.normalize("NFD", one.words)), one.words


def test_every_defect_is_found_by_its_own_french_words(french, shipped):
    lost = []
    for entry in (shipped.entry[one.id] for one in french.index.entries):
        words = f"{entry.component.name['fr']} {entry.condition['fr']}"
        if entry.id not in [found for found, _ in french.find(words, 3)]:
            lost.append(entry.id)
    assert lost == []


@pytest.mark.browser
def test_the_page_finds_the_same_as_python(browser, french, lists):
    words = [one.words for look_ups in lists.values() for one in look_ups]
    looked = [*words, *map(without_accents, words)]
    looked += [misspell(one, seed) for seed in (1, 2, 3, 4, 5) for one in words]
    looked += [one[:length] for one in words[:30] for length in range(1, len(one))]
    looked += ["qu'est-ce", "d’air", "l'huile", "Œil du timon", "ÉCLAIRAGE", "5e roue"]
    assert len(set(looked)) >= 1000
    page = browser.new_page()
    page.add_script_tag(content=core_script())
    there = page.evaluate(IN_PAGE, [french.index.plain(), looked])
    page.close()
    entries = french.index.entries
    differ = [
        typed for typed, found in zip(looked, there, strict=True)
        if [(entries[place].id, score) for place, score in found] != french.find(typed, 5)
    ]  # fmt: skip
    assert differ == []
