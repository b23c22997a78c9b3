"""dist/manifest.json: every file of a proven build with its size and SHA-256, and the versions of what made it.

It is written when the proof has passed, and signs the build off. The same tables and the same versions give the same
bytes: neither a clock nor a machine, and not the version of Python, stands in it.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from typing import Any

from . import __version__
from .catalogue import Catalogue
from .proof.objection import Objection

NAME = "manifest.json"
FORMAT = 1
MAKERS = ("fontpkg-atkinson-hyperlegible", "fonttools", "jinja2", "markdown", "markupsafe", "mkdocs", "mkdocs-material",
          "pydantic", "pygments", "pymdown-extensions", "segno", "typst")  # fmt: skip
"""Packages that shape the bytes of some output, under the names by which they are installed."""


def write_manifest(catalogue: Catalogue, output: Path) -> Path:
    """Sign off a proven output folder: write its manifest, which names every other file in it.

    Raises:
        OSError: the folder cannot be read or written.
    """
    edition = catalogue.edition
    data = {
        "format": FORMAT,
        "edition": {"code": edition.code, "date": edition.date.isoformat(), "check_by": edition.check_by.isoformat()},
        "made_with": {"chockbook": __version__, **{name: found for name in MAKERS if (found := _version(name))}},
        "files": {name: _described(output / name) for name in _names(output)},
    }
    path = output / NAME
    path.write_text(json.dumps(data, ensure_ascii=False, indent=1) + "\n", encoding="utf-8", newline="\n")
    return path


def against_manifest(catalogue: Catalogue, output: Path) -> Iterator[Objection]:
    """Files that were changed, added or taken away since the output was signed off, and an edition that is another."""
    try:
        data = json.loads((output / NAME).read_text(encoding="utf-8"))
        code, listed = data["edition"]["code"], dict(data["files"])
    except (OSError, ValueError, KeyError, TypeError) as error:
        yield Objection(NAME, "file", f"cannot be read, so nothing shows that the build was signed off: {error}")
        return
    if code != catalogue.edition.code:
        yield Objection(NAME, "edition", f"is {code!r}, that of the tables is {catalogue.edition.code!r}")
    for name in _names(output):
        if name not in listed:
            yield Objection(NAME, name, "was added after the build was signed off")
        elif listed.pop(name) != _described(output / name):
            yield Objection(NAME, name, "was changed after the build was signed off")
    for name in listed:
        yield Objection(NAME, name, "is missing, and was there when the build was signed off")


def _names(output: Path) -> list[str]:
    found = (path.relative_to(output).as_posix() for path in output.rglob("*") if path.is_file())
    return sorted(name for name in found if name != NAME)


def _described(path: Path) -> dict[str, Any]:
    content = path.read_bytes()
    return {"size": len(content), "sha256": hashlib.sha256(content).hexdigest()}


def _version(name: str) -> str | None:
    try:
        return version(name)
    except PackageNotFoundError:
        return None
