"""dist/manifest.json names every file of a signed-off build, and `chockbook prove` tells what is no longer so."""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from projects import tiny_project

from chockbook.build import Built, build
from chockbook.cli import main
from chockbook.project import Project


@pytest.fixture(scope="module")
def root(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tiny_project(tmp_path_factory.mktemp("signed"))


@pytest.fixture(scope="module")
def signed(root: Path) -> Built:
    return build(Project(root))


@pytest.fixture
def output(signed: Built, tmp_path: Path) -> Path:
    return Path(shutil.copytree(signed.output, tmp_path / "dist"))


def told(root: Path, output: Path, capsys: pytest.CaptureFixture[str]) -> tuple[int, list[str]]:
    code = main(["--project", str(root), "--today", "2026-06-01", "prove", str(output)])
    return code, [line for line in capsys.readouterr().out.splitlines() if line.startswith("manifest.json")]


def test_every_file_stands_in_it_with_size_and_hash(signed: Built) -> None:
    data = json.loads((signed.output / "manifest.json").read_text("utf-8"))
    assert data["edition"]["code"] == signed.catalogue.edition.code
    assert "typst" in data["made_with"]
    on_disk = {}
    for folder, _, files in os.walk(signed.output):
        for name in files:
            path = os.path.join(folder, name)
            with open(path, "rb") as file:
                content = file.read()
            on_disk[os.path.relpath(path, signed.output).replace(os.sep, "/")] = {
                "size": os.path.getsize(path), "sha256": hashlib.sha256(content).hexdigest()}  # fmt: skip
    del on_disk["manifest.json"]
    assert data["files"] == on_disk


def test_neither_clock_nor_machine_nor_python_stands_in_it(signed: Built) -> None:
    data = json.loads((signed.output / "manifest.json").read_text("utf-8"))
    assert set(data) == {"format", "edition", "made_with", "files"}
    assert "python" not in {name.lower() for name in data["made_with"]}
    assert os.uname().nodename not in json.dumps(data["made_with"]) if hasattr(os, "uname") else True


def test_a_build_as_it_was_signed_off_is_proved(root: Path, output: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert told(root, output, capsys) == (0, [])


def test_a_changed_file_is_told(root: Path, output: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = output / "site" / "assets" / "chockbook.css"
    path.write_bytes(path.read_bytes() + b".entry{display:none}")
    code, lines = told(root, output, capsys)
    assert code == 1
    assert lines == ["manifest.json: site/assets/chockbook.css: was changed after the build was signed off"]


def test_a_file_of_the_same_size_is_told_by_its_hash(root: Path, output: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = output / "pages" / "index.md"
    content = path.read_bytes()
    path.write_bytes(content[:-2] + b"x" + content[-1:])
    assert told(root, output, capsys)[1] == ["manifest.json: pages/index.md: was changed after the build was signed off"]


def test_an_added_file_is_told(root: Path, output: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (output / "print" / "more.txt").write_text("more")
    assert told(root, output, capsys) == (
        1, ["manifest.json: print/more.txt: was added after the build was signed off"])  # fmt: skip


def test_a_missing_file_is_told(root: Path, output: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (output / "pages" / "index.md").unlink()
    assert told(root, output, capsys) == (
        1, ["manifest.json: pages/index.md: is missing, and was there when the build was signed off"])  # fmt: skip


def test_a_missing_manifest_is_told(root: Path, output: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (output / "manifest.json").unlink()
    code, lines = told(root, output, capsys)
    assert code == 1
    assert "nothing shows that the build was signed off" in lines[0]


def test_another_folder_another_hash_seed_and_another_time_zone_give_the_same_bytes(root: Path, signed: Built, tmp_path: Path) -> None:
    other = tmp_path / "elsewhere"
    environment = {**os.environ, "PYTHONHASHSEED": "7", "TZ": "Asia/Tokyo",
                   "PYTHONPATH": str(Path(__file__).parents[2] / "generator")}  # fmt: skip
    command = [sys.executable, "-m", "chockbook", "--project", str(root), "build", "--output", str(other)]
    subprocess.run(command, check=True, capture_output=True, env=environment)
    assert (other / "manifest.json").read_bytes() == (signed.output / "manifest.json").read_bytes()
