"""The edition's code follows the meaning of the tables, not their layout."""

from __future__ import annotations

import re

import yaml
from projects import assemble, tiny_tables


def code(tables) -> str:
    catalogue = assemble(tables).catalogue
    assert catalogue is not None
    return catalogue.edition.code


def test_the_code_is_eight_hexadecimal_digits(tiny):
    assert re.fullmatch(r"[0-9a-f]{8}", tiny.edition.code)


def test_layout_and_order_of_keys_do_not_change_the_code(tmp_path, tiny):
    tables = tiny_tables(tmp_path)
    for path in tables.glob("*.yaml"):
        data = yaml.load(path.read_text(encoding="utf-8"), yaml.BaseLoader)
        path.write_text("# written anew\n" + yaml.safe_dump(data, sort_keys=True, indent=6), encoding="utf-8")
    assert code(tables) == tiny.edition.code


def test_a_new_date_alone_does_not_change_the_code(tmp_path, tiny):
    assert code(tiny_tables(tmp_path, ("catalogue.yaml", "2026-01-05", "2026-02-05"))) == tiny.edition.code


def test_a_changed_word_a_severity_or_a_figure_changes_the_code(tmp_path, tiny):
    codes = {
        code(tiny_tables(tmp_path / name, change))
        for name, change in {
            "word": ("catalogue.yaml", "A tire is flat", "A tire has no air"),
            "locator": ("rulebooks.yaml", '"Part 2, major (a)"', '"Part 2, major (b)"'),
            "figure": ("limits.yaml", "value: 3, printed: {en: 3 mm}", "value: 4, printed: {en: 4 mm}"),
            "step": ("route.yaml", "Press the horn.", "Press the horn twice."),
        }.items()
        if (tmp_path / name).mkdir() is None
    }
    assert len(codes | {tiny.edition.code}) == 5
