"""A disk that fills up while a command writes: what stood there stands there whole, and nothing is left beside it."""

from __future__ import annotations

import shutil

import pytest
from full_disk import Disk, everything
from projects import tiny_project

from chockbook import starter
from chockbook.cli import main
from chockbook.output import OutputBusy, filling
from chockbook.printing.carriers import MADE

CARRIER = """\
carrier:
  id: carrier-a
  name: Carrier A
  contacts: [{role: dispatch, phone: 555-0100, hours: day and night}]
  rulebooks: [demo]
  languages: [en]
  base_address: https://carrier.example/
  documents: [{what: deck}, {what: checklist}, {what: report}]
  units: [{id: truck-1, name: Truck 1, vehicles: [truck]}]
"""
COMMANDS = {
    "build": ["build"],
    "cards": ["cards"],
    "drill": ["drill", "--questions", "2", "--unconfirmed"],
    "walk": ["walk", "truck"],
    "keep": ["keep"],
    "compare": ["compare", "old.json", "--bulletin", "out/bulletin.pdf", "--changelog", "CHANGELOG.md"],
    "schema": ["schema", "out"],
    "new": ["new", "out"],
}
MOST_TRIES = 6


@pytest.fixture
def project(tmp_path, monkeypatch):
    """The tiny project with a carrier, an older edition and a changelog."""
    project = tiny_project(tmp_path)
    (project / "source_tables" / "carriers").mkdir()
    (project / "source_tables" / "carriers" / "carrier-a.yaml").write_text(CARRIER, encoding="utf-8")
    (project / "CHANGELOG.md").write_text("# Changelog\n\nWritten by hand.\n", encoding="utf-8")
    monkeypatch.chdir(project)
    assert main(["build", "--output", "first"]) == 0
    (project / "first" / "data" / "catalogue.json").rename(project / "old.json")
    shutil.rmtree(project / "first")
    path = project / "source_tables" / "catalogue.yaml"
    path.write_text(path.read_text(encoding="utf-8").replace("A tire is flat", "A tire has no air"), encoding="utf-8")
    return project


def edit_again(project):
    path = project / "source_tables" / "catalogue.yaml"
    text = path.read_text(encoding="utf-8")
    assert "The horn makes no sound" in text
    path.write_text(text.replace("The horn makes no sound", "The horn stays silent"), encoding="utf-8", newline="")


@pytest.mark.parametrize("name", COMMANDS)
def test_a_full_disk_leaves_old_files_or_new_ones(project, name, capsys):
    command = COMMANDS[name]
    if name not in ("new", "schema"):
        assert main(command) == 0
        edit_again(project)
    before, held = everything(project), shutil.copytree(project, project.parent / f"{project.name}-held")
    with Disk(project) as disk:
        assert main(command) == 0, capsys.readouterr()
    after, files = everything(project), disk.used
    assert before != after
    capsys.readouterr()
    for room in sorted({files * part // MOST_TRIES for part in range(MOST_TRIES)}):
        for path in project.iterdir():
            shutil.rmtree(path) if path.is_dir() else path.unlink()
        shutil.copytree(held, project, dirs_exist_ok=True)
        with disk.with_room_for(room):
            assert main(command) == 1, f"room for {room} of {files} files"
        told = capsys.readouterr().err.splitlines()
        assert len(told) == 1, told
        assert told[0].startswith("chockbook: ")
        assert "No space left on device" in told[0]
        left = everything(project)
        # The note of what was made says last that it was proved, so it has a state between the two.
        note = f"dist-carriers/carrier-a/{MADE}"
        assert {n: what for n, what in left.items()
                if what not in (before.get(n), after.get(n), "folder") and n != note} == {}  # fmt: skip
        assert {n for n, what in before.items() if what != "folder"} <= set(left) | {note}
        if name in ("build", "drill", "keep", "new"):
            assert left == before
    shutil.rmtree(held)


def test_documents_of_a_carrier_that_nobody_asks_for_any_more_go(project, capsys):
    assert main(["cards"]) == 0
    path = project / "source_tables" / "carriers" / "carrier-a.yaml"
    path.write_text(CARRIER.replace(", {what: report}", ""), encoding="utf-8")
    (project / "dist-carriers" / "carrier-a" / "note.txt").write_text("mine")
    assert main(["cards"]) == 0
    names = {path.name for path in (project / "dist-carriers" / "carrier-a").iterdir()}
    assert names == {"truck-1", MADE, "note.txt"}


@pytest.mark.parametrize("note", [
    '{"stamp": "x", "notices": [], "rows": [{"path": "../../CHANGELOG.md"}]}', "[]", "7", '{"rows": 7}', "[" * 100_000,
    '{"stamp": "x", "notices": [], "rows": [{"path": "../CHANGELOG.md", "document": "", "carrier": "", "unit": "", '
    '"rulebook": "", "language": "", "edition": "", "pages": 1, "cards": 1, "sha256": ""}]}',
])  # fmt: skip
def test_a_note_that_somebody_else_wrote_removes_nothing_of_theirs(project, note, capsys):
    (project / "dist-carriers" / "carrier-a").mkdir(parents=True)
    (project / "dist-carriers" / "carrier-a" / MADE).write_text(note)
    assert main(["cards"]) == 0
    assert (project / "CHANGELOG.md").read_text().endswith("Written by hand.\n")
    assert (project / "dist-carriers" / "register.csv").read_text().count("\n") == 4


def test_two_runs_of_cards_into_one_folder_do_not_mix(project, capsys):
    with filling(project / "dist-carriers"):
        assert main(["cards"]) == 1
    assert "another build is writing" in capsys.readouterr().err
    assert main(["cards"]) == 0
    with filling(project / "dist-carriers"), pytest.raises(OutputBusy), filling(project / "dist-carriers"):
        pass


def test_what_a_stopped_run_of_cards_left_is_swept_away(project, capsys):
    (project / "dist-carriers" / ".chockbook-stopped" / "carrier-a").mkdir(parents=True)
    (project / "dist-carriers" / ".chockbook-1234").write_text("half")
    assert main(["cards"]) == 0
    assert sorted(path.name for path in (project / "dist-carriers").iterdir()) == ["carrier-a", "register.csv"]


def test_a_starter_that_cannot_be_finished_leaves_an_empty_folder_empty(tmp_path, monkeypatch):
    def full(*arguments):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(starter.shutil, "copyfile", full)
    (tmp_path / "own").mkdir()
    with pytest.raises(OSError, match="No space"):
        starter.make_starter(tmp_path / "own")
    assert everything(tmp_path) == {"own": "folder"}


def test_what_is_printed_on_a_full_disk_ends_in_one_line(project, capsys, monkeypatch):
    def full(text):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("sys.stdout.write", full)
    assert main(["check"]) == 1
    monkeypatch.undo()
    assert capsys.readouterr().err == "chockbook: stopped: No space left on device\n"
