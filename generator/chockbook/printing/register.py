"""The register of what was printed for carriers: a line for each document, by which stale prints are called back.

It stands in the folder of the prints, beside what it lists, and not in the output of the build: that folder is
exchanged whole with every build, and with it would go the knowledge of what is out on the road. What was replaced stays
in it, though its file is gone, until whoever keeps it says that it was pulled: cards in cabs outlive files.
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
    "state",
    "print_code",
    "own_file",
)
CURRENT, REPLACED = "current", "replaced"
"""States of a row: its file stands here, or it was replaced or given up, and may still be on the road."""
MADE_COLUMNS = COLUMNS[:-3]
"""What every row has; a register of before lacks the state, and what the print takes from the carrier's own file (as JSON)
with the code of it that stands on the print."""
Row = dict[str, Any]


class RegisterUnreadable(ValueError):
    """The register is not one that can be read. It is not written over: what is on the road stands nowhere else."""


def read_made(folder: Path) -> dict[str, Any] | None:
    """What was made for a carrier; None where there is no note, or somebody else wrote it."""
    try:
        made = json.loads((folder / MADE).read_text(encoding="utf-8"))
        known = isinstance(made["notices"], list) and all(set(MADE_COLUMNS) <= set(row) and isinstance(row["path"], str)
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


def read_register(path: Path) -> list[Row]:
    """The rows of a register; none where there is no file. A row without a state is current.

    Raises:
        RegisterUnreadable: it is not a register; the message names the file.
    """
    try:
        with path.open(encoding="utf-8-sig", newline="") as file:
            rows = [{key: value or "" for key, value in row.items() if key} for row in csv.DictReader(file, strict=True)]
    except FileNotFoundError:
        return []
    except (OSError, ValueError, csv.Error) as error:
        raise RegisterUnreadable(f"{path} cannot be read ({type(error).__name__}): mend it, or move it away") from None
    if rows and not set(MADE_COLUMNS) <= set(rows[0]):
        raise RegisterUnreadable(f"{path} lacks columns: mend it, or move it away")
    return [{**row, "state": row.get("state") or CURRENT} for row in rows]


def write_register(folder: Path, rows: dict[str, list[Row]]) -> Path:
    """Write the register of a folder: carriers in the order of their ids, what was replaced after what is current.

    Args:
        folder: where the prints stand.
        rows: by carrier, those of this run; an empty list for one that has no prints any more. What other
            carriers have in the folder stays listed.

    Raises:
        OSError: it cannot be written.
        RegisterUnreadable: the one that stands there cannot be read.
    """
    known = read_register(folder / REGISTER)
    standing = {path.parent.name for path in folder.glob(f"*/{MADE}")}
    listed: list[Row] = []
    for carrier in sorted(standing | set(rows) | {row["carrier"] for row in known}):
        made = rows[carrier] if carrier in rows else _noted(folder / carrier)
        now = {_print_of(row) for row in made}
        gone = {_print_of(row): row for row in known if row["carrier"] == carrier and _print_of(row) not in now}
        listed += [{**row, "state": CURRENT} for row in made]
        listed += [{**gone[which], "state": REPLACED} for which in sorted(gone)]
    return _write(folder / REGISTER, listed)


def _noted(folder: Path) -> list[Row]:
    """The rows of a carrier's own note, if they are its own."""
    rows = (read_made(folder) or {"rows": []})["rows"]
    own = all(row["carrier"] == folder.name and row["path"].startswith(f"{folder.name}/") for row in rows)
    return rows if own else []


def take_off(folder: Path, names: Iterable[str]) -> int:
    """Take prints that were pulled off the register: those that were replaced, of some editions or carriers.

    Args:
        folder: where the prints stand.
        names: codes of editions, ids of carriers, or both: then those that are of one of each.

    Returns:
        How many were taken off.

    Raises:
        LookupError: no replaced print is of an edition or carrier of that name; the message names those there are.
        OSError: it cannot be written.
        RegisterUnreadable: it cannot be read.
    """
    rows = read_register(folder / REGISTER)
    replaced = [row for row in rows if row["state"] == REPLACED]
    editions, carriers = ({row[key] for row in replaced} for key in ("edition", "carrier"))
    wanted = set(names)
    for name in sorted(wanted - editions - carriers):
        there = ", ".join([*sorted(editions), *sorted(carriers)]) or "nothing"
        raise LookupError(f"no replaced print is of an edition or a carrier {name!r}; there is: {there}")
    pulled = {id(row) for row in replaced if all(not (wanted & of) or row[key] in wanted
                                                 for key, of in (("edition", editions), ("carrier", carriers)))}  # fmt: skip
    _write(folder / REGISTER, [row for row in rows if id(row) not in pulled])
    return len(pulled)


def _print_of(row: Row) -> tuple[str, str, str]:
    """What a print is known by: the same document of another edition, or with other bytes, is another print."""
    return row["path"], row["edition"], row["sha256"]


def _write(path: Path, rows: Iterable[dict[str, Any]]) -> Path:
    text = io.StringIO(newline="")
    writer = csv.DictWriter(text, COLUMNS, lineterminator="\n", extrasaction="ignore")
    writer.writeheader()
    writer.writerows(rows)
    put_whole(path, text.getvalue().encode())
    return path
