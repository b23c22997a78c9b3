"""What a driver finds that no entry is about: the lookup says so, and never lets a chance match pass for an answer."""

from __future__ import annotations

import pytest
from look_ups import LookUp, read_look_ups

from chockbook.lookup import Finder, build_index

ROADSIDE = [
    # a driver's words, part of Schedule 1 to O. Reg. 199/07, severity there
    ("flat tire", "21", "major"),
    ("lug nut loose", "22", "major"),
    ("marker light out", "18", "minor"),
    ("cracked windshield", "14", "minor"),
    ("abs light on", "6", "minor"),
    ("to much play in the steering wheel", "19", "major"),
    ("brake out of adjustment", "1", "major"),
    ("pushrod to long", "1", "major"),
    ("glad hand leaking", "1", "minor"),
    ("low air buzzer stays on", "1", "major"),
    ("wigwag stays down", "1", "major"),
    ("compressor not building air", "1", "major"),
    ("fifth wheel jaws open", "4", "major"),
    ("mud flap gone", "11", "minor"),
    ("load strap torn", "3", "major"),
    ("horn dead", "16", "minor"),
    ("fuel cap missing", "12", "minor"),
    ("exhaust smell in cab", "10", "major"),
    ("seat belt frayed", "7", "major"),
    ("main leaf broken", "20", "major"),
    ("air bag flat", "20", "major"),
    ("cab door wont stay shut", "2", "major"),
    ("fire extinguisher missing", "9", "minor"),
    ("hub smoking", "22", "major"),
    ("cracked frame rail", "11", "major"),
]


@pytest.fixture(scope="module")
def finders(shipped):
    books = [("on-s1", "en"), ("on-s1", "fr"), ("qc-list-1", "fr"), ("us-fmcsr", "en")]
    return {book: Finder(build_index(shipped, *book)) for book in books}


@pytest.mark.parametrize("words, part, severity", ROADSIDE)
def test_a_find_at_the_roadside_has_its_answer_first_and_for_sure(shipped, finder, words, part, severity):
    looked = finder.look_up(words)
    assert LookUp(words, (part,), (severity,)).answered_by(shipped, looked.found[0][0]), looked.found[:3]
    assert looked.unlisted is None


@pytest.mark.parametrize(
    "rulebook, language, words, named",
    [
        # In no list: a trailer's legs, the driveline, the engine and its coolant.
        ("on-s1", "en", "landing gear wont crank", "landing gear"),
        ("on-s1", "en", "coolant leak", "coolant leak"),
        ("on-s1", "en", "drive shaft loose", "drive shaft"),
        ("on-s1", "en", "jake brake not working", "engine brake"),
        ("us-fmcsr", "en", "landing gear wont crank", "landing gear"),
        ("qc-list-1", "fr", "bequille marche pas", "béquilles"),
        ("on-s1", "fr", "fuite de coolant", "fuite de liquide de refroidissement"),
        # In another rulebook's list: the hood in Quebec's, mud flaps and hub bearings in Ontario's.
        ("on-s1", "en", "hood wont latch", "Hood and front bumper"),
        ("us-fmcsr", "en", "mud flap gone", "Mud flap"),
        ("qc-list-1", "fr", "bavette manquante", "Bavette garde-boue"),
        ("qc-list-1", "fr", "bearing chaud", "Roulement et moyeu de roue"),
        # Quebec's component 19 has warnings that stay off, none that stays on.
        ("qc-list-1", "fr", "avertisseur basse pression reste allumé",
         "avertisseur de basse pression qui reste allumé"),
    ],
)
def test_what_has_no_entry_is_named(finders, rulebook, language, words, named):
    assert finders[rulebook, language].look_up(words).unlisted == named


@pytest.mark.parametrize(
    "rulebook, language, words",
    [("us-fmcsr", "en", "mud flap gone"), ("qc-list-1", "fr", "bavette manquante")],
)
def test_what_a_condition_excepts_is_not_what_it_is_about(finders, rulebook, language, words):
    """A tire may touch a mud flap: of a flap that is gone the entry says nothing."""
    assert "tire-clearance.rubbing" not in [entry for entry, _ in finders[rulebook, language].look_up(words).found]


def test_a_loose_match_says_so(finder):
    assert finder.look_up("radiator hose burst").loose
    assert not finder.look_up("air hose burst").loose


def test_look_ups_in_scope_are_seldom_called_loose_and_never_missing(finder):
    golden = [one.words for one in read_look_ups("golden_queries.tsv") if one.in_scope]
    told = [finder.look_up(words) for words in golden]
    assert [words for words, one in zip(golden, told, strict=True) if one.unlisted] == []
    assert sum(one.loose for one in told) <= len(golden) * 0.06
