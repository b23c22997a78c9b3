"""A kept edition that cannot be read is a fault, and never a gap in what holders of old cards are told."""

from __future__ import annotations

import pytest
from projects import A_DAY_IN_THE_EDITION, tiny_tables

from chockbook.checks import assemble_folder


@pytest.mark.parametrize("text", ["", "{", "[]", '{"format": 1}', '{"format": 99, "edition": {"code": "0123abcd"}}'])
def test_a_kept_edition_that_cannot_be_read_is_a_fault(tmp_path, text):
    tables = tiny_tables(tmp_path)
    (tables / "editions").mkdir()
    (tables / "editions" / "0123abcd.json").write_text(text, encoding="utf-8")
    [fault] = assemble_folder(tables, (), A_DAY_IN_THE_EDITION).faults
    assert (str(fault.place), fault.rule) == ("tables/editions/0123abcd.json:1:1", "kept-edition")
    assert fault.mend == "write it anew with: chockbook keep REVISION, or remove it"
