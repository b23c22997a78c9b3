"""Printing for many carriers: how many a second, and how much memory.

    python tests/benchmarks/carriers.py [CARRIERS] [--no-proof]

Invented carriers of two units each, with mixed formats, rulebooks and languages, and one deck and one checklist a
unit. Prints the rate of making and of proving, the largest memory of a process early and late, and the time of a
second run in which nothing has changed. Other work on the machine makes the clock run on and the processors' own
time hardly: both are printed.
"""

from __future__ import annotations

import os
import random
import resource
import shutil
import sys
import tempfile
import time
from pathlib import Path

from chockbook.catalogue import Catalogue
from chockbook.catalogue.carrier import CarrierRecord
from chockbook.printing import cards_for_carriers
from chockbook.project import find_project
from chockbook.proof import prove_carriers

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


TOO_SMALL = {("us-fmcsr", "card")}
"""Rulebooks whose steps do not fit on a format: said by the program, and of no use here."""


def made_up_carriers(
    catalogue: Catalogue, count: int, checklists: bool = True, seed: int = 1
) -> list[CarrierRecord]:
    """So many invented carriers; the same seed gives the same."""
    chance = random.Random(seed)
    carriers = []
    for n in range(count):
        rulebook = chance.choice(catalogue.rulebooks).id
        documents: list[dict] = [{
            "what": "deck",
            "format": chance.choice([one for one in ("card", "a6", "visor") if (rulebook, one) not in TOO_SMALL]),
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
            "rulebooks": [rulebook],
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


def processor_seconds() -> float:
    """What this process and those it has ended took of the processors."""
    uses = map(resource.getrusage, (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    return sum(use.ru_utime + use.ru_stime for use in uses)


def timed(what: str, count: int, work):
    """Do the work, and print how long it took."""
    clock, own = time.perf_counter(), processor_seconds()
    result = work()
    clock, own = time.perf_counter() - clock, processor_seconds() - own
    cores = os.cpu_count() or 1
    print(f"{what}: {clock:.1f} s by the clock, {count / clock:.1f} carriers a second; {own:.1f} s of the processors, "
          f"{count * cores / own:.1f} carriers a second on {cores} cores of one's own", flush=True)  # fmt: skip
    return result


def main() -> None:
    """Run it and print what came of it."""
    count = int(next((word for word in sys.argv[1:] if word.isdigit()), "1000"))
    catalogue = find_project(Path(__file__).parent).assemble().catalogue
    if catalogue is None:
        sys.exit("the tables have faults")
    carriers = made_up_carriers(catalogue, count)
    folder = Path(tempfile.mkdtemp(prefix="carriers-"))
    memory: dict[int, float] = {}

    def watch(done: int, of: int, carrier: str) -> None:
        if done in (of // 10, of // 4, of // 2, of * 3 // 4, of * 9 // 10):
            memory[done] = living_mb()

    try:
        result = timed("making", count, lambda: cards_for_carriers(catalogue, carriers, folder, progress=watch))
        print(f"{result.documents} documents, {len(result.failed)} carriers failed", {why for _, why in result.failed})
        print("memory of a process: " + ", ".join(f"{mb:.0f} MB after {done}" for done, mb in sorted(memory.items())))
        again = timed("nothing changed", count, lambda: cards_for_carriers(catalogue, carriers, folder))
        print(f"{len(again.kept)} kept, {len(again.made)} made", flush=True)
        if "--no-proof" not in sys.argv:
            proof = timed("proving", count, lambda: prove_carriers(catalogue, carriers, folder))
            print(proof.summary(), *map(str, proof.objections[:5]), sep="\n")
    finally:
        shutil.rmtree(folder, ignore_errors=True)


if __name__ == "__main__":
    main()
