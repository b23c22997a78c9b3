"""`chockbook cards` as a person runs it: a bad carrier beside good ones, a bar, a run that is killed, old registers."""

from __future__ import annotations

import csv
import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest
import yaml
from projects import TESTS, tiny_project

from chockbook.cli import main

PACKAGE = TESTS.parent / "generator"


def write(project: Path, carrier_id: str, **changes: object) -> Path:
    """A carrier's file: one unit, one deck."""
    plain = {
        "id": carrier_id, "name": carrier_id.title(), "languages": ["en"], "rulebooks": ["demo"],
        "contacts": [{"role": "dispatch", "phone": "555-0111", "hours": "day and night"}],
        "base_address": "https://yard.example/",
        "units": [{"id": "u1", "name": "1", "vehicles": ["truck", "tractor", "trailer"]}],
        "documents": [{"what": "deck"}],
    }  # fmt: skip
    path = project / "source_tables" / "carriers" / f"{carrier_id}.yaml"
    path.parent.mkdir(exist_ok=True)
    path.write_text(yaml.safe_dump({"carrier": {**plain, **changes}}, sort_keys=False), encoding="utf-8")
    return path


@pytest.fixture
def project(tmp_path: Path) -> Path:
    return tiny_project(tmp_path)


def run(project: Path, *arguments: str) -> int:
    return main(["--project", str(project), "cards", *arguments])


def listed(project: Path) -> list[str]:
    with (project / "dist-carriers" / "register.csv").open(encoding="utf-8", newline="") as file:
        return [row["carrier"] for row in csv.DictReader(file)]


def test_prints_are_proved_as_soon_as_they_are_made(project: Path, capsys: pytest.CaptureFixture[str]) -> None:
    write(project, "ash")
    assert run(project) == 0
    out = capsys.readouterr()
    assert "1 carrier printed, 0 unchanged, 1 document;" in out.out
    assert "proved: 1 document of 1 carrier: all agree" in out.out
    assert out.err == ""  # no bar where no one looks
    assert run(project) == 0
    assert "all agree" not in capsys.readouterr().out


def test_prints_of_an_edition_that_is_not_kept_come_with_a_word_about_it(project: Path, capsys: pytest.CaptureFixture[str]) -> None:
    write(project, "ash", documents=[{"what": "report"}])
    assert run(project) == 0
    assert "is not kept: run `chockbook keep` before the tables change" in capsys.readouterr().out
    assert main(["--project", str(project), "keep"]) == 0
    capsys.readouterr()
    assert run(project) == 0
    assert "chockbook keep" not in capsys.readouterr().out


def test_an_unproved_print_is_proved_by_the_next_run(project: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A run that was stopped between making and proving leaves no unproved print behind."""
    write(project, "ash")
    run(project)
    made = project / "dist-carriers" / "ash" / "made.json"
    made.write_text(made.read_text(encoding="utf-8").replace('"proved": true', '"proved": false'), encoding="utf-8")
    capsys.readouterr()
    assert run(project) == 0
    assert "proved: 1 document of 1 carrier:" in capsys.readouterr().out


def test_a_carrier_that_cannot_be_printed_is_told_with_file_and_line(
    project: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    write(project, "ash", documents=[{"what": "deck", "format": "visor"}])
    # A step so long that no small card holds it: found out when the cards are filled, and not by the checks.
    rulebooks = project / "source_tables" / "rulebooks.yaml"
    text = rulebooks.read_text(encoding="utf-8")
    assert text.count("Do not drive the vehicle.") == 1
    rulebooks.write_text(text.replace("Do not drive the vehicle.", "Do not drive the vehicle. " * 60), encoding="utf-8")
    bad = write(project, "beech", documents=[{"what": "checklist"}, {"what": "deck", "format": "a7"}])
    write(project, "cedar", languages=["xx"])
    assert run(project) == 1
    out = capsys.readouterr().out
    line = bad.read_text(encoding="utf-8").splitlines().index("  - what: deck") + 1
    assert f"source_tables/carriers/beech.yaml:{line}:" in out
    assert "not printed: beech" in out
    assert "source_tables/carriers/cedar.yaml:" in out
    assert "2 carriers printed" in out  # beech without its deck
    assert listed(project) == ["ash", "beech"]


def test_the_register_keeps_the_prints_of_carriers_that_were_not_asked_for(project: Path) -> None:
    for name in ("ash", "beech"):
        write(project, name)
    assert run(project) == 0
    assert run(project, "beech") == 0
    assert listed(project) == ["ash", "beech"]


def test_a_print_that_was_changed_is_made_again(project: Path, capsys: pytest.CaptureFixture[str]) -> None:
    write(project, "ash")
    run(project)
    (path,) = (project / "dist-carriers").rglob("*.pdf")
    good = path.read_bytes()
    path.write_bytes(good + b"%")
    capsys.readouterr()
    assert main(["--project", str(project), "prove", str(project / "dist-carriers")]) == 1
    assert "sha256: is not the file that the register lists" in capsys.readouterr().out
    assert run(project) == 0
    assert path.read_bytes() == good
    assert main(["--project", str(project), "prove", str(project / "dist-carriers")]) == 0


def test_a_terminal_sees_a_bar(
    project: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    write(project, "ash")
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True)
    run(project)
    assert f"\rprinting [{'#' * 30}] 1 of 1: ash" in capsys.readouterr().err


def test_the_build_leaves_prints_and_register_alone(project: Path) -> None:
    write(project, "ash")
    run(project)
    before = {path: path.read_bytes() for path in (project / "dist-carriers").rglob("*") if path.is_file()}
    assert main(["--project", str(project), "build"]) == 0
    assert {path: path.read_bytes() for path in (project / "dist-carriers").rglob("*") if path.is_file()} == before


@pytest.mark.skipif(os.name != "posix", reason="kills a process as Unix does")
def test_a_killed_run_goes_on_where_it_was(project: Path) -> None:
    names = [f"c{n:02}" for n in range(12)]
    for name in names:
        write(project, name)
    folder = project / "dist-carriers"
    command = [sys.executable, "-m", "chockbook", "--project", str(project), "cards"]
    environment = {**os.environ, "PYTHONPATH": str(PACKAGE)}
    first = subprocess.Popen(command, env=environment, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    while first.poll() is None and not any(folder.glob("*/made.json")):
        pass
    first.send_signal(signal.SIGKILL)
    first.wait()
    before = {path.parent.name: path.stat().st_mtime_ns for path in folder.glob("*/made.json")}
    assert before
    kept = {path: path.stat().st_mtime_ns for name in before for path in (folder / name).rglob("*.pdf")}
    done = subprocess.run(command, env=environment, capture_output=True, text=True, check=True).stdout
    assert int(done.split(" carriers printed, ")[1].split()[0]) >= len(before)
    assert {path: path.stat().st_mtime_ns for path in kept} == kept
    assert listed(project) == names
    assert list(folder.rglob("*.new")) == []
