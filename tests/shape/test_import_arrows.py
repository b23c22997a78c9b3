"""Imports run one way, as DEVELOPERS.md draws it."""

from __future__ import annotations

import ast
from pathlib import Path

PACKAGE = Path(__file__).parents[2] / "generator" / "chockbook"
MAY_IMPORT: dict[str, set[str]] = {
    "faults": set(),
    "catalogue": set(),
    "resources": set(),
    "output": set(),
    "tables": {"faults", "catalogue"},
    "checks": {"faults", "catalogue", "tables"},
    "views": {"catalogue"},
    "lookup": {"catalogue", "views", "resources"},
    "pages": {"catalogue", "views", "resources"},
    "printing": {"catalogue", "views", "resources"},
    "exports": {"catalogue", "views"},
    "proof": {"catalogue", "faults"},
    "project": {"catalogue", "checks", "faults", "resources"},
    "build": {"catalogue", "checks", "exports", "faults", "lookup", "output", "pages", "printing", "project", "proof",
              "resources"},
    "serve": {"build", "project", "output"},
    "cli": {"build", "catalogue", "checks", "exports", "faults", "lookup", "output", "project", "proof", "resources",
            "serve", "tables"},
    "__main__": {"cli"},
    "__init__": set(),
}  # fmt: skip


def arrows():
    """(part that imports, part imported, file:line) for every import of ours."""
    for path in sorted(PACKAGE.rglob("*.py")):
        inside = path.relative_to(PACKAGE)
        part = inside.parts[0].removesuffix(".py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ImportFrom) and (node.level or (node.module or "").startswith("chockbook")):
                place = f"{inside}:{node.lineno}"
                if not node.level:
                    names = (node.module or "").split(".")[1:] or [alias.name for alias in node.names]
                else:
                    above = list(inside.parts[:-1])[: len(inside.parts) - node.level]
                    names = above + (node.module.split(".") if node.module else [])
                    names = names or [alias.name for alias in node.names]
                for target in names[:1] if node.module or above_of(inside, node) else names:
                    if target != part:
                        yield part, target, place


def above_of(inside: Path, node: ast.ImportFrom) -> bool:
    """Whether the import stays inside a part of the package."""
    return bool(list(inside.parts[:-1])[: len(inside.parts) - node.level])


def test_every_import_follows_the_arrows():
    found = list(arrows())
    assert found, "no import was found"
    wrong = [f"{place}: {part} imports {target}" for part, target, place in found
             if part not in MAY_IMPORT or (target not in MAY_IMPORT[part] and target != "__version__")]  # fmt: skip
    assert wrong == []
