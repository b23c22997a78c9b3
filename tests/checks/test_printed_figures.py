"""What is printed of a limit is its value: exactly, or converted and rounded as the value is written."""

from __future__ import annotations

import pytest
from projects import assemble, tiny_tables

ROW = "value: 3, printed: {en: 3 mm}"
UNIT = "unit: mm"


# By the inch of 25.4 mm, the psi of 6.8948 kPa and the inch of mercury of 3.3864 kPa.
@pytest.mark.parametrize(("unit", "value", "printed", "told"), [
    ("mm", "13", "13 mm (1/2 in)", False),
    ("mm", "13", "10 mm (3/8 in)", True),
    ("mm", "12.7", "1/2 in", False),
    ("mm", "13", "1/2 in", False),  # 12.7, in whole millimetres
    ("mm", "50", "2 in", True),  # 50.8
    ("mm", "3.175", "4/32 in", False),
    ("mm", "6.35", "6.4 mm", True),  # two figures of one system
    ("kPa", "20.7", "3 psi in one minute", False),
    ("kPa", "27.1", "203 mm (8 in) of mercury", False),
    ("kPa", "27.1", "203 mm (8 po) de mercure", False),
    ("kPa", "30", "203 mm (8 po) de mercure", True),
    ("s", "120", "2 minutes, from 85 to 100 psi", False),
    ("s", "120", "3 minutes, from 85 to 100 psi", True),
    ("fraction", "0.8", "80 percent, or the mark of the maker", False),
    ("fraction", "0.25", "one quarter full", False),  # in words
    ("mm", "3", "1/0 in", True),
    ("count", "3", "3 triangles", False),  # no unit that is known
])  # fmt: skip
def test_the_value_is_among_the_figures_printed(tmp_path, unit, value, printed, told):
    tables = tiny_tables(tmp_path, ("limits.yaml", UNIT, f"unit: {unit}"),
                         ("limits.yaml", ROW, f'value: {value}, printed: {{en: "{printed}"}}'))  # fmt: skip
    assert [fault.rule for fault in assemble(tables).faults] == (["printed-figure"] if told else [])


def test_each_language_is_judged_by_itself(tmp_path):
    tables = tiny_tables(tmp_path, ("limits.yaml", ROW, "value: 3, printed: {en: 3 mm, fr: 4 mm}"))
    assert "printed-figure" in [fault.rule for fault in assemble(tables).faults]


@pytest.mark.parametrize("value", ["1e400", "1e999999999", "[3]", "three"])
def test_what_is_no_number_is_left_to_the_shape_and_takes_no_time(tmp_path, value):
    tables = tiny_tables(tmp_path, ("limits.yaml", ROW, f"value: {value}, printed: {{en: 3 mm}}"))
    assert assemble(tables).catalogue is None
