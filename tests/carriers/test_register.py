"""The register remembers what is on the road: replaced prints stay listed until somebody says that they were pulled."""

from __future__ import annotations

import csv
import json
import re
from pathlib import Path

import pytest
from demo_carriers import carrier
from projects import tiny_project
from test_command import run, write

from chockbook.cli import main
from chockbook.printing import RegisterUnreadable, cards_for_carriers, read_register, take_off
from chockbook.printing.register import COLUMNS, MADE, write_register


def row(name: str, edition: str, sha256: str = "00", owner: str = "ash") -> dict[str, str]:
    return dict(zip(COLUMNS, (f"{owner}/u1/{name}.pdf", name, owner, "u1", "demo", "en", edition, "2", "4", sha256), strict=False))


def states(folder: Path) -> list[tuple[str, str, str, str]]:
    return [(one["carrier"], one["document"], one["edition"], one["state"]) for one in read_register(folder / "register.csv")]


def test_what_was_replaced_or_given_up_stays_listed_after_what_is_current(tmp_path):
    write_register(tmp_path, {"ash": [row("deck", "aaaa"), row("report", "aaaa")]})
    write_register(tmp_path, {"ash": [row("deck", "bbbb")]})
    after = [("ash", "deck", "bbbb", "current"), ("ash", "deck", "aaaa", "replaced"), ("ash", "report", "aaaa", "replaced")]
    assert states(tmp_path) == after
    text = (tmp_path / "register.csv").read_bytes()
    write_register(tmp_path, {"ash": [row("deck", "bbbb")]})
    assert (tmp_path / "register.csv").read_bytes() == text
    write_register(tmp_path, {"ash": [row("deck", "aaaa")]})  # the tables are as they were: that print is current again
    assert states(tmp_path)[:2] == [("ash", "deck", "aaaa", "current"), ("ash", "deck", "bbbb", "replaced")]


def test_the_same_edition_with_other_bytes_is_another_print(tmp_path):
    write_register(tmp_path, {"ash": [row("deck", "aaaa", "01")]})
    write_register(tmp_path, {"ash": [row("deck", "aaaa", "02")]})
    assert [(one["sha256"], one["state"]) for one in read_register(tmp_path / "register.csv")] == [
        ("02", "current"), ("01", "replaced"),
    ]  # fmt: skip


def test_a_register_of_before_has_current_rows(tmp_path):
    with (tmp_path / "register.csv").open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, COLUMNS[: COLUMNS.index("state")], extrasaction="ignore")
        writer.writeheader()
        writer.writerow(row("deck", "aaaa"))
    assert states(tmp_path) == [("ash", "deck", "aaaa", "current")]
    write_register(tmp_path, {"ash": [row("deck", "bbbb")]})
    assert states(tmp_path) == [("ash", "deck", "bbbb", "current"), ("ash", "deck", "aaaa", "replaced")]


def test_pulled_prints_are_taken_off_by_edition_by_carrier_or_by_both(tmp_path):
    everything = {name: [row("deck", "aaaa", owner=name)] for name in ("ash", "beech")}
    write_register(tmp_path, everything)
    write_register(tmp_path, {name: [row("deck", "bbbb", owner=name)] for name in everything})
    write_register(tmp_path, {name: [row("deck", "cccc", owner=name)] for name in everything})
    assert take_off(tmp_path, ["ash", "aaaa"]) == 1
    assert [one for one in states(tmp_path) if one[3] == "replaced"] == [
        ("ash", "deck", "bbbb", "replaced"), ("beech", "deck", "aaaa", "replaced"), ("beech", "deck", "bbbb", "replaced"),
    ]  # fmt: skip
    assert take_off(tmp_path, ["bbbb"]) == 2
    with pytest.raises(LookupError, match="'cccc'; there is: aaaa, beech"):
        take_off(tmp_path, ["cccc"])  # current: nobody pulls what is in force
    assert take_off(tmp_path, ["beech"]) == 1
    assert [one[3] for one in states(tmp_path)] == ["current", "current"]


@pytest.mark.parametrize("text", [b"\xff\xfe", b"a,b\n1,2\n", b'path,"document\n'])
def test_a_register_that_cannot_be_read_is_not_written_over(tmp_path, tiny, text):
    (tmp_path / "register.csv").write_bytes(text)
    if text.startswith(b"path"):
        (tmp_path / "register.csv").write_bytes(text + b"x" * 200_000)
    before = (tmp_path / "register.csv").read_bytes()
    with pytest.raises(RegisterUnreadable):
        cards_for_carriers(tiny, [carrier(rulebooks=["demo"])], tmp_path, workers=1)
    assert (tmp_path / "register.csv").read_bytes() == before
    assert list(tmp_path.rglob("*.pdf")) == []


def test_printing_again_after_a_change_leaves_something_to_pull(tmp_path, capsys):
    project = tiny_project(tmp_path)
    write(project, "ash", documents=[{"what": "report"}])
    assert run(project) == 0
    folder = project / "dist-carriers"
    assert main(["--project", str(project), "keep"]) == 0
    (was,) = (path.stem for path in (project / "source_tables" / "editions").glob("*.json"))
    table = project / "source_tables" / "rulebooks.yaml"
    text = table.read_text(encoding="utf-8")
    assert text.count("name: {en: Major") == 1
    table.write_text(text.replace("name: {en: Major", "name: {en: Grave"), encoding="utf-8")
    assert run(project) == 0
    assert [(one[1], one[3]) for one in states(folder)] == [("report", "current"), ("report", "replaced")]
    capsys.readouterr()
    assert main(["--project", str(project), "compare", was, "--json"]) == 0
    told = json.loads(capsys.readouterr().out)["prints"]
    assert [(one["edition"] == was, one["replaced"], one["state"]) for one in told] == [
        (False, False, "current"), (True, True, "stale"),
    ]  # fmt: skip
    assert main(["--project", str(project), "compare", was]) == 0
    to_pull = rf"Replaced, or no longer asked for: pull it: 1\n  ash\n    report, demo, en; {was} [0-9a-f]{{6}}: replaced,"
    assert re.search(to_pull, capsys.readouterr().out)
    assert main(["--project", str(project), "prove", str(folder)]) == 0
    assert "proved: 1 document of 1 carrier" in capsys.readouterr().out
    assert main(["--project", str(project), "cards", "--pulled", "nobody"]) == 2
    assert main(["--project", str(project), "cards", "--pulled", was]) == 0
    assert "1 replaced print taken off the register" in capsys.readouterr().out
    assert [one[3] for one in states(folder)] == ["current"]


def test_what_a_stopped_run_made_is_remembered_when_the_next_run_replaces_it(tmp_path):
    """The run ended before it could write the register: the carrier's own note tells."""
    (tmp_path / "ash").mkdir()
    note = {"stamp": "x", "notices": [], "rows": [row("report.demo.en", "aaaa")]}
    (tmp_path / "ash" / MADE).write_text(json.dumps(note), encoding="utf-8")
    write_register(tmp_path, {})
    write_register(tmp_path, {"ash": [row("report.demo.en", "bbbb")]})
    assert [one[2:] for one in states(tmp_path)] == [("bbbb", "current"), ("aaaa", "replaced")]


def test_only_carriers_that_the_register_names_are_held(tmp_path, capsys):
    project = tiny_project(tmp_path)
    for name in ("ash", "beech"):
        write(project, name, documents=[{"what": "report"}])
    assert run(project, "ash") == 0
    capsys.readouterr()
    assert main(["--project", str(project), "prove", str(project / "dist-carriers")]) == 0
    assert "proved: 1 document of 1 carrier" in capsys.readouterr().out
