"""A figure in a text is held against the limit that its entry names: exactly, and converted as it is written."""

from __future__ import annotations

import pytest
from projects import assemble, tiny_tables

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
    ("3", "3 mm", "The tread lasts 5 seconds at 90 kPa", False),  # no lengths
    ("3", "3 mm", "Tires past their limit by 6.4 mm (1/4 in) or more", False),  # how far past, and no limit
])  # fmt: skip
def test_a_figure_of_the_same_kind_is_one_of_the_limit(tmp_path, value, printed, text, told):
    tables = tiny_tables(tmp_path, ("limits.yaml", ROW, f'value: {value}, printed: {{en: "{printed}"}}'),
                         ("catalogue.yaml", "{en: A tire is flat}", f'{{en: "{text}"}}'))  # fmt: skip
    assert [fault.rule for fault in assemble(tables).faults] == (["figure-in-text"] if told else [])


def test_a_text_of_an_entry_without_limits_is_left_alone(tmp_path):
    tables = tiny_tables(tmp_path, ("catalogue.yaml", "{en: The horn makes no sound}", "{en: The horn moves 9 mm}"))
    assert assemble(tables).faults == []
