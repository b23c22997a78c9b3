"""Links out of the project are told, names that are paths lead nowhere, and long lines take bounded means."""

from __future__ import annotations

import json
import os
import subprocess
import sys

import pytest
from projects import TESTS, assemble, tiny_project, tiny_tables

from chockbook.checks import assemble_folder
from chockbook.checks.carriers import assemble_carriers
from chockbook.cli import main
from chockbook.editions import EditionUnreadable, catalogue_as_data, read_edition
from chockbook.project import Project
from chockbook.tables import read_table

OUT = "it is a link that leads out of the project"


@pytest.fixture
def secret(tmp_path):
    path = tmp_path / "outside" / "secret.yaml"
    path.parent.mkdir()
    path.write_text("password: open sesame\n", encoding="utf-8")
    return path


@pytest.fixture
def project(tmp_path):
    (tmp_path / "project").mkdir()
    return tiny_project(tmp_path / "project")


@pytest.mark.parametrize("name", ["catalogue.yaml", "words.yaml", "publisher.yaml"])
def test_a_table_that_is_a_link_out_of_the_project_is_a_fault(project, secret, name):
    path = project / "source_tables" / name
    path.unlink()
    path.symlink_to(secret)
    faults = assemble(project / "source_tables").faults
    assert [(str(f.place), f.rule, f.what) for f in faults] == [
        (f"source_tables/{name}:1:1", "unreadable", f"the table cannot be read: {OUT}")
    ]
    assert "sesame" not in "".join(map(str, faults))


def test_settings_that_are_a_link_out_of_the_project_are_a_fault(project, secret):
    (project / "mkdocs.yml").unlink()
    (project / "mkdocs.yml").symlink_to(secret)
    [fault] = Project(project).assemble().faults
    assert (str(fault.place), fault.what) == ("mkdocs.yml:1:1", f"the table cannot be read: {OUT}")


@pytest.mark.parametrize("folder", [False, True], ids=["file", "folder"])
def test_a_carrier_behind_a_link_out_of_the_project_is_a_fault(project, secret, tiny, folder):
    carriers = project / "source_tables" / "carriers"
    if folder:
        carriers.symlink_to(secret.parent)
    else:
        carriers.mkdir()
        (carriers / "secret.yaml").symlink_to(secret)
    found = assemble_carriers(carriers, tiny)
    assert found.carriers == ()
    assert [(str(f.place), f.what) for f in found.faults] == [
        ("source_tables/carriers/secret.yaml:1:1", f"the table cannot be read: {OUT}")
    ]


@pytest.mark.parametrize("target", ["outside", "pipe", "loop"])
def test_a_kept_edition_that_is_no_file_of_the_project_is_a_fault(project, secret, target):
    folder = project / "source_tables" / "editions"
    folder.mkdir()
    path = folder / "0123abcd.json"
    if target == "pipe":
        os.mkfifo(path)
    else:
        path.symlink_to(secret if target == "outside" else path)
    [fault] = assemble_folder(project / "source_tables").faults
    assert (str(fault.place), fault.rule) == ("source_tables/editions/0123abcd.json:1:1", "kept-edition")


@pytest.mark.parametrize("target, what", [
    ("catalogue.yaml", "Too many levels"), ("/dev/zero", "a folder or a device"), ("gone", "there is no table"),
    ("../source_tables", "a folder or a device"),
])  # fmt: skip
def test_a_link_to_what_is_no_file_is_a_fault(project, target, what):
    path = project / "source_tables" / "catalogue.yaml"
    path.unlink()
    path.symlink_to(target)
    [fault] = assemble(project / "source_tables").faults
    assert what in fault.what


def test_a_pipe_is_not_waited_for(project):
    path = project / "source_tables" / "catalogue.yaml"
    path.unlink()
    os.mkfifo(path)
    [fault] = assemble(project / "source_tables").faults
    assert "a folder or a device" in fault.what


def test_links_inside_the_project_and_a_linked_folder_of_tables_are_followed(project, tmp_path):
    tables = project / "source_tables"
    (project / "shared").mkdir()
    (tables / "limits.yaml").rename(project / "shared" / "limits.yaml")
    (tables / "limits.yaml").symlink_to("../shared/limits.yaml")
    assert assemble(tables).faults == []
    (tmp_path / "other").mkdir()
    (tmp_path / "other" / "source_tables").symlink_to(tiny_tables(tmp_path))
    assert assemble(tmp_path / "other" / "source_tables").faults == []


@pytest.mark.parametrize("code", ["../../evil", "a/b", "(((", "--> <script>", "", "x" * 17, 7, None, ["a"]])
def test_an_edition_whose_code_is_no_code_is_not_kept_and_not_compared(project, tiny, code, capsys, monkeypatch):
    data = json.loads(json.dumps(catalogue_as_data(tiny)))
    data["edition"]["code"] = code
    (project / "old.json").write_text(json.dumps(data), encoding="utf-8")
    with pytest.raises(EditionUnreadable):
        read_edition((project / "old.json").read_bytes(), "old.json")
    monkeypatch.chdir(project)
    before = sorted(project.parent.rglob("*"))
    assert main(["keep", "old.json"]) == 1
    assert main(["compare", "old.json", "--changelog", "CHANGELOG.md"]) == 1
    assert len(capsys.readouterr().err.splitlines()) == 2
    assert sorted(project.parent.rglob("*")) == before


NAMES = ["../x", "a/b", "..\\x", "CON", "nul", "x.", "C:", ".", "..", "~", "-rf", "a b", "é", "a\u202eb"]


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("where", [
    ("catalogue.yaml", "- id: city-horn\n", "- id: {}\n"), ("rulebooks.yaml", "- id: demo\n", "- id: {}\n"),
    ("rulebooks.yaml", "{{id: minor,", "{{id: {},"),
], ids=["component", "rulebook", "severity"])  # fmt: skip
def test_a_name_that_is_a_path_or_a_device_is_a_fault(tmp_path, name, where):
    file, old, new = where
    tables = tiny_tables(tmp_path, (file, old.format(), new.format(json.dumps(name, ensure_ascii=False))))
    rules = {fault.rule for fault in assemble(tables).faults}
    assert rules & {"bad-id", "reserved-name", "unseen-character", "yaml-syntax"}


LONG = {
    "brackets": b"[" * 4_100_000, "pairs": b"a: " + b"[]" * 4_100_000, "dashes": b"- " * 20_000_000,
    "questions": b"? " * 10_000_000, "letters": b"a: " + b"x" * 60_000_000, "blanks": b"a: 1\n" + b" " * 60_000_000,
    "controls": b"a: " + b"\0" * 30_000_000, "accents": b"a: " + "é".encode() * 20_000_000,
    "beyond": b"x" * 100_000_000,
}  # fmt: skip


@pytest.mark.parametrize("kind", LONG)
def test_a_line_of_many_megabytes_takes_bounded_time_and_memory(tmp_path, kind):
    path = tmp_path / "table.yaml"
    path.write_bytes(LONG[kind])
    program = ("import resource, sys; resource.setrlimit(resource.RLIMIT_AS, (900 << 20,) * 2); "
               "from pathlib import Path; from chockbook.tables import read_table; "
               "table = read_table(Path(sys.argv[1]), 'table.yaml'); "
               "print(*[fault.rule for fault in table.faults])")  # fmt: skip
    done = subprocess.run([sys.executable, "-c", program, str(path)], capture_output=True, text=True, timeout=100,
                          env={**os.environ, "PYTHONPATH": str(TESTS.parent / "generator")}, check=False)  # fmt: skip
    assert done.returncode == 0, done.stderr[-500:]
    wanted = {"brackets": "too-large", "pairs": "too-large", "dashes": "too-deep", "questions": "yaml-syntax",
              "letters": "", "blanks": "too-deep", "controls": "yaml-syntax", "accents": "",
              "beyond": "too-large"}  # fmt: skip
    assert done.stdout.strip() == wanted[kind]


def test_an_alias_that_explodes_is_told_and_not_followed(tmp_path):
    lines = ["a0: &a0 [x, x, x, x, x, x, x, x, x, x]"]
    lines += [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 10)}]" for n in range(1, 40)]
    path = tmp_path / "table.yaml"
    path.write_text("\n".join(lines), encoding="utf-8")
    faults = read_table(path, "table.yaml").faults
    assert {fault.rule for fault in faults} == {"yaml-alias"}
    assert len(faults) == 390
