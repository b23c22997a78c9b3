"""Printing for many carriers: how many a second, and how much memory.

    python tests/benchmarks/carriers.py [CARRIERS] [--checklists]

Invented carriers of two units each, with mixed formats, rulebooks and languages, and one deck a unit (and one
checklist). Prints the rate, the largest memory of a process early and late, and the time of a second run in
which nothing has changed.
"""

from __future__ import annotations

import os
import random
import shutil
import sys
import tempfile
import time
from pathlib import Path

from chockbook.catalogue import Catalogue
from chockbook.catalogue.carrier import CarrierRecord
from chockbook.printing import cards_for_carriers
from chockbook.project import find_project

KINDS = (
    ["tractor", "trailer"],
    ["truck"],
    ["truck", "trailer"],
    ["tractor", "trailer", "converter-dolly", "trailer"],
)
EQUIPMENT = (
    ["air-brakes", "fifth-wheel", "air-suspension", "sleeper", "def-system", "cargo"],
    ["hydraulic-brakes", "spring-suspension"],
    ["air-brakes", "pintle-hook", "safety-chains", "tarp", "cargo", "spring-suspension"],
    ["air-brakes", "fifth-wheel", "pintle-hook", "reefer", "dangerous-goods", "hub-oil-sight-glass"],
)


def made_up_carriers(
    catalogue: Catalogue, count: int, checklists: bool, seed: int = 1
) -> list[CarrierRecord]:
    """So many invented carriers; the same seed gives the same."""
    chance = random.Random(seed)
    carriers = []
    for n in range(count):
        documents: list[dict] = [{
            "what": "deck",
            "format": chance.choice(["card", "a6", "visor"]),
            "paper": chance.choice(["letter", "a4"]),
            "duplex": chance.choice(["long-edge", "short-edge", "fold"]),
            "ink": chance.choice(["colour", "mono"]),
        }]  # fmt: skip
        if checklists:
            documents.append({"what": "checklist"})
        carriers.append(CarrierRecord.model_validate({
            "id": f"carrier-{n:05}",
            "name": f"Carrier {n} Haulage",
            "demo": True,
            "contacts": [{"role": "dispatch", "phone": f"555-01{n % 100:02}", "hours": "day and night"}],
            "languages": [chance.choice(catalogue.languages).code],
            "rulebooks": [chance.choice(catalogue.rulebooks).id],
            "base_address": "https://fleet.example/",
            "units": [
                {"id": f"u{unit}", "name": f"{n}-{unit}", "vehicles": chance.choice(KINDS), "equipment": chance.choice(EQUIPMENT)}
                for unit in range(2)
            ],
            "documents": documents,
        }))  # fmt: skip
    return carriers


def living_mb() -> float:
    """Memory of the largest process below this one just now, in megabytes (Linux)."""
    sizes = [0.0]
    for status in Path("/proc").glob("[0-9]*/status"):
        try:
            fields = dict(line.split(":", 1) for line in status.read_text().splitlines() if ":" in line)
        except OSError:
            continue
        if int(fields["PPid"]) == os.getpid():
            sizes.append(int(fields.get("VmRSS", "0 kB").split()[0]) / 1024)
    return max(sizes)


def main() -> None:
    """Run it and print what came of it."""
    count = int(next((word for word in sys.argv[1:] if word.isdigit()), "1000"))
    catalogue = find_project(Path(__file__).parent).assemble().catalogue
    if catalogue is None:
        sys.exit("the tables have faults")
    carriers = made_up_carriers(catalogue, count, "--checklists" in sys.argv)
    folder = Path(tempfile.mkdtemp(prefix="carriers-"))
    memory: dict[int, float] = {}

    def watch(done: int, of: int, carrier: str) -> None:
        if done in (of // 10, of // 2, of * 9 // 10):
            memory[done] = living_mb()

    try:
        started = time.perf_counter()
        result = cards_for_carriers(catalogue, carriers, folder, progress=watch)
        seconds = time.perf_counter() - started
        started = time.perf_counter()
        again = cards_for_carriers(catalogue, carriers, folder)
        second = time.perf_counter() - started
    finally:
        shutil.rmtree(folder, ignore_errors=True)
    print(
        f"{count} carriers, {result.documents} documents, {len(result.failed)} failed: {seconds:.1f} s, "
        f"{count / seconds:.1f} carriers a second on {os.cpu_count()} cores"
    )
    for why in {why for _, why in result.failed}:
        print(f"  {why}")
    print(
        "memory of a process: "
        + ", ".join(f"{mb:.0f} MB after {done}" for done, mb in sorted(memory.items()))
    )
    print(f"second run: {second:.2f} s, {len(again.kept)} kept, {len(again.made)} made")


if __name__ == "__main__":
    main()
