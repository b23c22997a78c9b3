"""A fixed word that the outputs need and the table lacks is a fault."""

from __future__ import annotations

from projects import A_DAY_IN_THE_EDITION, tiny_tables

from chockbook.checks import assemble_folder


def test_a_needed_word_that_is_missing_is_a_fault(tmp_path):
    tables = tiny_tables(tmp_path)
    faults = assemble_folder(tables, ["title", "edition"], A_DAY_IN_THE_EDITION).faults
    assert [(str(f.place), f.rule, f.what) for f in faults] == [
        ("tables/words.yaml:6:3", "missing-word", 'the word "edition" is missing')
    ]
