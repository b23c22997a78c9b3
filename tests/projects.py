"""Small projects for tests: the tiny tables, whole or with something changed."""

from __future__ import annotations

import shutil
from datetime import date
from pathlib import Path

from chockbook.checks import Assembly, assemble_folder

TESTS = Path(__file__).parent
TINY = TESTS / "tiny"
SHIPPED = TESTS.parent / "source_tables"
A_DAY_IN_THE_EDITION = date(2026, 6, 1)


def tiny_tables(folder: Path, *changes: tuple[str, str, str]) -> Path:
    """A copy of the tiny tables with texts replaced: (file, what stands there once, what takes its place)."""
    tables = folder / "tables"
    shutil.copytree(TINY, tables)
    for file, old, new in changes:
        path = tables / file
        text = path.read_text(encoding="utf-8")
        assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times in {file}"
        path.write_text(text.replace(old, new), encoding="utf-8", newline="")
    return tables


def assemble(tables: Path) -> Assembly:
    """The tables checked, judged by a fixed day."""
    return assemble_folder(tables, today=A_DAY_IN_THE_EDITION)
