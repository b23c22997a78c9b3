"""How well and how fast the lookup answers: prints success, beside the site's ordinary search, and times.

    python tests/benchmarks/lookup.py [--quick]

Success is measured on tests/lookup/tuning_queries.tsv and golden_queries.tsv, clean and with typing errors. Times are
taken in headless Chromium with the processor slowed to a quarter: from a keystroke until the results are laid out, and
from opening the single file until the box takes words and until results can be shown.
"""

from __future__ import annotations

import argparse
import shutil
import statistics
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT / "generator"), str(ROOT / "tests" / "lookup"), str(ROOT / "tests" / "benchmarks")]

from look_ups import Success, measure, read_look_ups  # noqa: E402
from lookup_site import Server, build_lookup_site  # noqa: E402
from misspell import misspell  # noqa: E402
from synthetic import large_catalogue  # noqa: E402

from chockbook.checks import assemble_folder  # noqa: E402
from chockbook.lookup import Finder, build_index, write_roadside  # noqa: E402
from chockbook.lookup.script import as_script_text  # noqa: E402

CHROMIUM_FLAGS = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
SLOWED = 4
LARGE = 10_000
SEEDS = (1, 2, 3)
TYPE_EVERY_LETTER = """(looked) => {
    const box = document.getElementById("lookup-words");
    const times = [];
    for (const words of looked) {
        for (let length = 1; length <= words.length; length += 1) {
            box.value = words.slice(0, length);
            const start = performance.now();
            box.dispatchEvent(new Event("input"));
            document.body.offsetHeight;
            times.push(performance.now() - start);
        }
    }
    return times;
}"""
FOUND_BY_ORDINARY_SEARCH = (
    """[...document.querySelectorAll(".md-search-result__link")].map((link) => link.href)"""
)


def line(name: str, success: Success) -> str:
    return f"  {name:<36} {success.n:>4}   {success.at_1:.3f}   {success.at_3:.3f}   {success.mrr:.3f}"


def print_success(catalogue, finder, ordinary) -> None:
    tuning = read_look_ups("tuning_queries.tsv")
    golden = [one for one in read_look_ups("golden_queries.tsv") if one.in_scope]
    outside = [one for one in read_look_ups("golden_queries.tsv") if not one.in_scope]
    held_out = [one for one in golden if one.held_out]
    lookup = lambda words: [entry for entry, _ in finder.find(words, 10)]  # noqa: E731
    print(f"  {'':<36} {'n':>4}   at 1    at 3    MRR")
    for name, look_ups in (
        ("tuning list", tuning),
        ("golden, tuned on", [g for g in golden if not g.held_out]),
        ("golden, held out", held_out),
    ):
        print(line(f"lookup, {name}", measure(catalogue, look_ups, lookup)))
        for seed in SEEDS:
            typed = lambda words, seed=seed: lookup(misspell(words, seed))  # noqa: E731
            print(line(f"lookup, {name}, misspelt {seed}", measure(catalogue, look_ups, typed)))
    if ordinary:
        print(line("ordinary search, tuning list", measure(catalogue, tuning, ordinary)))
        typed = lambda words: ordinary(misspell(words, 1))  # noqa: E731
        print(line("ordinary search, misspelt 1", measure(catalogue, tuning, typed)))
    false_hits = [one.words for one in outside if finder.find(one.words, 1)]
    print(f"  out of scope: {len(outside)} look-ups, {len(false_hits)} with a false hit {false_hits or ''}")


class OrdinarySearch:
    """The theme's full-text search of the built site, asked as a reader asks it."""

    def __init__(self, page, address: str, catalogue) -> None:
        self.page = page
        self.of_component: dict[str, list[str]] = {}
        for entry in catalogue.entries:
            self.of_component.setdefault(entry.component.id, []).append(entry.id)
        page.goto(address + "standing.html")
        page.click(".md-search__input")
        page.wait_for_timeout(1500)

    def __call__(self, words: str) -> list[str | None]:
        # The theme searches when a key comes up, so a key is pressed after each change.
        for text in ("", words):
            self.page.fill(".md-search__input", text)
            self.page.keyboard.press("End")
            self.page.wait_for_timeout(80)
        last, same = None, 0
        for _ in range(60):
            self.page.wait_for_timeout(50)
            now = self.page.evaluate(FOUND_BY_ORDINARY_SEARCH)
            same = same + 1 if now == last else 0
            last = now
            if same >= 5:
                break
        return [self.entry_at(link) for link in last or []]

    def entry_at(self, link: str) -> str | None:
        """The entry that a found address shows. A whole component's page counts as its first entry, and
        a page that shows no single entry takes a place and answers nothing."""
        place, _, slug = link.partition("#")
        name = place.partition("?")[0].rsplit("/", 1)[-1].removesuffix(".html")
        ids = self.of_component.get(name, []) if "/components/" in place else []
        return next((one for one in ids if one == f"{name}.{slug}"), ids[0] if ids else None)


def print_times(browser, path: Path, look_ups: list[str], name: str, aim: float) -> None:
    page = browser.new_page(viewport={"width": 360, "height": 640})
    page.context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": SLOWED})
    page.goto(path.as_uri())
    page.wait_for_selector("#lookup[data-finder]", timeout=60_000)
    ready, finder = (
        page.evaluate(f"performance.getEntriesByName('{mark}')[0].startTime")
        for mark in ("lookup-ready", "lookup-finder")
    )
    times = sorted(page.evaluate(TYPE_EVERY_LETTER, look_ups))
    page.close()
    p95 = times[int(len(times) * 0.95)]
    print(
        f"  {name}: box ready after {ready:.0f} ms, results possible after {finder:.0f} ms; keystrokes "
        f"{len(times)}: median {statistics.median(times):.1f} ms, p95 {p95:.1f} ms (aim {aim:g}), "
        f"longest {times[-1]:.1f} ms"
    )


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--quick", action="store_true", help="without the site's ordinary search")
    options = parser.parse_args()
    catalogue = assemble_folder(ROOT / "source_tables").catalogue
    if catalogue is None:
        raise SystemExit("the tables have faults; run chockbook check")
    from playwright.sync_api import sync_playwright

    started = time.perf_counter()
    index = build_index(catalogue, "on-s1", "en")
    print(
        f"index: {len(index.entries)} entries, {len(index.roots)} words, "
        f"{len(as_script_text(index.plain()).encode()):,} bytes, "
        f"made in {time.perf_counter() - started:.2f} s"
    )
    finder = Finder(index)
    found = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=found, args=CHROMIUM_FLAGS)
        print("success")
        if options.quick:
            print_success(catalogue, finder, None)
        else:
            site = build_lookup_site(catalogue, Path(folder))
            server = Server(site.site_dir).start()
            page = browser.new_context(service_workers="block").new_page()
            ordinary = OrdinarySearch(page, server.address, catalogue)
            print_success(catalogue, finder, ordinary)
            server.stop()
        print(f"times, processor slowed {SLOWED} times")
        shipped = write_roadside(catalogue, "on-s1", "en", Path(folder) / "roadside.html")
        print(f"  roadside.html: {shipped.stat().st_size:,} bytes (aim below 250,000)")
        typed = [one.words for one in read_look_ups("tuning_queries.tsv")]
        print_times(browser, shipped, typed, "shipped", 16)
        started = time.perf_counter()
        large = write_roadside(large_catalogue(catalogue, LARGE), "on-s1", "en", Path(folder) / "large.html")
        print(
            f"  large file of {LARGE:,} entries: {large.stat().st_size:,} bytes, made in "
            f"{time.perf_counter() - started:.1f} s"
        )
        print_times(browser, large, typed[:30], f"{LARGE:,} entries", 50)
        browser.close()


if __name__ == "__main__":
    main()
