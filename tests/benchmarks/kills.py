"""Kills builds at random moments and looks at what is left: the last good output, whole, every time.

    python tests/benchmarks/kills.py [--kills 200] [--seed 1]

Two editions of a small project of two books are built in turns, and killed (SIGKILL, the workers left alone).
After each kill the output folder holds every file of one edition or of the other with the right bytes, and
nothing else. A last build that is left in peace removes what the killed ones left beside it.
"""

from __future__ import annotations

import argparse
import hashlib
import os
import random
import signal
import subprocess
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from projects import two_books

CONDITIONS = "A tire is flat", "A tire has lost its air"
WAIT_S = 60


def state(folder: Path) -> str:
    """One hash of every file's name and bytes."""
    found = hashlib.sha256()
    for path in sorted(folder.rglob("*")):
        if path.is_file():
            found.update(path.relative_to(folder).as_posix().encode() + b"\0" + path.read_bytes() + b"\0")
    return found.hexdigest()


def start(project: Path) -> subprocess.Popen:
    """A build of its own, without output."""
    command = [sys.executable, "-m", "chockbook", "--project", str(project), "build"]
    package = str(Path(__file__).parents[2] / "generator")
    return subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
                            env={**os.environ, "PYTHONPATH": package})  # fmt: skip


def write_edition(project: Path, which: int) -> None:
    """Let the tables say one or the other."""
    table = project / "source_tables" / "catalogue.yaml"
    text = table.read_text(encoding="utf-8")
    table.write_text(text.replace(CONDITIONS[1 - which], CONDITIONS[which]), encoding="utf-8", newline="")


def whole_builds(project: Path) -> tuple[list[str], float]:
    """The state of the output in each edition, and how long a build takes, in seconds."""
    states, seconds = [], 0.0
    for which in (0, 1):
        write_edition(project, which)
        begun = time.monotonic()
        if start(project).wait(WAIT_S) != 0:
            raise SystemExit("the project does not build")
        seconds = time.monotonic() - begun
        states.append(state(project / "dist"))
    if states[0] == states[1]:
        raise SystemExit("the two editions are the same, so nothing would be seen")
    return states, seconds


def kill_builds(project: Path, kills: int, seed: int) -> Counter[str]:
    """Kill builds and count what was left: the edition before, the new one, or something that is not whole."""
    chance = random.Random(seed)
    states, seconds = whole_builds(project)
    found: Counter[str] = Counter()
    for number in range(kills):
        before = states.index(state(project / "dist"))
        write_edition(project, 1 - before)
        build = start(project)
        # Spread over the whole build; every third falls into its last part, where the folders are exchanged.
        first = 0.8 if number % 3 == 2 else 0.0
        time.sleep(chance.uniform(first, 1.05) * seconds)
        ended = build.poll() is not None
        build.send_signal(signal.SIGKILL)
        build.wait(WAIT_S)
        left = state(project / "dist")
        if left not in states:
            found["NOT WHOLE"] += 1
            print(f"kill {number}: not whole")
            start(project).wait(WAIT_S)
        elif left == states[before]:
            found["the edition before, whole" + (" (the build had ended)" if ended else "")] += 1
        else:
            found["the new edition, whole" + (" (the build had ended)" if ended else "")] += 1
    write_edition(project, 0)
    if start(project).wait(WAIT_S) != 0 or state(project / "dist") != states[0]:
        found["THE NEXT BUILD FAILED"] += 1
    litter = sorted(path.name for path in project.iterdir() if path.name.startswith(".chockbook-") and path.is_dir())
    if litter:
        found["LITTER"] += len(litter)
        print("left over:", ", ".join(litter))
    return found


def main() -> int:
    """Run the kills and print the counts; 1 where anything was not whole."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--kills", type=int, default=200)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        found = kill_builds(two_books(Path(folder)), options.kills, options.seed)
    for what, count in sorted(found.items()):
        print(f"{count:5} {what}")
    return 1 if any(what.isupper() for what in found) else 0


if __name__ == "__main__":
    raise SystemExit(main())
