"""The service worker: which files make an edition of the site, and their hashes."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path
from typing import Any

from .script import as_script_text, folder

NEVER_SHOWN = (".map", ".gz", "sitemap.xml")
"""Endings of files that no page shows."""
WORKER = "sw.js"
SEARCH_LANGUAGES = "assets/javascripts/lunr/"
"""Where the theme keeps its search's languages; English needs none of them."""


def wanted_offline(site_dir: Path) -> list[Path]:
    """The files of a site that work with no network needs.

    A folder with a service worker of its own is another book, and kept by that worker.
    """
    languages = _search_languages(site_dir)
    others = [path.parent for path in site_dir.rglob(WORKER) if path.parent != site_dir]
    kept = []
    for path in sorted(site_dir.rglob("*")):
        name = path.relative_to(site_dir).as_posix()
        if not path.is_file() or name == WORKER or name.endswith(NEVER_SHOWN):
            continue
        if any(path.is_relative_to(other) for other in others):
            continue
        if name.startswith(SEARCH_LANGUAGES) and not languages - {"en"}:
            continue
        kept.append(path)
    return kept


def _search_languages(site_dir: Path) -> set[str]:
    index = site_dir / "search" / "search_index.json"
    if not index.exists():
        return {"en"}
    config: dict[str, Any] = json.loads(index.read_text("utf-8")).get("config", {})
    return set(config.get("lang", ["en"]))


def file_hashes(site_dir: Path) -> dict[str, str]:
    """Of each file wanted offline, by its address in the site, the SHA-256 in hexadecimal."""
    return {
        path.relative_to(site_dir).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in wanted_offline(site_dir)
    }


def write_service_worker(site_dir: Path, edition: str) -> Path:
    """Writes the service worker of a finished site; call it last, since it holds the hash of every file.

    Args:
        site_dir: the finished site, pages sealed.
        edition: the edition's code.

    Raises:
        OSError: the folder cannot be read or written.
    """
    body = (folder() / "js" / "service_worker.js").read_text("utf-8")
    manifest = as_script_text(file_hashes(site_dir))
    path = site_dir / WORKER
    path.write_text(f"const EDITION = {json.dumps(edition)};\nconst FILES = {manifest};\n\n{body}", "utf-8",
                    newline="\n")  # fmt: skip
    return path
