"""A figure in a text is held against the limit that its entry names: exactly, and converted as it is written."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from projects import TESTS, assemble, tiny_tables

ROW = "value: 3, printed: {en: 3 mm}"


@pytest.mark.parametrize(("value", "printed", "text", "told"), [
    ("3", "3 mm", "The tread is under 3 mm", False),
    ("3", "3 mm", "The tread is under 0.3 cm", False),  # the same length
    ("3", "3 mm", "The tread is under 3.1 mm", True),
    ("6.4", "6.4 mm (1/4 in)", "The tread is under 1/4 in", False),
    ("6.4", "6.4 mm", "The tread is under 1/4 in", False),  # 6.35 mm, which is written 6.4
    ("10", "10 mm (3/8 in)", "The play is over 13 mm (1/2 in)", True),
    ("13", "13 mm (1/2 in)", "The play is over 13 mm (1/2 in)", False),
    ("13", "13 mm", "The play is over 5/8 in", True),  # 15.9 mm
    ("40", "40 mm", "The stroke is over 2 in", True),  # 50.8 mm, further off than a rounded conversion
    ("21", "21 kPa (3 lb/po²)", "The loss is over 3 psi", False),
    ("3", "3 mm", "The tread lasts 5 seconds at 90 kPa", False),  # no lengths
    ("3", "3 mm", "Tires past their limit by 6.4 mm (1/4 in) or more", False),  # how far past, and no limit
])  # fmt: skip
def test_a_figure_of_the_same_kind_is_one_of_the_limit(tmp_path, value, printed, text, told):
    unit = ("limits.yaml", "unit: mm", f"unit: {'kPa' if 'kPa' in printed else 'mm'}")
    tables = tiny_tables(tmp_path, unit, ("limits.yaml", ROW, f'value: {value}, printed: {{en: "{printed}"}}'),
                         ("catalogue.yaml", "{en: A tire is flat}", f'{{en: "{text}"}}'))  # fmt: skip
    assert [fault.rule for fault in assemble(tables).faults] == (["figure-in-text"] if told else [])


def test_a_text_of_an_entry_without_limits_is_left_alone(tmp_path):
    tables = tiny_tables(tmp_path, ("catalogue.yaml", "{en: The horn makes no sound}", "{en: The horn moves 9 mm}"))
    assert assemble(tables).faults == []


OF_TWO = TESTS / "editions" / "tables"
"""Two rulebooks, north and south, that both rule on a worn tread. The north's figures are 3 mm and 1.5 mm."""
_FRONT = "      - {label: {en: Front,"
_SOUTH_ROW = ("      - {label: {en: South, fr: Sud}, value: 2, printed: {en: 2 mm, fr: 2 mm}, "
              "rulebook: south, source: south-law, locator: s. 9, basis: invented}\n")  # fmt: skip
_GUIDE_ROW = ('      - {label: {en: "Elsewhere, guide", fr: Ailleurs}, value: 4, printed: {en: 4 mm, fr: 4 mm}, '
              "source: north-law, locator: s. 9, basis: invented}\n")  # fmt: skip
SOUTH = ("limits.yaml", _FRONT, _SOUTH_ROW + _FRONT)
GUIDE = ("limits.yaml", _FRONT, _GUIDE_ROW + _FRONT)


def _of_two(folder: Path, *changes: tuple[str, str, str]) -> list[tuple[str, str]]:
    """Level and last words of what is told of the tables of two rulebooks with texts replaced."""
    tables = folder / "tables"
    shutil.copytree(OF_TWO, tables)
    for file, old, new in changes:
        path = tables / file
        text = path.read_text(encoding="utf-8")
        assert text.count(old) == 1, old
        path.write_text(text.replace(old, new), encoding="utf-8")
    return [(fault.level, fault.what.split(": ")[-1]) for fault in assemble(tables).faults if fault.rule == "figure-in-text"]


@pytest.mark.parametrize(("text", "told"), [
    ("A tread is under 3 mm", [("warning", 'no figure of "tread" under "south"')]),
    ("A tread is under 2 mm", [("warning", 'no figure of "tread" under "north"')]),
    ("A tread is under 2.4 mm", [("error", 'no figure of "tread"')]),
    ("A tread is under 3 mm in the North. In the South it is under 2 mm", []),
    ("In the North it is under 2 mm", [("warning", 'no figure of "tread" under "North"')]),
    ("Elsewhere it is under 4 mm", []),
    ("It is under 4 mm", [("warning", f'no figure of "tread" under "{book}"') for book in ("north", "south")]),
])  # fmt: skip
def test_a_text_says_the_figures_of_the_rulebooks_it_is_read_under_or_names(tmp_path, text, told):
    condition = ("catalogue.yaml", "{en: A tread is worn,", f'{{en: "{text}",')
    assert _of_two(tmp_path, SOUTH, GUIDE, condition) == told


def test_what_a_ruling_says_has_the_figures_of_its_rulebook(tmp_path):
    ruling = ("catalogue.yaml", "{en: at the steer axle,", "{en: under 2 mm,")
    assert _of_two(tmp_path, SOUTH, ruling) == [("warning", 'no figure of "tread" under "north"')]


def test_what_a_step_says_has_the_figures_of_the_rulebooks_of_what_it_finds(tmp_path):
    step = ("route.yaml", "want: {en: stand up,", "want: {en: 3 mm or more,")
    assert _of_two(tmp_path, SOUTH, step) == [("warning", 'no figure of "tread" under "south"')]


def test_a_limit_of_another_rulebook_alone_has_no_figure_for_a_text(tmp_path):
    entry = ("catalogue.yaml", "{en: The horn is faint,", "{en: The horn is under 3 mm,")
    limits = ("catalogue.yaml", "aliases: {en: [weak horn], fr: [klaxon faible]}\n    vehicles: [truck]\n",
              "aliases: {en: [weak horn], fr: [klaxon faible]}\n    vehicles: [truck]\n    limits: [tread]\n")  # fmt: skip
    south = ("catalogue.yaml", "{rulebook: north, item: 1-minor-b, fit: general}", "{rulebook: south, item: s-1, fit: general}")
    assert _of_two(tmp_path, entry, limits, south) == [("warning", 'no figure of "tread" under "south"')]
