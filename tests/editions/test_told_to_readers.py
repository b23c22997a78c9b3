"""How a change reads on pages and in bulletins: names, and words where there was or is nothing."""

from __future__ import annotations

from dataclasses import replace

import pytest
from projects import assemble
from tables_of_tests import BEFORE, changed, data_of

from chockbook.editions import compare
from chockbook.views.changes import view_change

CASES = {
    "a figure that is put on cards": (
        ("limits.yaml", "source: north-law, locator: s. 10,", "card: {entries: [tire.worn]}, source: north-law, locator: s. 10,"),
        ("Tread depth: Rear: 1.5 mm", "On no card", "On the cards of: Tire: A tread is worn")),
    "equipment that a part now asks for": (
        ("catalogue.yaml", "name: {en: City horn, fr: Klaxon de ville}}", "name: {en: City horn, fr: Klaxon de ville}, fitted: [tarp]}"),
        ("City horn", "Any unit", "Units with: tarp")),
    "a circumstance that is new": (
        ("catalogue.yaml", "item: 2-major-a, fit: named}", "item: 2-major-a, fit: named, applies_when: {en: on ice, fr: sur glace}}"),
        ("Tire: A tire is flat", "In every case", "on ice")),
    "a component in another system": (
        ("catalogue.yaml", "{id: wheel, system: tires,", "{id: wheel, system: horn,"), ("Wheel", "Tires", "Horn")),
    "another way to compare": (
        ("limits.yaml", "unit: mm\n    compare: at-least", "unit: mm\n    compare: more-than"),
        ("Tread depth", "at least", "more than")),
}  # fmt: skip


@pytest.mark.parametrize("case", CASES)
def test_a_change_is_told_in_words_and_names(case, tmp_path, shipped):
    change, told = CASES[case]
    tables = changed(tmp_path, change)
    catalogue = replace(assemble(tables).catalogue, words=shipped.words, languages=shipped.languages)
    found = [view_change(catalogue, one, "en") for one in compare(data_of(BEFORE), data_of(tables)).changes]
    assert told in [(one.name, one.before, one.after) for one in found]
