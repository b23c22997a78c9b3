"""The service worker against the files of its book: each by its hash, and none that is not there."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator
from pathlib import Path

from .objection import Objection

WORKER = "sw.js"
LEFT_OUT = (".map", ".gz", "sitemap.xml", WORKER)
"""Ends of names of files that no page shows."""
OTHER_LANGUAGES = "assets/javascripts/lunr/"
"""The theme's search in other languages: a book in English does without."""


def prove_offline(folder: Path, below: tuple[str, ...], edition: str, name: str) -> Iterator[Objection]:
    """Objections to the list of files that a book keeps for the roadside.

    Args:
        folder: the book's site.
        below: beginnings of the addresses that belong to other books.
        edition: code of the edition.
        name: of the site, in objections.
    """
    output = f"{name}/{WORKER}"
    try:
        first, second, _ = (folder / WORKER).read_text(encoding="utf-8").split("\n", 2)
        code = json.loads(first.removeprefix("const EDITION = ").removesuffix(";"))
        listed = json.loads(second.removeprefix("const FILES = ").removesuffix(";"))
        files = dict(listed)
    except (OSError, ValueError, TypeError) as error:
        yield Objection(output, "file", f"cannot be read: {error}")
        return
    if code != edition:
        yield Objection(output, "edition", f"is {code!r}, the catalogue's is {edition!r}")
    for path in sorted(folder.rglob("*")):
        address = path.relative_to(folder).as_posix()
        if not path.is_file() or address.startswith(below) or address.endswith(LEFT_OUT):
            continue
        kept = files.pop(address, None)
        if kept is None and not address.startswith(OTHER_LANGUAGES):
            yield Objection(output, address, "is not kept for the roadside")
        elif kept is not None and kept != hashlib.sha256(path.read_bytes()).hexdigest():
            yield Objection(output, address, "is kept with the hash of another file")
    for address in files:
        yield Objection(output, address, "is kept, and is no file of the book")
