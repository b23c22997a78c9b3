"""JSON Schemas of the tables and of carriers' files, so that an editor completes and checks while one types."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from ..catalogue import SHAPES
from ..output import put_whole


def editor_schemas() -> dict[str, dict[str, Any]]:
    """A JSON Schema (draft 2020-12) for each table and for the file of a carrier, by file name such as "catalogue.schema.json"."""
    found = {}
    for name, shape in SHAPES.items():
        schema = shape.model_json_schema()
        schema["$schema"] = "https://json-schema.org/draft/2020-12/schema"
        schema["title"] = name
        found[name.replace(".yaml", ".schema.json")] = schema
    return found


def write_editor_schemas(folder: Path) -> None:
    """Write the schemas into a folder, which is made where it does not exist."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, schema in editor_schemas().items():
        text = json.dumps(schema, ensure_ascii=False, indent=1)
        put_whole(folder / name, (text + "\n").encode())
