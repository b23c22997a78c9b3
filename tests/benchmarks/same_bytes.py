"""Builds one project under other clocks, languages, orders, folders and Pythons, and compares every byte.

    python tests/benchmarks/same_bytes.py [--project DIR] [--python OTHER ...] [--first N]

Without a project, a small one of two books is built. Each build runs in a process of its own, from a copy of the
project in a folder of another name. Exit code 1 where any byte differs.
"""

from __future__ import annotations

import argparse
import filecmp
import os
import shutil
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass, field
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

PACKAGE = Path(__file__).parents[2] / "generator"


@dataclass(frozen=True)
class Surroundings:
    """What must not matter to a build."""

    name: str
    folder: str
    variables: dict[str, str] = field(default_factory=dict)
    umask: int = 0o022
    python: str = sys.executable


PLAIN = Surroundings("as it is", "plain", {"TZ": "UTC", "LC_ALL": "C.UTF-8", "PYTHONHASHSEED": "0"})
OTHERS = (
    Surroundings("14 hours ahead", "ahead", {"TZ": "Pacific/Kiritimati", "LC_ALL": "C.UTF-8", "PYTHONHASHSEED": "0"}),
    Surroundings("12 hours behind, other hashes", "behind", {"TZ": "Etc/GMT+12", "PYTHONHASHSEED": "1"}),
    Surroundings("no locale, ASCII only", "ascii", {"LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"}),
    Surroundings("French, where it is installed", "french", {"LC_ALL": "fr_CA.UTF-8", "LANG": "fr_CA.UTF-8"}),
    Surroundings("folder with a space and accents", "Été à l'école (2)", {"PYTHONHASHSEED": "77"}),
    Surroundings("files for nobody else", "private", umask=0o077),
    Surroundings("without assertions", "optimized", {"PYTHONOPTIMIZE": "1"}),
)  # fmt: skip


def build(project: Path, around: Surroundings, place: Path) -> Path:
    """The output of one build.

    Raises:
        SystemExit: the project does not build there.
    """
    copy = place / around.folder
    shutil.copytree(project / "source_tables", copy / "source_tables")
    shutil.copyfile(project / "mkdocs.yml", copy / "mkdocs.yml")
    command = [around.python, "-m", "chockbook", "--project", str(copy), "build"]
    kept = {name: value for name, value in os.environ.items() if not name.startswith(("PYTHON", "LC_", "LANG", "TZ"))}
    done = subprocess.run(command, capture_output=True, umask=around.umask, check=False,
                          env={**kept, "PYTHONPATH": str(PACKAGE), **around.variables})  # fmt: skip
    if done.returncode:
        raise SystemExit(f"{around.name}: does not build\n{done.stdout.decode()[-2000:]}{done.stderr.decode()[-2000:]}")
    return copy / "dist"


def files_of(folder: Path) -> set[str]:
    """Names of all files below a folder."""
    return {path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()}


def differences(one: Path, other: Path) -> list[str]:
    """Files that only one of two outputs has, or that do not have the same bytes."""
    here, there = files_of(one), files_of(other)
    changed = {name for name in here & there if not filecmp.cmp(one / name, other / name, shallow=False)}
    return sorted((here ^ there) | changed)


def main() -> int:
    """Build and compare; print a line for each surrounding."""
    from projects import two_books

    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--project", type=Path, help="a project (default: a small one of two books)")
    parser.add_argument("--python", nargs="*", default=[], help="other Pythons that have what the program needs")
    parser.add_argument("--first", type=int, default=len(OTHERS), metavar="N", help="only so many of the surroundings")
    options = parser.parse_args()
    pythons = [Surroundings(f"Python at {path}", f"py-{n}", python=path) for n, path in enumerate(options.python)]
    wrong = 0
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        project = options.project or two_books(place)
        first = build(project, PLAIN, place / "builds")
        files = files_of(first)
        print(f"{len(files)} files, {sum((first / name).stat().st_size for name in files):,} bytes")
        for around in (*OTHERS[: options.first], *pythons):
            begun = time.monotonic()
            found = differences(first, build(project, around, place / "builds"))
            wrong += bool(found)
            told = f"{'DIFFERS' if found else 'same'}: {around.name} ({time.monotonic() - begun:.0f} s)"
            print(told, *found[:9], sep="\n    ", flush=True)
            shutil.rmtree(place / "builds" / around.folder)
    return 1 if wrong else 0


if __name__ == "__main__":
    raise SystemExit(main())
