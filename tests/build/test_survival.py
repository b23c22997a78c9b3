"""Whatever happens to a build: the last good output is whole, one line says why, and nothing is left over."""

from __future__ import annotations

import os
import resource
import shutil
import subprocess
import sys
import tempfile

import pytest
from full_disk import Disk, everything
from projects import TESTS, tiny_project, two_books

from chockbook import output as output_module
from chockbook.cli import main
from chockbook.output import put_whole, replacing

PACKAGE = str(TESTS.parent / "generator")
TELLS = "nothing was replaced"


def build(project, *arguments: str) -> int:
    return main(["--project", str(project), "build", *arguments])


def start(project, *arguments: str, **more) -> subprocess.Popen:
    command = [sys.executable, "-m", "chockbook", "--project", str(project), "build", *arguments]
    return subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
                            env={**os.environ, "PYTHONPATH": PACKAGE}, **more)  # fmt: skip


def say_otherwise(project):
    """Another edition, so that a half-replaced output would be seen."""
    table = project / "source_tables" / "catalogue.yaml"
    text = table.read_text(encoding="utf-8")
    assert "A tire is flat" in text
    table.write_text(text.replace("A tire is flat", "A tire has lost its air"), encoding="utf-8", newline="")


@pytest.fixture(scope="module")
def built_once(tmp_path_factory):
    project = tiny_project(tmp_path_factory.mktemp("built"))
    assert build(project) == 0
    say_otherwise(project)
    return project


@pytest.fixture
def built(built_once, tmp_path, capsys):
    """A project with a good output, whose tables now say something else."""
    capsys.readouterr()
    return shutil.copytree(built_once, tmp_path / "project")


def one_line(error: str) -> str:
    lines = error.splitlines()
    assert len(lines) == 1, error
    assert lines[0].startswith("chockbook: ")
    return lines[0]


@pytest.fixture(scope="module")
def disk_and_files(tmp_path_factory):
    """A disk of its own, and how many files and folders a build makes on it."""
    root = tmp_path_factory.mktemp("disk")
    project = tiny_project(root)
    with Disk(root) as disk:
        assert build(project) == 0
    say_otherwise(project)
    assert disk.used > 100
    return disk, project, disk.used


@pytest.mark.parametrize("part", range(8))
def test_a_disk_that_fills_up_leaves_the_last_output(disk_and_files, part, capsys):
    disk, project, files = disk_and_files
    before = everything(project)
    with disk.with_room_for(part if part < 3 else files * part // 8):
        assert build(project) == 1
    line = one_line(capsys.readouterr().err)
    assert "No space left on device" in line
    assert line.endswith(TELLS)
    assert "Traceback" not in line
    assert everything(project) == before


@pytest.mark.parametrize("largest", [20_000, 130_000])
def test_a_file_that_is_cut_short_by_the_system_leaves_the_last_output(built_once, tmp_path, largest):
    project = two_books(tmp_path)
    shutil.copytree(built_once / "dist", project / "dist")
    before = everything(project)
    limit = (largest, largest)
    run = start(project, preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, limit))
    _, told = run.communicate(timeout=120)
    assert run.returncode == 1
    assert "File too large" in one_line(told)
    assert everything(project) == before


def test_a_build_writes_nothing_but_its_output(built, tmp_path_factory, monkeypatch):
    temporary = tmp_path_factory.mktemp("temporary")
    for name in ("TMPDIR", "TEMP", "TMP", "HOME", "XDG_CACHE_HOME"):
        monkeypatch.setenv(name, str(temporary))
    monkeypatch.setattr(tempfile, "tempdir", None)
    before = {name: what for name, what in everything(built).items() if not name.startswith("dist")}
    run = start(built)
    _, told = run.communicate(timeout=120)
    assert run.returncode == 0, told
    assert {name: what for name, what in everything(built).items() if not name.startswith("dist")} == before
    assert everything(temporary) == {}


def test_a_folder_that_cannot_be_written_is_told(built, capsys, monkeypatch):
    def refuse(*arguments, **more):
        raise PermissionError(13, "Permission denied", str(built / ".chockbook-dist-x"))

    monkeypatch.setattr(output_module.tempfile, "mkdtemp", refuse)
    before = everything(built)
    assert build(built) == 1
    assert "Permission denied" in one_line(capsys.readouterr().err)
    assert everything(built) == before


@pytest.mark.skipif(os.geteuid() == 0, reason="nothing is locked for the superuser")
def test_a_locked_folder_is_told(built, capsys):
    built.chmod(0o500)
    try:
        assert build(built) == 1
    finally:
        built.chmod(0o700)
    assert "Permission denied" in one_line(capsys.readouterr().err)


def test_two_builds_at_once_leave_one_whole_output(tmp_path):
    project = two_books(tmp_path)
    assert build(project) == 0
    whole = everything(project / "dist")
    both = [start(project), start(project)]
    ends = sorted((run.wait(timeout=120), run.communicate()[1]) for run in both)
    assert ends[0] == (0, "")
    if ends[1][0]:
        assert "another build" in one_line(ends[1][1])
    assert everything(project / "dist") == whole
    assert sorted(path.name for path in project.iterdir()) == ["dist", "mkdocs.yml", "source_tables"]


def test_a_file_that_is_held_open_goes_on_being_the_one_that_was_opened(built):
    before = (built / "dist" / "data" / "catalogue.json").read_bytes()
    with (built / "dist" / "data" / "catalogue.json").open("rb") as held:
        assert build(built) == 0
        assert held.read() == before
    assert (built / "dist" / "data" / "catalogue.json").read_bytes() != before


@pytest.mark.parametrize("fails_at", [1, 2])
def test_where_a_held_file_stops_the_swap_the_last_output_comes_back(built, fails_at, capsys, monkeypatch):
    """As on Windows: folders are not exchanged but renamed twice, and a folder with an open file cannot be renamed."""
    monkeypatch.setattr(output_module, "_exchange", lambda one, other: False)
    calls, rename = [], type(built).rename

    def renaming(self, target):
        if "dist" in (self.name, getattr(target, "name", "")) and self.parent == built:
            calls.append(self)
            if len(calls) == fails_at:
                raise PermissionError(13, "Permission denied", str(self))
        return rename(self, target)

    before = everything(built)
    monkeypatch.setattr(type(built), "rename", renaming)
    assert build(built) == 1
    assert "Permission denied" in one_line(capsys.readouterr().err)
    assert len(calls) >= fails_at
    assert everything(built) == before


@pytest.mark.parametrize("name", [".", "..", "source_tables", "source_tables/dist", "source_tables/carriers"])
def test_an_output_never_takes_the_place_of_the_tables(tmp_path, name, capsys):
    (tmp_path / "in").mkdir()
    project = tiny_project(tmp_path / "in")
    for mark in (project, project.parent, project / "source_tables"):  # even where it looks like one of ours
        (mark / "data").mkdir()
        (mark / "data" / "catalogue.json").write_text("{}")
    before = everything(tmp_path)
    assert build(project, "--output", str(project / name)) == 1
    assert one_line(capsys.readouterr().err).endswith(f"name another output folder; {TELLS}")
    assert everything(tmp_path) == before


def test_a_link_a_file_and_a_foreign_folder_are_left_alone(built, capsys):
    (built / "link").symlink_to(built / "dist")
    (built / "file").write_text("mine")
    (built / "foreign").mkdir()
    (built / "foreign" / "thesis.txt").write_text("mine")
    before = everything(built)
    for name in ("link", "file", "foreign", "file/inside"):
        assert build(built, "--output", str(built / name)) == 1
        assert TELLS in one_line(capsys.readouterr().err)
    assert everything(built) == before


def test_settings_that_would_let_a_script_in_stop_the_build(built, capsys):
    settings = built / "mkdocs.yml"
    text = settings.read_text(encoding="utf-8")
    settings.write_text(text + "\ncopyright: '<b onclick=\"x()\">us</b>'\n", encoding="utf-8")
    before = everything(built)
    assert build(built) == 1
    line = one_line(capsys.readouterr().err)
    assert "a script in an attribute" in line
    assert "mkdocs.yml" in line
    assert everything(built) == before


def test_a_file_is_put_in_place_whole_or_not_at_all(tmp_path, monkeypatch):
    path = tmp_path / "deep" / "sheet.pdf"
    put_whole(path, b"first")
    assert path.stat().st_mode & 0o777 == 0o666 & ~_umask()

    def full(self, target):
        raise OSError(28, "No space left on device", str(self))

    with monkeypatch.context() as patch:
        patch.setattr(type(path), "replace", full)
        with pytest.raises(OSError, match="No space left on device") as raised:
            put_whole(path, b"second")
    assert raised.value.filename == str(path)
    assert everything(tmp_path / "deep") == {"sheet.pdf": everything(tmp_path / "deep")["sheet.pdf"]}
    assert path.read_bytes() == b"first"
    put_whole(path, b"second")
    assert path.read_bytes() == b"second"


def test_a_file_behind_a_link_is_replaced_where_it_stands(tmp_path):
    (tmp_path / "real.md").write_bytes(b"first")
    (tmp_path / "link.md").symlink_to("real.md")
    put_whole(tmp_path / "link.md", b"second")
    assert (tmp_path / "link.md").is_symlink()
    assert (tmp_path / "real.md").read_bytes() == b"second"


def test_what_is_not_a_file_is_written_and_not_replaced():
    put_whole(output_module.Path(os.devnull), b"gone")
    assert not output_module.Path(os.devnull).is_file()
    assert output_module.Path(os.devnull).exists()


def test_an_empty_folder_is_a_place_for_an_output(tmp_path):
    (tmp_path / "dist").mkdir()
    with replacing(tmp_path / "dist") as staging:
        (staging / "data").mkdir()
    assert everything(tmp_path) == {"dist": "folder", "dist/data": "folder"}


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
