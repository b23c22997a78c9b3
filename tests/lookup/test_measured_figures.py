"""What was measured tells no defect from another: a figure typed with its unit leads nowhere by itself, and hides nothing.

The defects are what a driver means who types this: common practice, chosen by reading the conditions.
"""

from __future__ import annotations

import pytest

from chockbook.lookup import Finder, build_index

FIRST = 3
MEANT = {
    "en": {
        "low air 55 psi": "air-system.real-low-air",
        "air leak 4 psi in a minute": "air-system.loss-over-limit",
        "4 psi per minute": "air-system.loss-over-limit",
        "60psi warning": "low-air-warning.does-not-come-on",
        "steering wheel turns 40 degrees": "steering-wheel.play-over-limit",
        "tire tread 1/32": "tire-tread.worn-steer",
        "tread 2 mm": "tire-tread.worn-steer",
        "pushrod 2 1/2 inches": "brake-pushrod.stroke-over-limit",
        "2 lamps out": "brake-lamps.both-out",
        "1 headlight out": "low-beam-headlamps.one-out",
    },
    "fr": {
        "3 kpa par minute": "air-system.loss-over-limit",
        "perte d'air 4 lb par minute": "air-system.loss-over-limit",
        "2 phares brules": "low-beam-headlamps.both-out",
    },
}


@pytest.fixture(scope="module")
def finders(shipped):
    return {language: Finder(build_index(shipped, "on-s1", language)) for language in MEANT}


@pytest.mark.parametrize(("language", "typed"), [(language, typed) for language, looked in MEANT.items() for typed in looked])
def test_a_defect_is_found_with_what_was_measured(finders, language, typed):
    assert MEANT[language][typed] in [one for one, *_ in finders[language].find(typed)[:FIRST]]


@pytest.mark.parametrize("typed", ["55", "55 psi", "2 1/2 inches", "1/32", "40 degrees", "12,5 mm"])
def test_a_figure_alone_finds_nothing(finders, typed):
    assert finders["en"].find(typed) == []


@pytest.mark.parametrize(("typed", "part"), [("part 7 a", "seat-belt."), ("7 major a", "seat-belt."), ("section 7", "seat-belt.")])
def test_the_place_in_a_schedule_is_still_found(finders, typed, part):
    assert finders["en"].find(typed)[0][0].startswith(part)
