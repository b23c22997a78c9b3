"""Where the templates, starter tables and mkdocs.yml are: inside an installed package, or in the source tree."""

from __future__ import annotations

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


def shipped(name: str) -> Path:
    """A file or folder that ships with the program, such as "source_tables" or "mkdocs.yml".

    Raises:
        FileNotFoundError: neither the package nor the source tree has it.
    """
    packaged, in_source_tree = _PACKAGE / "_data" / name, _PACKAGE.parents[1] / name
    for path in (packaged, in_source_tree):
        if path.exists():
            return path
    raise FileNotFoundError(f"{name} is neither at {packaged} nor at {in_source_tree}")


def templates(kind: str) -> Path:
    """Folder of the templates of one kind: "web" or "print".

    Raises:
        FileNotFoundError: there is no such folder.
    """
    return shipped("site_templates") / kind
