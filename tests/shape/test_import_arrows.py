"""Imports run one way, as DEVELOPERS.md draws it."""

from __future__ import annotations

import ast
from pathlib import Path

PACKAGE = Path(__file__).parents[2] / "generator" / "chockbook"
DEVELOPERS = PACKAGE.parents[1] / "DEVELOPERS.md"
MAY_IMPORT: dict[str, set[str]] = {
    "faults": set(),
    "catalogue": set(),
    "resources": set(),
    "output": set(),
    "workers": {"catalogue"},
    "tables": {"faults", "catalogue"},
    "editions": {"catalogue"},
    "checks": {"faults", "catalogue", "tables", "editions"},
    "views": {"catalogue", "drill", "editions", "results"},
    "lookup": {"catalogue", "views", "resources"},
    "pages": {"catalogue", "drill", "views", "resources"},
    "printing": {"catalogue", "drill", "editions", "output", "views", "resources", "workers", "__version__"},
    "exports": {"catalogue", "drill", "editions", "output", "results"},
    "drill": {"catalogue"},
    "results": {"drill", "faults"},
    "proof": {"catalogue", "editions", "faults", "workers"},
    "manifest": {"catalogue", "proof", "__version__"},
    "project": {"checks", "faults", "resources"},
    "sides": {"checks", "editions", "faults", "output", "project"},
    "starter": {"project", "resources"},
    "build": {"catalogue", "exports", "faults", "lookup", "manifest", "output", "pages", "printing", "project", "proof",
              "views", "workers"},
    "serve": {"build", "faults", "project", "resources"},
    "cli": {"build", "catalogue", "checks", "drill", "editions", "exports", "faults", "lookup", "manifest", "output",
            "pages", "printing", "project", "proof", "results", "serve", "sides", "starter", "views", "workers",
            "__version__"},
    "__main__": {"cli"},
    "__init__": set(),
}  # fmt: skip


def arrows():
    """(part that imports, part imported, file:line) for every import of ours."""
    for path in sorted(PACKAGE.rglob("*.py")):
        inside = path.relative_to(PACKAGE)
        part = inside.parts[0].removesuffix(".py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ImportFrom) and node.level:
                for target in targets(inside, node):
                    if target != part:
                        yield part, target, f"{inside.as_posix()}:{node.lineno}"


def targets(inside: Path, node: ast.ImportFrom) -> list[str]:
    """The parts of the package that a relative import names."""
    folders = list(inside.parts[:-1])
    around = folders[: len(folders) - (node.level - 1)]
    if around:
        return around[:1]
    return [node.module.split(".")[0]] if node.module else [alias.name for alias in node.names]


def test_every_import_follows_the_arrows():
    found = list(arrows())
    assert found, "no import was found"
    wrong = [f"{place}: {part} imports {target}" for part, target, place in found
             if part not in MAY_IMPORT or (target not in MAY_IMPORT[part])]  # fmt: skip
    assert wrong == []


def test_no_arrow_is_allowed_that_nothing_uses():
    used = {(part, target) for part, target, _ in arrows()}
    allowed = {(part, target) for part, targets_of in MAY_IMPORT.items() for target in targets_of}
    assert sorted(allowed - used) == []


def test_the_table_of_developers_md_has_the_same_arrows():
    table = DEVELOPERS.read_text(encoding="utf-8").split("| may import |\n", 1)[1].split("\n\n", 1)[0]
    told = {}
    for line in table.splitlines()[1:]:
        part, _, may = (cell.strip() for cell in line.strip("|").split("|"))
        told[part.strip("`")] = set() if may == "nothing of ours" else set(may.split(", "))
    expected = {part: may - {"__version__"} for part, may in MAY_IMPORT.items() if not part.startswith("__")}
    assert told == expected
