"""What other systems ask of the program: encodings named, paths joined as paths, names that every disk takes."""

from __future__ import annotations

import ast
from collections import Counter
from pathlib import Path, PureWindowsPath

import pytest
from projects import tiny_project

from chockbook.build import Project, build, pages_folder, roadside_name
from chockbook.checks.carriers import assemble_carriers
from chockbook.pages.write import pages_of
from chockbook.views.books import border_sheet_name, view_books

PACKAGE = Path(__file__).parents[2] / "generator" / "chockbook"
SHIPPED_CARRIERS = PACKAGE.parents[1] / "source_tables" / "carriers"
POSIX_ONLY = {"fcntl", "grp", "pty", "pwd", "resource", "syslog", "termios"}
# Microsoft, "Naming Files, Paths, and Namespaces": devices, letters, ends and length of a name.
DEVICES = {"con", "prn", "aux", "nul", *(f"com{n}" for n in "0123456789¹²³"), *(f"lpt{n}" for n in "0123456789¹²³")}
FORBIDDEN = set('<>:"/\\|?*') | {chr(number) for number in range(32)}
LONGEST_PATH = 259
A_DEEP_FOLDER = len(r"C:\Users\somebody.with.a.name\OneDrive - A Carrier Inc\Documents\defects")


def modules():
    for path in sorted(PACKAGE.rglob("*.py")):
        yield path.relative_to(PACKAGE).as_posix(), ast.parse(path.read_text(encoding="utf-8"))


def calls(tree, *names):
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr in names:
            yield node


def names_encoding(call: ast.Call, at: int) -> bool:
    given = [argument.value for argument in call.args[at:] if isinstance(argument, ast.Constant)]
    given += [getattr(word.value, "value", "") for word in call.keywords if word.arg == "encoding"]
    return any(str(value).startswith("utf-8") for value in given)


def test_every_text_is_read_and_written_as_utf_8_with_plain_line_ends():
    seen, wrong = Counter(), []
    for name, tree in modules():
        for call in calls(tree, "read_text", "write_text"):
            seen[call.func.attr] += 1
            writes = call.func.attr == "write_text"
            if not names_encoding(call, 1 if writes else 0):
                wrong.append(f"{name}:{call.lineno}: encoding")
            if writes and not any(word.arg == "newline" for word in call.keywords):
                wrong.append(f"{name}:{call.lineno}: newline")
        for call in calls(tree, "open"):
            mode = call.args[0].value if call.args and isinstance(call.args[0], ast.Constant) else "r"
            if any(word.arg == "fileobj" for word in call.keywords):  # an archive in memory
                continue
            if isinstance(mode, str) and "b" not in mode and mode != "a" and not names_encoding(call, 1):
                wrong.append(f"{name}:{call.lineno}: encoding of open")
    assert min(seen["read_text"], seen["write_text"]) >= 5
    assert wrong == []


def test_nothing_is_used_that_only_one_system_has():
    wrong, guarded = [], 0
    for name, tree in modules():
        branches = [node for node in ast.walk(tree)
                    if isinstance(node, ast.If) and "sys.platform" in ast.unparse(node.test)]  # fmt: skip
        inside = {id(node) for branch in branches for node in ast.walk(branch)}
        for node in ast.walk(tree):
            if isinstance(node, ast.Import | ast.ImportFrom):
                names = {alias.name for alias in node.names} | {getattr(node, "module", None)}
                if names & POSIX_ONLY:
                    guarded += id(node) in inside
                    wrong += [f"{name}:{node.lineno}: {names & POSIX_ONLY}"] if id(node) not in inside else []
            if isinstance(node, ast.Attribute) and node.attr in ("fork", "geteuid", "getuid", "mkfifo", "killpg"):
                wrong.append(f"{name}:{node.lineno}: {node.attr}")
            if isinstance(node, ast.Constant) and node.value in ("fork", "forkserver"):
                wrong.append(f"{name}:{node.lineno}: {node.value}")
    assert guarded >= 1
    assert wrong == []


def test_a_path_that_is_written_down_has_slashes():
    """A path in a file or a message is the same on every system: relative_to(...).as_posix()."""
    wrong, seen = [], 0
    for name, tree in modules():
        inside = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Attribute)}
        for node in ast.walk(tree):
            spoken = [node.value] if isinstance(node, ast.FormattedValue) else []
            if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "str":
                spoken = node.args
            wrong += [f"{name}:{node.lineno}" for one in spoken if isinstance(one, ast.Call)
                      and getattr(one.func, "attr", "") == "relative_to"]  # fmt: skip
        seen += sum(id(call) in inside for call in calls(tree, "relative_to"))
    assert seen >= 3
    assert wrong == []


def test_folders_of_books_are_joined_as_the_system_joins_them(shipped):
    output = PureWindowsPath(r"D:\Mes documents\dist")
    first, second, *_ = view_books(shipped)
    assert str(pages_folder(output, first)) == r"D:\Mes documents\dist\pages"
    assert pages_folder(output, second).parts[3:] == ("pages-of-books", second.rulebook_id, second.language)
    assert PureWindowsPath(roadside_name(second)).name == roadside_name(second)


def objections(names) -> list[str]:
    """What Windows holds against names of files below an output folder."""
    found, seen = [], {}
    for name in names:
        if A_DEEP_FOLDER + 1 + len(name) > LONGEST_PATH:
            found.append(f"{name}: too long")
        for part in name.split("/"):
            if part.split(".")[0].rstrip().lower() in DEVICES or FORBIDDEN & set(part) or part[-1] in ". ":
                found.append(f"{name}: {part}")
        if seen.setdefault(name.lower(), name) != name:
            found.append(f"{name}: is {seen[name.lower()]}")
    return found


def test_every_file_of_a_build_has_a_name_that_windows_takes(tmp_path):
    build(Project(tiny_project(tmp_path)))
    names = sorted(path.relative_to(tmp_path).as_posix() for path in (tmp_path / "dist").rglob("*"))
    assert len(names) > 150
    assert objections(names) == []


def test_every_page_and_document_of_the_shipped_tables_has_a_name_that_windows_takes(shipped):
    names = set()
    for book in view_books(shipped):
        names |= {f"dist/print/{book.rulebook_id}/{border_sheet_name(book.rulebook_id)}", f"dist/{roadside_name(book)}"}
        if book.language == shipped.languages[0].code:  # the other language has the same paths, with its code in them
            pages = pages_of(shipped, book.rulebook_id, book.language)
            names |= {f"dist/site/{book.rulebook_id}/{book.language}/{page.path}" for page in pages}
    for carrier in assemble_carriers(SHIPPED_CARRIERS, shipped).carriers:
        both = "-".join(carrier.languages)
        names |= {f"dist-carriers/{carrier.id}/{unit.id}/{document.kind}.{rulebook}.{both}.pdf"
                  for unit in carrier.units for document in carrier.documents for rulebook in carrier.rulebooks}  # fmt: skip
    assert len(names) > 300
    assert objections(sorted(names)) == []


@pytest.mark.parametrize("name, why", [
    ("site/con.html", "con.html"), ("print/NUL", "NUL"), ("a/aux .x", "aux .x"), ("com¹.pdf", "com¹.pdf"),
    ("a./b", "a."), ("a/b ", "b "), ("a:b", "a:b"), ("x" * 200, "too long"),
])  # fmt: skip
def test_a_name_that_windows_refuses_would_be_seen(name, why):
    assert objections([name]) == [f"{name}: {why}"]
    assert objections(["site/fr-CA/a", "site/fr-ca/a"]) == ["site/fr-ca/a: is site/fr-CA/a"]
