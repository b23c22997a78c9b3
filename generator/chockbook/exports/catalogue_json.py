"""catalogue.json: the whole catalogue, every text by language.

The form is documented in DEVELOPERS.md and stays: fields may be added, never renamed or removed, without
a new `format` number.
"""

from __future__ import annotations

import json
from pathlib import Path

from ..catalogue import Catalogue
from ..editions import catalogue_as_data


def write_catalogue_json(catalogue: Catalogue, path: Path) -> None:
    """Write the catalogue as JSON, in UTF-8, with the same bytes for the same catalogue."""
    text = json.dumps(catalogue_as_data(catalogue), ensure_ascii=False, indent=1)
    path.write_text(text + "\n", encoding="utf-8", newline="\n")
