"""The wheel, installed away from the source tree, makes a project and builds it in a folder with a difficult name."""

from __future__ import annotations

import configparser
import os
import subprocess
import sys
import zipfile

import pytest
from projects import SHIPPED, TESTS, tiny_project

ROOT = TESTS.parent
FOLDER = "Mes dossiers (été) à l'école"


def run(command, folder, **variables) -> str:
    kept = {name: value for name, value in os.environ.items() if not name.startswith("PYTHON")}
    done = subprocess.run(command, cwd=folder, env={**kept, **variables}, capture_output=True, check=False)
    assert done.returncode == 0, (done.stdout + done.stderr).decode()
    return done.stdout.decode()


@pytest.fixture(scope="module")
def wheel(tmp_path_factory):
    """The wheel, built by what the project itself names, without a network."""
    pytest.importorskip("hatchling", reason="the build backend is in the extra test")
    place = tmp_path_factory.mktemp("wheel")
    run([sys.executable, "-m", "pip", "wheel", "--quiet", "--no-deps", "--no-build-isolation", "--no-index",
         "--wheel-dir", str(place), str(ROOT)], place)  # fmt: skip
    [found] = place.glob("chockbook-*.whl")
    return found


@pytest.fixture(scope="module")
def installed(wheel, tmp_path_factory):
    """What pip makes of the wheel, in a folder of its own."""
    place = tmp_path_factory.mktemp("installed here") / "site packages"
    run([sys.executable, "-m", "pip", "install", "--quiet", "--no-deps", "--no-index",
         "--target", str(place), str(wheel)], place.parent)  # fmt: skip
    return place


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    made = tmp_path_factory.mktemp("wheel user") / FOLDER
    made.mkdir()
    return made


@pytest.fixture
def chockbook(installed, folder):
    """Run a command of the installed program."""
    return lambda *arguments: run([sys.executable, "-m", "chockbook", *arguments], folder, PYTHONPATH=str(installed))


def test_the_wheel_holds_what_the_program_reads(wheel):
    held = set(zipfile.ZipFile(wheel).namelist())
    for folder in ("site_templates", "source_tables"):
        for path in (ROOT / folder).rglob("*"):
            if path.is_file() and "__pycache__" not in path.parts:
                assert f"chockbook/_data/{path.relative_to(ROOT).as_posix()}" in held
    assert "chockbook/_data/mkdocs.yml" in held
    assert not [name for name in held if name.startswith("tests")]


def test_the_program_is_a_command(installed):
    points = configparser.ConfigParser()
    [text] = installed.glob("chockbook-*.dist-info/entry_points.txt")
    points.read_string(text.read_text(encoding="utf-8"))
    assert points["console_scripts"]["chockbook"] == "chockbook.cli:main"


def test_a_starter_of_the_wheel_has_no_fault(chockbook, folder, installed):
    assert FOLDER in str(folder)
    chockbook("new", "my project")
    made = folder / "my project" / "source_tables" / "catalogue.yaml"
    assert made.read_bytes() == (SHIPPED / "catalogue.yaml").read_bytes()
    assert "0 faults in 0 files" in chockbook("--project", "my project", "check")
    program = "import chockbook; print(chockbook.__file__)"
    assert run([sys.executable, "-c", program], folder, PYTHONPATH=str(installed)).startswith(str(installed))


def test_the_wheel_builds_and_proves_a_project(chockbook, folder):
    (folder / "small").mkdir()
    tiny_project(folder / "small")
    out = chockbook("--project", "small", "build")
    assert "all agree with the catalogue" in out
    assert "all agree with the catalogue" in chockbook("--project", "small", "prove")
    assert (folder / "small" / "dist" / "print" / "manual.pdf").read_bytes().startswith(b"%PDF-")
    assert sorted(path.name for path in (folder / "small").iterdir()) == ["dist", "mkdocs.yml", "source_tables"]


def test_the_first_book_of_a_starter_builds_and_proves(folder, installed, chockbook):
    chockbook("new", "one book")
    program = ("from pathlib import Path; from chockbook.build import preview; from chockbook.project import Project; "
               "built = preview(Project(Path('one book')), Path('site of one book')); print(built.proof.summary())")  # fmt: skip
    out = run([sys.executable, "-c", program], folder, PYTHONPATH=str(installed))
    assert "entries in site: all agree with the catalogue" in out
    assert (folder / "site of one book" / "site" / "index.html").is_file()
