"""The word index: each word stands where a reader looks it up."""

from __future__ import annotations

import pytest

from chockbook.catalogue import Catalogue
from chockbook.views.grouping import entries_under
from chockbook.views.word_index import index_words, words_of


@pytest.mark.parametrize(
    "text, words",
    [
        ("Fuite d'air", ["fuite", "air"]),
        ("L'huile de l’essieu", ["huile", "de", "essieu"]),
        ("jusqu'à ce qu'elle s'ouvre", ["à", "ce", "elle", "ouvre"]),
        ("Qu’on n'entend pas", ["on", "entend", "pas"]),
        ("L'œil du timon, l'étrier", ["œil", "du", "timon", "étrier"]),
        ("d'aujourd'hui", ["aujourd'hui"]),
        ("le maître-cylindre", ["le", "maître", "cylindre"]),
        ("the driver's door won't open", ["the", "driver", "door", "won't", "open"]),
        ("the tire’s tread", ["the", "tire", "tread"]),
        ("it's 5/32 in", ["it", "in"]),
    ],
)
def test_words_stand_without_what_is_elided_before_them(text, words):
    assert words_of(text) == words


def test_the_french_index_puts_elided_words_under_their_own_letter(shipped: Catalogue):
    entries = tuple(entries_under(shipped, "on-s1", "fr"))
    letters = index_words(shipped, entries, "fr")
    heads = {one.word: one for letter in letters for one in letter.words}
    assert not [head for head in heads if "'" in head or "’" in head]
    assert {"huile", "air", "essieu", "embrayage", "accouplement"} <= heads.keys()
    assert "Huile de moyeu" in [lead.name for lead in heads["huile"].leads]
    assert [letter.letter for letter in letters] == sorted(set("ABCDEFGHIJKLMNOPQRSTUVWZ"))
    by_letter = {letter.letter: [one.word for one in letter.words] for letter in letters}
    assert {"échappement", "écrou", "essieu"} <= set(by_letter["E"])
    assert "œil" in by_letter["O"]
    e = by_letter["E"]
    assert e.index("eau") < e.index("échappement") < e.index("écrou") < e.index("essieu") < e.index("étrier")
