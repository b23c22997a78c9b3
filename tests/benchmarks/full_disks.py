"""Builds on real disks that are too small, or locked, and looks at what is left: the last good output, every time.

    python tests/benchmarks/full_disks.py [--disks 20]

Linux alone: each disk is a file system in memory, mounted in a name space of its own, so that no rights are needed
and nothing stays mounted. Exit code 1 where anything was not whole, not told in one line, or left over.
"""

from __future__ import annotations

import argparse
import os
import shutil
import subprocess
import sys
import tempfile
from collections import Counter
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from full_disk import everything
from projects import two_books

PACKAGE = Path(__file__).parents[2] / "generator"
INSIDE = "CHOCKBOOK_IN_A_NAME_SPACE"
BLOCK = 4096


def build(project: Path) -> subprocess.CompletedProcess:
    """One build of a project, with its words."""
    command = [sys.executable, "-m", "chockbook", "--project", str(project), "build"]
    return subprocess.run(command, capture_output=True, text=True, check=False,
                          env={**os.environ, "PYTHONPATH": str(PACKAGE), "PYTHONDONTWRITEBYTECODE": "1"})  # fmt: skip


def blocks(folder: Path) -> int:
    """How many blocks the files and folders below a folder take."""
    return sum(-(-path.stat().st_size // BLOCK) if path.is_file() else 1 for path in folder.rglob("*"))


def judge(done: subprocess.CompletedProcess, before: dict[str, str], after: dict[str, str], why: str) -> str:
    """What came of a build that could not end well."""
    told = done.stderr.splitlines()
    if done.returncode == 0:
        return "built"
    if after != before:
        return "NOT WHOLE, OR LITTER"
    if done.returncode != 1 or len(told) != 1 or why not in told[0]:
        return f"NOT TOLD IN ONE LINE: {told[-1:]}"
    return f"the last output, whole, and told: {why}"


def main() -> int:
    """Build on disks with more and more room; print the counts."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--disks", type=int, default=20)
    options = parser.parse_args()
    if not os.environ.get(INSIDE):
        os.environ[INSIDE] = "1"
        os.execvp("unshare", ["unshare", "--map-root-user", "--mount", sys.executable, *sys.argv])
    found: Counter[str] = Counter()
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "whole").mkdir()
        whole = two_books(Path(folder) / "whole")
        if build(whole).returncode:
            raise SystemExit("the project does not build")
        output = blocks(whole / "dist")
        table = whole / "source_tables" / "catalogue.yaml"
        text = table.read_text(encoding="utf-8").replace("A tire is flat", "A tire has lost its air")
        table.write_text(text, encoding="utf-8", newline="")
        disk = Path(folder) / "disk"
        disk.mkdir()
        for number in range(options.disks + 1):
            locked = number == options.disks
            room = blocks(whole) + 40 + int(output * 1.5 * number / options.disks)
            subprocess.run(["mount", "-t", "tmpfs", "-o", f"size={room * BLOCK}", "tmpfs", str(disk)], check=True)
            project = shutil.copytree(whole, disk / "project")
            before = everything(project)
            if locked:
                subprocess.run(["mount", "-o", "remount,ro", str(disk)], check=True)
            done = build(project)
            why = "Read-only file system" if locked else "No space left on device"
            found[judge(done, before, everything(project), why)] += 1
            subprocess.run(["umount", str(disk)], check=True)
    for what, count in sorted(found.items()):
        print(f"{count:5} {what}")
    return 1 if any(what[:3].isupper() for what in found) else 0


if __name__ == "__main__":
    raise SystemExit(main())
