"""Every value knows its place, whatever the file is like."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from projects import assemble, tiny_tables

from chockbook.faults import Place
from chockbook.tables import read_table


def read(tmp_path, raw: bytes):
    path = tmp_path / "table.yaml"
    path.write_bytes(raw)
    return read_table(path, "table.yaml")


@pytest.mark.parametrize(
    "raw, line, column",
    [
        (b"a: 1\nb: here\n", 2, 4),
        (b"a: 1\r\nb: here\r\n", 2, 4),
        (b"\xef\xbb\xbfa: 1\nb: here\n", 2, 4),
        (b"a: 1\nb:\there\n", 2, 4),
        ("a: é\nb: here\n".encode(), 2, 4),
        ("a: é 🚚\n'é 🚚': 1\nb: here".encode(), 3, 4),
        (b"a: 1\nb: here", 2, 4),
        ("{'é🚚': 1, b: here}\n".encode(), 1, 14),
    ],
    ids=["LF", "CRLF", "BOM", "tab", "accent", "emoji", "no newline at the end", "column in characters"],
)
def test_a_value_knows_its_line_and_column(tmp_path, raw, line, column):
    table = read(tmp_path, raw)
    assert table.faults == []
    assert table.place(("b",)) == Place("table.yaml", line, column)


@pytest.mark.parametrize("text", ["NO", "1.10", "12:30", "010", "0x1F", "2026-01-05", "1e3", "yes", ".inf", "="])
def test_a_scalar_stays_the_text_that_was_written(tmp_path, text):
    assert read(tmp_path, f"a: {text}\n".encode()).data == {"a": text}


@pytest.mark.parametrize("text", ["", "~", "null"])
def test_an_empty_value_is_nothing_and_a_quoted_one_is_text(tmp_path, text):
    assert read(tmp_path, f"a: {text}\nb: '{text}'\n".encode()).data == {"a": None, "b": text}


def test_a_byte_that_is_not_utf_8_is_pointed_at(tmp_path):
    table = read(tmp_path, "a: é\nb: caf".encode() + b"\xe9\n")
    assert [(str(f.place), f.rule, f.what) for f in table.faults] == [
        ("table.yaml:2:7", "encoding", "byte 0xe9 is not UTF-8")
    ]


@pytest.mark.parametrize("raw", [b"", b"\n \n", b"\xef\xbb\xbf"])
def test_an_empty_file_is_a_fault(tmp_path, raw):
    assert [f.rule for f in read(tmp_path, raw).faults] == ["empty-table"]


def test_a_missing_table_is_one_fault_and_breeds_no_others(tmp_path):
    tables = tiny_tables(tmp_path)
    (tables / "sources.yaml").unlink()
    faults = assemble(tables).faults
    assert [(str(f.place), f.rule) for f in faults] == [("tables/sources.yaml:1:1", "missing-table")]


def test_a_table_that_is_too_large_is_not_read(tmp_path):
    path = tmp_path / "table.yaml"
    with path.open("wb") as file:
        file.truncate(64 * 1024 * 1024 + 1)
    assert [f.rule for f in read_table(path, "table.yaml").faults] == ["too-large"]


def test_a_table_that_cannot_be_opened_is_a_fault(tmp_path, monkeypatch):
    path = tmp_path / "table.yaml"
    path.write_text("a: 1")

    def refuse(self):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("pathlib.Path.read_bytes", refuse)
    assert [(f.rule, f.what) for f in read_table(path, "table.yaml").faults] == [
        ("unreadable", "the table cannot be read: Permission denied")
    ]


@given(st.binary(max_size=300))
def test_no_bytes_make_reading_fail(tmp_path_factory, raw):
    table = read(tmp_path_factory.mktemp("bytes"), raw)
    assert table.data is not None or table.faults


@given(st.text(alphabet="abc:-[]{}&*!|>'\"#%@`, \n\t?é🚚\0\u202e", max_size=120))
def test_no_text_makes_reading_fail(tmp_path_factory, text):
    table = read(tmp_path_factory.mktemp("text"), text.encode("utf-8", "surrogatepass"))
    for fault in table.faults:
        lines = text.split("\n")
        assert 1 <= fault.place.line <= len(lines) + 1
        assert "\0" not in str(fault)
        assert "\u202e" not in str(fault)


def test_a_table_of_more_values_than_memory_bears_is_not_parsed(tmp_path):
    path = tmp_path / "catalogue.yaml"
    path.write_text("a: [" + "x," * 4_000_001 + "]\n", encoding="utf-8")
    [fault] = read_table(path, "catalogue.yaml").faults
    assert (fault.rule, fault.what) == ("too-large", "the table holds more than 4,000,000 commas, colons and lines")
