"""A starter project is the reader's own from the first minute: whole, writable, and ready for editions of its own."""

from __future__ import annotations

import subprocess

import pytest
from projects import SHIPPED

from chockbook import starter
from chockbook.cli import main
from chockbook.starter import make_starter


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    return make_starter(tmp_path_factory.mktemp("starter") / "own")


def names(folder, pattern) -> set[str]:
    return {path.relative_to(folder).as_posix() for path in folder.rglob(pattern)}


def test_it_has_every_table_and_carrier_and_nobody_elses_editions(made):
    assert names(made / "source_tables", "*.yaml") == names(SHIPPED, "*.yaml")
    assert not (made / "source_tables" / "editions").exists()
    assert sorted(path.name for path in made.iterdir()) == [".gitignore", "mkdocs.yml", "source_tables"]
    own = (made / "source_tables" / "publisher.yaml").read_text(encoding="utf-8")
    assert "Your school or carrier" in own
    for path in SHIPPED.glob("*.yaml"):
        same = (made / "source_tables" / path.name).read_bytes() == path.read_bytes()
        assert same == (path.name != "publisher.yaml"), path.name


def test_what_is_made_stays_out_of_its_history(made):
    subprocess.run(["git", "init", "--quiet", str(made)], check=True)
    outputs = ["dist", "dist-carriers", "dist-drill", "dist-walk", ".chockbook-dist-abc", ".chockbook-dist.lock"]
    done = subprocess.run(["git", "-C", str(made), "check-ignore", *(f"{name}/x" for name in outputs)],
                          capture_output=True, text=True, check=False)  # fmt: skip
    assert done.stdout.split() == [f"{name}/x" for name in outputs]
    own = ["source_tables/editions/0123abcd.json", "mkdocs.yml"]
    kept = subprocess.run(["git", "-C", str(made), "check-ignore", *own], capture_output=True, check=False)
    assert kept.stdout == b""


def test_a_starter_of_a_locked_installation_can_be_written(tmp_path, monkeypatch):
    locked = tmp_path / "installed"
    (locked / "source_tables" / "carriers").mkdir(parents=True)
    (locked / "mkdocs.yml").write_text("site_name: x\n")
    for name in ("catalogue.yaml", "publisher.yaml", "carriers/a.yaml"):
        (locked / "source_tables" / name).write_text("a: 1\n")
        (locked / "source_tables" / name).chmod(0o444)
    (locked / "source_tables" / "carriers").chmod(0o555)
    (locked / "source_tables").chmod(0o555)
    monkeypatch.setattr(starter, "shipped", lambda name: locked / name)
    made = make_starter(tmp_path / "own")
    for path in [made, *made.rglob("*")]:
        assert path.stat().st_mode & 0o200, path
    (locked / "source_tables").chmod(0o755)
    (locked / "source_tables" / "carriers").chmod(0o755)


def test_it_keeps_and_compares_editions_of_its_own(made, capsys, monkeypatch):
    monkeypatch.chdir(made)
    assert main(["keep"]) == 0
    [kept] = (made / "source_tables" / "editions").glob("*.json")
    path = made / "source_tables" / "catalogue.yaml"
    text = path.read_text(encoding="utf-8")
    old = 'en: "The buckle will not latch'
    assert text.count(old) == 1
    path.write_text(text.replace(old, 'en: "The buckle does not latch'), encoding="utf-8", newline="")
    capsys.readouterr()
    assert main(["compare", kept.stem]) == 0
    assert "seat-belt.will-not-latch" in capsys.readouterr().out


def test_its_sources_say_who_checked_them_and_when_that_is_due_again(made, capsys, monkeypatch):
    monkeypatch.setenv("CHOCKBOOK_TODAY", "2036-01-01")
    assert main(["--project", str(made), "check"]) == 0
    assert "warning[review-due]" in capsys.readouterr().out
