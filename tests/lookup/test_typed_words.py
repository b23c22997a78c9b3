"""Typed words become comparable words, and typing errors are measured."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from chockbook.lookup.indexing import search_words
from chockbook.lookup.letters import WordReader
from chockbook.lookup.typing_errors import FAR, NearWords, distance, skeleton

WORDS = st.text(alphabet="abcdeilrst", min_size=1, max_size=9)


@pytest.fixture(scope="module")
def reader(shipped):
    return WordReader(search_words(shipped, "en"))


@pytest.mark.parametrize(
    "typed, words",
    [
        ("Won’t LATCH!", ["wont", "latch"]),
        ("won't latch", ["wont", "latch"]),
        ("the seat-belt, torn", ["seat", "belt", "torn"]),
        ("Éclairage brisé", ["eclairage", "brise"]),
        ("œuvre straße", ["oeuvre", "strasse"]),
        ("½ inch", ["1", "2", "inch"]),
        ("part 7 a", ["part", "7", "a"]),
        ("a belt", ["belt"]),
        ("<script>", ["script"]),
        ("  ", []),
    ],
)
def test_typed_text_becomes_plain_words(reader, typed, words):
    assert reader.told_words(typed) == words


@pytest.mark.parametrize(
    "one, other",
    [
        ("leaks", "leaking"),
        ("rubbing", "rub"),
        ("tyres", "tire"),
        ("broken", "broke"),
        ("torn", "tear"),
        ("latches", "latch"),
        ("assemblies", "assembly"),
        ("cracked", "cracks"),
        ("colour", "color"),
        ("center", "centre"),
        ("gauge", "gage"),
        ("hoses", "hose"),
    ],
)
def test_forms_of_one_word_have_one_root(reader, one, other):
    assert reader.root(one) == reader.root(other)


@pytest.mark.parametrize(
    "one, other", [("brake", "break"), ("belt", "bolt"), ("wheel", "steel"), ("tire", "tie")]
)
def test_different_words_have_different_roots(reader, one, other):
    assert reader.root(one) != reader.root(other)


@pytest.mark.parametrize(
    "typed, word, steps",
    [
        ("latch", "latch", 0),
        ("lacth", "latch", 1),
        ("latc", "latch", 1),
        ("lattch", "latch", 1),
        ("latvh", "latch", 1),
        ("windsheild", "windshield", 1),
        ("stearing", "steering", 1),
        ("tale", "tail", 2),
        ("hose", "latch", FAR),
    ],
)
def test_typing_errors_are_counted(typed, word, steps):
    assert distance(typed, word, 2) == steps


@given(WORDS, WORDS)
def test_the_distance_is_the_same_both_ways(one, other):
    assert distance(one, other, 2) == distance(other, one, 2)


@given(WORDS)
def test_a_word_is_no_distance_from_itself(word):
    assert distance(word, word, 2) == 0


@given(WORDS, st.integers(0, 8), st.sampled_from("abcdeilrst"))
def test_one_more_letter_is_one_error(word, place, letter):
    at = min(place, len(word))
    assert distance(word[:at] + letter + word[at:], word, 2) == 1


def test_the_nearest_words_are_those_that_looking_at_all_would_give(finder):
    words = list(finder.index.surfaces)
    near = NearWords(words)
    for typed in (
        "stering",
        "brocken",
        "extingusher",
        "reflectr",
        "muffeler",
        "dimer",
        "qqqqqq",
        "accelarator",
    ):
        most = 1 if len(typed) < 8 else 2
        steps = [distance(typed, word, 2) if len(word) >= 3 else FAR for word in words]
        fit = [
            s if s <= most or (s < FAR and skeleton(w) == skeleton(typed)) else FAR
            for s, w in zip(steps, words, strict=True)
        ]
        expected = [at for at, step in enumerate(fit) if step == min(fit) < FAR]
        assert [at for at, _ in near.nearest(typed)] == expected, typed


def test_no_phrase_of_the_table_shrinks_to_one_word_that_means_something_else(shipped, reader):
    for group in search_words(shipped, "en").same:
        for phrase in group:
            raw, told = reader.raw_words(phrase), reader.told_words(phrase)
            assert told, phrase
            assert len(told) > 1 or len(raw) == 1, f"of {phrase!r} only {told} is left"


def test_every_word_meant_by_a_mistaken_one_is_in_the_catalogue(shipped, finder, reader):
    for word, meant in search_words(shipped, "en").mistaken.items():
        for one in meant:
            assert one != word
            assert reader.root(one) in finder.index.roots, f"{word}: {one}"
