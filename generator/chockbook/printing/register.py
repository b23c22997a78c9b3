"""The register of what was printed for carriers: a line for each document, by which stale prints are called back.

It stands in the folder of the prints, beside what it lists, and not in the output of the build: that folder is
exchanged whole with every build, and with it would go the knowledge of what is out on the road.
"""

from __future__ import annotations

import csv
import hashlib
import io
import json
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from ..output import put_whole

MADE = "made.json"
"""In the folder of a carrier: what was made for it, from what, and what whoever prints is told."""
REGISTER = "register.csv"
COLUMNS = (
    "path",
    "document",
    "carrier",
    "unit",
    "rulebook",
    "language",
    "edition",
    "pages",
    "cards",
    "sha256",
)


def read_made(folder: Path) -> dict[str, Any] | None:
    """What was made for a carrier; None where there is no note, or somebody else wrote it."""
    try:
        made = json.loads((folder / MADE).read_text(encoding="utf-8"))
        known = isinstance(made["notices"], list) and all(set(COLUMNS) <= set(row) and isinstance(row["path"], str)
                                                          for row in made["rows"])  # fmt: skip
        return made if known else None
    except (OSError, ValueError, LookupError, TypeError, RecursionError):
        return None


def note_made(folder: Path, made: dict[str, Any]) -> None:
    """Note what was made for a carrier, in one step."""
    put_whole(folder / MADE, json.dumps(made, ensure_ascii=False, indent=1).encode())


def note_proved(folder: Path) -> None:
    """Note that a carrier's documents were opened again and agree with the tables.

    Raises:
        OSError: it cannot be written.
    """
    made = read_made(folder)
    if made is not None:
        note_made(folder, {**made, "proved": True})


def is_whole(folder: Path, made: dict[str, Any]) -> bool:
    """Whether every document of a carrier is still there as it was made."""
    try:
        return all(hash_of(folder.parent / row["path"]) == row["sha256"] for row in made["rows"])
    except OSError:
        return False


def hash_of(path: Path) -> str:
    """SHA-256 of a file, in hexadecimal.

    Raises:
        OSError: it cannot be read.
    """
    return hashlib.sha256(path.read_bytes()).hexdigest()


def write_register(folder: Path, rows: dict[str, list[dict[str, Any]]]) -> Path:
    """Write the register of a folder: carriers in the order of their ids.

    Args:
        folder: where the prints stand.
        rows: by carrier, those of this run; an empty list for one that has no prints any more. What other
            carriers have in the folder stays listed.

    Raises:
        OSError: it cannot be written.
    """
    standing = {path.parent.name for path in folder.glob(f"*/{MADE}")}
    listed: list[dict[str, Any]] = []
    for carrier in sorted(standing | set(rows)):
        listed += rows[carrier] if carrier in rows else (read_made(folder / carrier) or {"rows": []})["rows"]
    return _write(folder / REGISTER, listed)


def _write(path: Path, rows: Iterable[dict[str, Any]]) -> Path:
    text = io.StringIO(newline="")
    writer = csv.DictWriter(text, COLUMNS, lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    put_whole(path, text.getvalue().encode())
    return path
