"""Whatever stands on the command line: an answer or one line about what is wrong, and nothing written elsewhere."""

from __future__ import annotations

import pytest
from full_disk import everything
from projects import tiny_project

from chockbook.cli import main

BYTES = "\udcff\udcfe"
"""What a terminal's bytes that are no UTF-8 become."""
ARGUMENTS = {
    "find bytes": ["find", BYTES], "find surrogates": ["find", "\ud800\udc00"], "find much": ["find", "a" * 100_000],
    "find nothing": ["find", ""], "find a mark": ["find", "\u202ehorn\0"], "decide bytes": ["decide", f"truck:{BYTES}"],
    "decide digits": ["decide", "truck:tire.flat=" + "9" * 5000], "decide signs": ["decide", ":::==="],
    "measure a power": ["measure", "tread", "1e999999"], "measure digits": ["measure", "tread", "9" * 9000 + " mm"],
    "measure Arabic": ["measure", "tread", "٣ mm"], "measure a fraction": ["measure", "tread", "1/0 in"],
    "questions": ["drill", "--questions", "9" * 30], "seed": ["drill", "--seed", BYTES, "--questions", "2"],
    "walk away": ["walk", "../../x"], "walk bytes": ["walk", BYTES], "cards away": ["cards", "../x"],
    "compare bytes": ["compare", BYTES], "compare a device": ["compare", "/dev/zero"],
    "compare an option": ["compare", "--", "-h"],
    "compare a register": ["compare", "HEAD", "--register", "/dev/null/x"], "keep a device": ["keep", "/dev/null"],
    "keep a name": ["keep", "../../../etc/passwd"], "new on a device": ["new", "/dev/null"],
    "new under a file": ["new", "mkdocs.yml/x"],
    "schema under a file": ["schema", "mkdocs.yml/x"],
    "walk under a file": ["walk", "truck", "--output", "mkdocs.yml/x"],
    "cards under a file": ["cards", "--output", "mkdocs.yml/x"], "drill on a file": ["drill", "--output", "mkdocs.yml"],
    "build on a file": ["build", "--output", "mkdocs.yml"], "prove a device": ["prove", "/dev/null"],
    "prove what is not ours": ["prove", "source_tables"], "port": ["serve", "--port", "99999999"],
    "port below": ["serve", "--port", "-1"],
    "rulebook": ["find", "horn", "--rulebook", BYTES], "language": ["find", "horn", "--language", "../fr"],
    "day": ["--today", "2026-02-30", "check"], "much of a day": ["--today", "9" * 5000, "check"],
}  # fmt: skip


@pytest.fixture(scope="module")
def project(tmp_path_factory):
    return tiny_project(tmp_path_factory.mktemp("project"))


@pytest.mark.parametrize("name", ARGUMENTS)
def test_an_argument_is_answered_or_told(project, name, capsys, monkeypatch):
    monkeypatch.chdir(project)
    before = everything(project.parent)
    try:
        code = main(ARGUMENTS[name])
    except SystemExit as ended:  # argparse ends the program itself
        code = ended.code
    said = capsys.readouterr()
    assert code in (0, 1, 2)
    assert said.out.strip() or said.err.strip()
    assert "Traceback" not in said.out + said.err
    assert len([line for line in said.err.splitlines() if line.startswith("chockbook")]) <= 1
    assert everything(project.parent) == before
