"""Small projects for tests: the tiny tables, whole or with something changed."""

from __future__ import annotations

import shutil
from datetime import date
from pathlib import Path

import yaml

from chockbook.checks import Assembly, assemble_folder

TESTS = Path(__file__).parent
TINY = TESTS / "tiny"
SHIPPED = TESTS.parent / "source_tables"
A_DAY_IN_THE_EDITION = date(2026, 6, 1)


def tiny_tables(folder: Path, *changes: tuple[str, str, str]) -> Path:
    """A copy of the tiny tables with texts replaced: (file, what stands there once, what takes its place)."""
    tables = folder / "tables"
    shutil.copytree(TINY, tables)
    for file, old, new in changes:
        path = tables / file
        text = path.read_text(encoding="utf-8")
        assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times in {file}"
        path.write_text(text.replace(old, new), encoding="utf-8", newline="")
    return tables


def tiny_project(root: Path) -> Path:
    """A project of the tiny tables with the shipped fixed words, in English only."""
    tiny_tables(root).rename(root / "source_tables")
    words = yaml.load((SHIPPED / "words.yaml").read_text(encoding="utf-8"), yaml.BaseLoader)
    words["languages"] = [language for language in words["languages"] if language["code"] == "en"]
    words["search"] = [record for record in words["search"] if record["language"] == "en"]
    text = yaml.safe_dump(_in_english(words), allow_unicode=True, sort_keys=False, width=200)
    (root / "source_tables" / "words.yaml").write_text(text, encoding="utf-8", newline="\n")
    shutil.copyfile(SHIPPED.parent / "mkdocs.yml", root / "mkdocs.yml")
    return root


def two_books(root: Path) -> Path:
    """A project in two languages, so that worker processes are busy in a build."""
    project = tiny_project(root)
    words = project / "source_tables" / "words.yaml"
    text = words.read_text(encoding="utf-8")
    text = text.replace("languages:\n", "languages:\n- code: fr\n  name: Français\n", 1)
    text = text.replace("search:\n", "search:\n- language: fr\n  apostrophe: parts\n", 1)
    words.write_text(text, encoding="utf-8", newline="\n")
    return project


def _in_english(value: object) -> object:
    if isinstance(value, dict):
        return {key: _in_english(inner) for key, inner in value.items() if key != "fr"}
    return [_in_english(inner) for inner in value] if isinstance(value, list) else value


def assemble(tables: Path) -> Assembly:
    """The tables checked, judged by a fixed day."""
    return assemble_folder(tables, today=A_DAY_IN_THE_EDITION)
