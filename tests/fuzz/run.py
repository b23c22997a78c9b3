"""Fuzzes what people write: damaged tables and carriers, guided by coverage where atheris is installed.

    python tests/fuzz/run.py tables --minutes 30 [--seed 1]

A find is written to tests/fuzz/corpus/<target>/ and stays there as a test. Exit code 1 where anything was found.
"""

from __future__ import annotations

import argparse
import hashlib
import random
import resource
import signal
import sys
import tempfile
import time
import traceback
from pathlib import Path

TESTS = Path(__file__).parents[1]
sys.path[:0] = [str(TESTS), str(TESTS.parent / "generator")]
CORPUS = Path(__file__).with_name("corpus")
SLOWEST_S = 10
"""Seconds of the processor, so that a busy machine makes nothing slow."""
MOST_MEMORY = 3 * 1024**3
"""Bytes of memory that a run may take."""

try:
    import atheris
except ImportError:
    atheris = None

if atheris:
    with atheris.instrument_imports(include=["chockbook"]):
        from fuzz.files_of_commands import OTHERS
        from fuzz.targets import TARGETS
else:
    from fuzz.files_of_commands import OTHERS
    from fuzz.targets import TARGETS

TARGETS = {**TARGETS, **OTHERS}


class TooSlow(Exception):
    """One input took longer than any honest one."""


def _too_slow(number: int, frame: object) -> None:
    raise TooSlow


class Watch:
    """Runs a target on input after input, keeps what is found, and counts."""

    def __init__(self, name: str, minutes: float) -> None:
        self.target, self.name = TARGETS[name](), name
        self.until = time.monotonic() + 60 * minutes
        self.count = self.slowest = 0.0
        self.found: dict[str, Path] = {}

    def one(self, raw: bytes) -> None:
        """Run one input."""
        begun = time.monotonic()
        signal.setitimer(signal.ITIMER_PROF, SLOWEST_S)
        try:
            self.target.run(raw)
        except Exception as error:
            where = traceback.extract_tb(error.__traceback__)[-1]
            what = f"{type(error).__name__} at {Path(where.filename).name}:{where.lineno}"
            if what not in self.found:
                self.found[what] = self._keep(raw)
                print(f"found: {what}: {str(error)[:300]!r}, kept as {self.found[what].name}", flush=True)
        finally:
            signal.setitimer(signal.ITIMER_PROF, 0)
        self.count += 1
        self.slowest = max(self.slowest, time.monotonic() - begun)
        if time.monotonic() > self.until:
            self.end()

    def _keep(self, raw: bytes) -> Path:
        path = CORPUS / self.name / hashlib.sha256(raw).hexdigest()[:12]
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(raw)
        return path

    def end(self) -> None:
        """Print the counts and leave the program at once: the fuzzer's loop has no other end."""
        self.target.close()
        peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
        print(f"{self.name}: {self.count:,.0f} inputs, {len(self.found)} kinds of finds, slowest {self.slowest:.2f} s, "
              f"peak memory {peak} MB", flush=True)  # fmt: skip
        sys.stdout.flush()
        import os

        os._exit(1 if self.found else 0)


def main() -> None:
    """Fuzz until the time is up."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("target", choices=sorted(TARGETS))
    parser.add_argument("--minutes", type=float, default=1)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    resource.setrlimit(resource.RLIMIT_AS, (MOST_MEMORY, MOST_MEMORY))
    signal.signal(signal.SIGPROF, _too_slow)
    watch = Watch(options.target, options.minutes)
    if atheris:
        print("guided by coverage", flush=True)
        flags = [sys.argv[0], f"-seed={options.seed}", "-max_len=240", "-len_control=0", "-rss_limit_mb=0",
                 "-verbosity=0", f"-artifact_prefix={tempfile.gettempdir()}/"]  # fmt: skip
        atheris.Setup(flags, watch.one)
        atheris.Fuzz()
        watch.end()
    chance = random.Random(options.seed)
    while True:
        watch.one(chance.randbytes(chance.randrange(3, 60)))


if __name__ == "__main__":
    main()
