"""The tables that the tests of editions change, and what they say."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

from projects import assemble

from chockbook.editions import catalogue_as_data

BEFORE = Path(__file__).parent / "tables"


def changed(folder: Path, *changes: tuple[str, str, str]) -> Path:
    """A copy of the tables with texts replaced: (file, what stands there once, what takes its place)."""
    tables = folder / "tables"
    shutil.copytree(BEFORE, tables)
    for file, old, new in changes:
        path = tables / file
        text = path.read_text(encoding="utf-8")
        assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times in {file}"
        path.write_text(text.replace(old, new), encoding="utf-8", newline="")
    return tables


def data_of(tables: Path) -> dict[str, Any]:
    """What tables say, as plain data."""
    assembly = assemble(tables)
    assert assembly.catalogue is not None, "\n".join(map(str, assembly.faults))
    return catalogue_as_data(assembly.catalogue)
