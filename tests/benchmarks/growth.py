"""How the time of each stage grows with the catalogue, beside plain MkDocs and Zensical on the same pages.

    python tests/benchmarks/growth.py [--sizes 200,2000,20000] [--without-zensical]

A made-up project of one rulebook in one language for each size (80 at least): four defects to a component, twenty
systems, words of their own, every defect in the route, eight to a step. Each stage is a command of its own, so that what it starts
counts too. Figures are processor seconds (user and system) of the command and its workers: they hold on a busy
machine better than the clock does, and do not depend on how many cores there are. The largest memory of a
process stands beside them.

The growth exponent is the slope between two sizes in logarithms: 1 is a straight line.
"""

from __future__ import annotations

import argparse
import copy
import math
import os
import random
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT / "generator"), str(ROOT / "tests"), str(ROOT / "tests" / "benchmarks")]

import yaml  # noqa: E402
from projects import tiny_project  # noqa: E402
from synthetic import made_up_word  # noqa: E402

from chockbook.lookup import Finder, build_index  # noqa: E402
from chockbook.project import find_project  # noqa: E402

SYSTEMS = 20
OF_A_COMPONENT = 4
OF_A_STEP, OF_A_STATION = 8, 8
LOOK_UPS = 100


def grown_project(root: Path, n_entries: int, seed: int = 1) -> Path:
    """The tiny project with so many made-up defects in place of its own two."""
    project = tiny_project(root)
    chance = random.Random(seed)
    taken: set[str] = set()

    def new_word() -> str:
        while (word := made_up_word(chance)) in taken:
            word += made_up_word(chance)
        taken.add(word)
        return word

    table = project / "source_tables" / "catalogue.yaml"
    catalogue = yaml.load(table.read_text(encoding="utf-8"), yaml.BaseLoader)
    route_table = project / "source_tables" / "route.yaml"
    route = yaml.load(route_table.read_text(encoding="utf-8"), yaml.BaseLoader)
    names = [f"{new_word().capitalize()} system" for _ in range(SYSTEMS)]
    catalogue["systems"] = [{"id": f"system-{n}", "name": {"en": name}} for n, name in enumerate(names)]
    components, defects = [], []
    for n in range(math.ceil(n_entries / OF_A_COMPONENT)):
        name = new_word()
        called = {"en": f"{name.capitalize()} part"}
        components.append({"id": f"part-{n}", "system": f"system-{n % SYSTEMS}", "name": called})
        for m in range(min(OF_A_COMPONENT, n_entries - len(defects))):
            fault, other = new_word(), new_word()
            item = "2-major-a" if m % 2 else "1-minor-a"
            defects.append({
                "id": f"part-{n}.fault-{m}", "component": f"part-{n}",
                "condition": {"en": f"The {name} part is {fault} near its {other}"},
                "check": {"en": f"Look at the {name} part. It holds and shows no {fault} {other}."},
                "aliases": {"en": [f"{fault} {name}", f"{other} gone"]},
                "vehicles": ["truck"], **({"limits": ["tread"]} if m == 1 else {}),
                "rulings": [{"rulebook": "demo", "item": item, "fit": "named"}],
            })  # fmt: skip
    catalogue |= {"components": components, "defects": defects}
    route["stations"] = [one for at, station in enumerate(route["stations"])
                         for one in _grown_stations(station, [one["id"] for one in defects[at::2]])]  # fmt: skip
    for path, data in ((table, catalogue), (route_table, route)):
        path.write_text(yaml.safe_dump(data, allow_unicode=True, sort_keys=False, width=200), "utf-8", newline="\n")
    return project


def _grown_stations(station: dict, found: list[str]) -> list[dict]:
    """As many stations like one as its steps need, if each finds eight defects."""
    first, *others = station["steps"]
    steps = [copy.deepcopy(first) | {"id": f"{first['id']}-{n}", "finds": found[n : n + OF_A_STEP]}
             for n in range(0, len(found), OF_A_STEP)]  # fmt: skip
    grown = []
    for n in range(0, len(steps), OF_A_STATION):
        one = copy.deepcopy(station) | {"steps": steps[n : n + OF_A_STATION]}
        if n:
            one |= {"id": f"{station['id']}-{n}", "name": {"en": f"{station['name']['en']} {n}"}}
        grown.append(one)
    grown[-1]["steps"] += others if len(grown[-1]["steps"]) + len(others) <= OF_A_STATION + 1 else []
    return grown


def change_one_entry(project: Path) -> None:
    """Another wording of one defect's check."""
    table = project / "source_tables" / "catalogue.yaml"
    text = table.read_text(encoding="utf-8")
    table.write_text(text.replace("It holds and shows no", "It holds well and shows no", 1), "utf-8", newline="\n")


def cost(*command: str, folder: Path) -> float:
    """Processor seconds of a command with all that it starts.

    Raises:
        SystemExit: the command failed; what it said is printed.
    """
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    done = subprocess.run(command, cwd=folder, env={**os.environ, "PYTHONPATH": str(ROOT / "generator")},
                          stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, check=False)  # fmt: skip
    if done.returncode != 0:
        raise SystemExit(f"{' '.join(command)} failed:\n{done.stdout[-2000:]}")
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def lookup_cost(project: Path) -> dict[str, float]:
    """Processor seconds to make the index of the lookup, and for one look-up, in this process."""
    catalogue = find_project(project).assemble().catalogue
    if catalogue is None:
        raise SystemExit("the made-up tables have faults")
    begun = time.process_time()
    finder = Finder(build_index(catalogue, catalogue.rulebooks[0].id, "en"))
    made = time.process_time()
    step = max(1, len(catalogue.entries) // LOOK_UPS)
    asked = catalogue.entries[::step][:LOOK_UPS]
    right = sum(finder.find(entry.aliases["en"][0], 1)[0][0] == entry.id for entry in asked)
    if right < len(asked) * 0.9:
        raise SystemExit(f"only {right} of {len(asked)} look-ups found their defect, so the times mean nothing")
    return {"lookup: index": made - begun, "lookup: one query": (time.process_time() - made) / len(asked)}


def measure(n_entries: int, folder: Path, with_zensical: bool) -> dict[str, float]:
    """Processor seconds of every stage at one size, each told as soon as it is known: the largest size takes long."""
    project = grown_project(folder, n_entries)
    chockbook = [sys.executable, "-m", "chockbook", "--project", str(project)]
    found: dict[str, float] = {}

    def stage(name: str, *command: str, place: Path = project) -> None:
        found[name] = cost(*command, folder=place)
        print(f"    {n_entries:,}: {name} {found[name]:.1f} s", flush=True)

    stage("check", *chockbook, "check")
    stage("cold build", *chockbook, "build")
    stage("proof", *chockbook, "prove")
    shutil.copytree(project / "dist" / "pages", folder / "plain" / "dist" / "pages")
    shutil.copyfile(project / "mkdocs.yml", folder / "plain" / "mkdocs.yml")
    beside = Path(sys.executable).parent
    stage("plain mkdocs build", str(beside / "mkdocs"), "build", "--quiet", place=folder / "plain")
    shutil.rmtree(folder / "plain" / "dist" / "site", ignore_errors=True)
    if with_zensical and (beside / "zensical").exists():
        try:
            stage("zensical build", str(beside / "zensical"), "build", place=folder / "plain")
        except SystemExit as error:  # its search takes no text of more than 32,768 words
            print(f"    {n_entries:,}: zensical build failed: {str(error).strip().splitlines()[-1]}", flush=True)
    change_one_entry(project)
    stage("rebuild after one changed entry", *chockbook, "build")
    return found | lookup_cost(project)


def main() -> None:
    """Measure each size in turn and print the table as it grows."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--sizes", default="200,2000,20000")
    parser.add_argument("--without-zensical", action="store_true")
    options = parser.parse_args()
    sizes = [int(size) for size in options.sizes.split(",")]
    before: dict[str, float] = {}
    for at, size in enumerate(sizes):
        with tempfile.TemporaryDirectory(prefix="growth-") as folder:
            found = measure(size, Path(folder), not options.without_zensical)
        memory = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024
        print(f"{size:,} entries (largest process so far: {memory:,.0f} MB)")
        for stage, seconds in found.items():
            slope = ""
            if stage in before:
                exponent = math.log(seconds / before[stage]) / math.log(size / sizes[at - 1])
                slope = f"   exponent {exponent:.2f} from {sizes[at - 1]:,}"
            print(f"  {stage:<34}{seconds:10.4f} s{slope}", flush=True)
        times = found["cold build"] / found["plain mkdocs build"]
        print(f"  {'cold build / plain mkdocs build':<34}{times:10.2f} times", flush=True)
        before = found


if __name__ == "__main__":
    main()
