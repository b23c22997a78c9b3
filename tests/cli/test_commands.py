"""The commands as a person types them: what they print and how they end."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from pathlib import Path

import pytest
from projects import TESTS, tiny_project

from chockbook.cli import _parser, main

ROOT = TESTS.parent


@pytest.fixture
def project(tmp_path: Path) -> Path:
    """The tiny tables as a project."""
    return tiny_project(tmp_path)


def run(project: Path, *arguments: str) -> int:
    return main(["--project", str(project), *arguments])


def test_check_counts_what_the_tables_hold(project, capsys):
    assert run(project, "check") == 0
    out = capsys.readouterr().out.splitlines()
    assert re.fullmatch(r"edition [0-9a-f]{8} of 2026-01-05: 2 entries on 2 components, 2 sources", out[0])
    assert out[1] == "demo: 2 of 2 items covered, 2 rulings (1 published, 1 from memory)"
    assert out[-1].startswith("0 faults in 0 files")


def test_check_prints_each_fault_and_ends_with_1(project, capsys):
    path = project / "source_tables" / "catalogue.yaml"
    path.write_text(path.read_text().replace("limits: [tread]", "limits: [tred]"))
    assert run(project, "check") == 1
    out = capsys.readouterr().out
    assert 'source_tables/catalogue.yaml:35:14: error[unknown-reference]: there is no limit "tred"' in out
    assert out.rstrip().endswith("1 fault in 1 file; nothing was written")


def test_check_gives_faults_as_json(project, capsys):
    path = project / "source_tables" / "catalogue.yaml"
    path.write_text(path.read_text().replace("limits: [tread]", "limits: [tred]"))
    assert run(project, "check", "--json") == 1
    out = capsys.readouterr().out
    [fault] = json.loads(out)
    assert (fault["file"], fault["line"], fault["column"], fault["rule"]) == (
        "source_tables/catalogue.yaml", 35, 14, "unknown-reference",
    )  # fmt: skip


def test_a_faulty_build_writes_nothing(project, capsys):
    path = project / "source_tables" / "catalogue.yaml"
    path.write_text(path.read_text().replace("limits: [tread]", "limits: [tred]"))
    assert run(project, "build") == 1
    assert "nothing was written" in capsys.readouterr().out
    assert not (project / "dist").exists()


def test_a_folder_without_tables_is_a_wrong_use(tmp_path, capsys):
    with pytest.raises(SystemExit) as ended:
        run(tmp_path, "check")
    assert ended.value.code == 2
    assert "chockbook new DIR" in capsys.readouterr().err


def test_find_leads_with_the_answer(project, capsys):
    assert run(project, "find", "flat", "tyre") == 0
    out = capsys.readouterr().out.splitlines()
    assert out[0] == "Tire: A tire is flat   [tire.flat]"
    assert out[1].strip() == "DO NOT DRIVE - Major"


def test_find_as_json_gives_ids_and_scores(project, capsys):
    assert run(project, "find", "horn", "dead", "--json") == 0
    found = json.loads(capsys.readouterr().out)
    assert found[0]["id"] == "city-horn.silent"
    assert set(found[0]) == {"id", "score"}


def test_find_says_when_nothing_matches(project, capsys):
    assert run(project, "find", "xylophone") == 1
    assert "no match" in capsys.readouterr().out


def test_decide_lets_the_worst_finding_govern(project, capsys):
    assert run(project, "decide", "truck:city-horn.silent", "truck:tire.flat") == 0
    assert capsys.readouterr().out.splitlines()[0] == "DO NOT DRIVE - Major"


@pytest.mark.parametrize(
    "finding, message",
    [
        ("tire.flat", "is not a finding; write unit:id"),
        ("truck:tire.bald", "no defect 'tire.bald'"),
        ("boat:tire.flat", "'boat' is not a unit"),
        ("trailer-1:tire.flat", "is not a defect of a trailer"),
        ("truck:tire.flat=maybe", "'maybe' is not an answer"),
    ],
)
def test_decide_says_what_is_wrong_with_a_finding(project, capsys, finding, message):
    assert run(project, "decide", finding) == 1
    assert message in capsys.readouterr().err


def test_an_unknown_rulebook_is_a_wrong_use(project, capsys):
    with pytest.raises(SystemExit) as ended:
        run(project, "find", "horn", "--rulebook", "moon")
    assert ended.value.code == 2
    assert "there are: demo" in capsys.readouterr().err


def test_a_starter_project_has_no_fault(tmp_path, capsys):
    assert main(["new", str(tmp_path / "own")]) == 0
    capsys.readouterr()
    assert run(tmp_path / "own", "check") == 0
    assert "0 faults" in capsys.readouterr().out


def test_a_starter_project_never_overwrites(tmp_path, capsys):
    (tmp_path / "thesis.txt").write_text("mine")
    assert main(["new", str(tmp_path)]) == 1
    assert "is in use" in capsys.readouterr().err
    assert [path.name for path in tmp_path.iterdir()] == ["thesis.txt"]


def test_schemas_are_json_schemas(tmp_path, capsys):
    assert main(["schema", str(tmp_path / "schemas")]) == 0
    schema = json.loads((tmp_path / "schemas" / "catalogue.schema.json").read_text())
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert "defects" in schema["properties"]


def test_the_module_is_the_command():
    done = subprocess.run([sys.executable, "-m", "chockbook", "--version"], capture_output=True, text=True,
                          env={"PYTHONPATH": str(ROOT / "generator"), "PATH": ""}, check=True)  # fmt: skip
    assert re.fullmatch(r"chockbook \d+\.\d+\.\d+\n", done.stdout)


def test_every_command_is_in_the_readme():
    [commands] = [action for action in _parser()._actions if action.dest == "run" or (hasattr(action, "choices") and action.choices)]
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    missing = [name for name in commands.choices if f"`chockbook {name}" not in text]
    assert commands.choices
    assert missing == []
