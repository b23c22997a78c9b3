"""Places in sources stand in the reader's language; numbers and letters stay the source's."""

from __future__ import annotations

import pytest

from chockbook.catalogue import Catalogue
from chockbook.catalogue.locator import locator_in


@pytest.mark.parametrize(
    "written, french",
    [
        ("Schedule 1, Part 2, major defect (a)", "Annexe 1, partie 2, défectuosité majeure (a)"),
        ("Schedule III, List 1, item 1.C", "Annexe III, liste 1, point 1.C"),
        ("49 CFR 393.47(e)(2), with Part 396 Appendix A, 1.a(5)(b)",
         "49 CFR 393.47(e)(2), avec la partie 396, annexe A, 1.a(5)(b)"),
        ("s. 107 (4) (b), (c) and (d)", "art. 107 (4) (b), (c) et (d)"),
        ("s. 2 (heading read) and the minor defects column of Schedule 1",
         "art. 2 (titre lu) et colonne des défectuosités mineures de l'annexe 1"),
        ("49 CFR 393.13", "49 CFR 393.13"),
        ("s. 4, written nowhere", "art. 4, written nowhere"),
    ],
)  # fmt: skip
def test_the_fixed_words_of_a_place_are_translated(shipped: Catalogue, written, french):
    assert locator_in(shipped, written, "fr") == french
    assert locator_in(shipped, written, "en") == written


def test_a_project_without_such_words_shows_places_as_written(tiny: Catalogue):
    assert tiny.locators == ()
    assert locator_in(tiny, "Part 2, major (a)", "en") == "Part 2, major (a)"
