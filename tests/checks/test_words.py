"""A fixed word that the outputs need and the table lacks is a fault."""

from __future__ import annotations

from projects import A_DAY_IN_THE_EDITION, tiny_tables

from chockbook.checks import assemble_folder


def test_a_needed_word_that_is_missing_is_a_fault(tmp_path):
    tables = tiny_tables(tmp_path)
    faults = assemble_folder(tables, ["title", "edition"], A_DAY_IN_THE_EDITION).faults
    assert [(str(f.place), f.rule, f.what) for f in faults if f.rule == "missing-word"] == [
        ("tables/words.yaml:6:3", "missing-word", 'the word "edition" is missing')
    ]


def test_a_language_without_search_words_is_told(tmp_path):
    tables = tiny_tables(tmp_path)
    [fault] = assemble_folder(tables, ["title"], A_DAY_IN_THE_EDITION).faults
    assert str(fault) == (
        "tables/words.yaml:2:12: error[missing-search-words]: the language \"en\" has no record under `search`\n"
        "    why: the lookup could find nothing in that language\n"
        "    mend: add `- {language: en, apostrophe: joins}` under `search`; its `drop`, `endings` and "
        "`same` make the lookup better, and can follow"
    )
