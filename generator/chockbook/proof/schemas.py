"""The schemas for editors against the shapes of tables and carriers' files: every field of every record, and what it may hold."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from pydantic import TypeAdapter

from ..catalogue import SHAPES, Catalogue
from .data_files import differences
from .objection import Objection


def prove_schemas(catalogue: Catalogue, folder: Path, name: str) -> Iterator[Objection]:
    """Objections to the folder of schemas. They follow the shapes of the files, whatever the catalogue holds."""
    wanted = {f"{table.removesuffix('.yaml')}.schema.json": shape for table, shape in SHAPES.items()}
    found = {path.name for path in folder.glob("*")} if folder.is_dir() else set()
    for file in sorted(wanted.keys() | found):
        output = f"{name}/{file}"
        if file not in wanted:
            yield Objection(output, "file", "does not belong here")
            continue
        try:
            schema = json.loads((folder / file).read_text(encoding="utf-8"))
        except (OSError, ValueError) as error:
            yield Objection(output, "file", f"cannot be read: {error}")
            continue
        yield from differences(output, "schema", _schema(wanted[file], file), schema)


def _schema(shape: type, file: str) -> dict[str, Any]:
    schema = TypeAdapter(shape).json_schema()
    return {**schema, "$schema": "https://json-schema.org/draft/2020-12/schema",
            "title": f"{file.removesuffix('.schema.json')}.yaml"}  # fmt: skip
