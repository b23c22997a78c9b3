"""Mutation test of the proof: thousands of single changes to a finished build, and how many the proof objects to.

    python tests/mutation/run.py DIST [--number 5000] [--seed 1] [--only pages,data,prints] [--results FILE]
    python tests/mutation/run.py --table FILE ...

DIST is a build of the project's tables that the proof has passed. Every change is made to one file alone and judged by
the proof of that file's content alone: neither the hashes of the service worker nor those of manifest.json help.
"""

from __future__ import annotations

import argparse
import os
import random
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

HERE = Path(__file__).parent
sys.path[:0] = [str(HERE), str(HERE.parents[1] / "generator")]

import changes_of_data  # noqa: E402
import changes_of_pages  # noqa: E402
import changes_of_prints  # noqa: E402
from changes_of_pages import NoPlace  # noqa: E402
from judging import Book, data_objected  # noqa: E402

from chockbook.catalogue import Catalogue  # noqa: E402
from chockbook.catalogue.locator import locator_in  # noqa: E402
from chockbook.catalogue.wording import in_language  # noqa: E402
from chockbook.proof.prove import books  # noqa: E402
from chockbook.proof.read_pdf import read_pdf  # noqa: E402

PRINTS = ("manual.pdf", "cards.pdf", "checklist.pdf", "checklist-all.pdf", "report.pdf", "walk.pdf", "score.pdf", "pairs.pdf", "border")
SHARES = {"pages": 80, "data": 8, "prints": 12}
"""Hundredths of the changes that fall to each family of outputs."""
PARTLY: set[str] = set()
"""Outputs that the proof compares in part only; none now. A new kind of output may begin here."""
PAGES_OF_A_FOLDER = 12
"""How many pages of a folder are changed, spread over it."""
TRIES = 40
"""Places tried for a kind of change before another output is taken."""


@dataclass(frozen=True)
class Change:
    """One change: to which output, of which kind, where, and whether the proof objected."""

    output: str
    kind: str
    where: str
    caught: bool


def words_of(book: Book) -> dict[str, list[str]]:
    """What changes put in the place of something else."""
    catalogue, language = book.catalogue, book.language
    rulebook = catalogue.rulebook[book.rulebook_id]
    severities = [in_language(text, language) for one in rulebook.severities for text in (one.name, one.outcome)]
    items = [i for schedule in rulebook.schedules for part in schedule.parts for i in part.items]
    checks = [in_language(entry.check, language) for entry in catalogue.entries[::7]]
    return {
        "severity": sorted(set(severities)),
        "action": sorted({in_language(one.text, language) for one in rulebook.actions}),
        "locator": sorted({locator_in(catalogue, one.locator, language) for one in items}),
        "sentence": ["It is safe to drive.", "Go on.", "This is confirmed.", *checks],
        "any": sorted({word for text in checks for word in text.split()}),
    }


class Run:
    """Changes one after the other, each from a seed of its own."""

    def __init__(self, catalogue: Catalogue, output: Path, only: set[str], prints: tuple[str, ...] = PRINTS) -> None:
        self.catalogue, self.output, self.only, self.print_names = catalogue, output, only, prints
        self.books = [Book(catalogue, output, book) for book in books(catalogue)]
        self.words = {id(book): words_of(book) for book in self.books}
        self.opened: dict[Path, changes_of_prints.Print] = {}

    def changes(self, number: int, seed: int) -> Iterator[Change]:
        """As many changes as wanted, the same for the same seed."""
        families = [family for family in SHARES if family in self.only]
        for at in range(number):
            rng = random.Random(f"{seed} {at}")
            family = rng.choices(families, [SHARES[one] for one in families])[0]
            for _ in range(TRIES):
                try:
                    yield getattr(self, family)(rng)
                    break
                except NoPlace:
                    continue

    def pages(self, rng: random.Random) -> Change:
        book = rng.choice(self.books)
        folders: dict[str, list[str]] = {}
        for page in [*book.pages, "roadside.html"]:
            folders.setdefault(page.partition("/")[0], []).append(page)
        # Pages of components are many and alike: they get a third, the others the rest. Of a folder some pages only
        # are taken, each many times: what the proof expects of a page is then worked out once.
        folder = "components" if rng.random() < 1 / 3 else rng.choice(sorted(folders))
        some = folders[folder][:: max(len(folders[folder]) // PAGES_OF_A_FOLDER, 1)]
        page, kind = rng.choice(some), rng.choice(sorted(changes_of_pages.KINDS))
        name = "page: " + folder.removesuffix(".html")
        if page == "roadside.html":
            source = changes_of_pages.change_page(book.roadside.read_bytes(), kind, self.words[id(book)], rng)
            with tempfile.TemporaryDirectory() as folder_of_change:
                (Path(folder_of_change) / page).write_bytes(source)
                caught = book.file(page, Path(folder_of_change))
        else:
            source = changes_of_pages.change_page((book.site / page).read_bytes(), kind, self.words[id(book)], rng)
            caught = book.page(page, source)
        return Change(name, kind, f"{book.folder or 'first'} {page}", caught)

    def data(self, rng: random.Random) -> Change:
        kind = rng.choice(sorted(changes_of_data.KINDS))
        name = rng.choice(["catalogue.json", "catalogue.csv", "schemas", "sw.js",
                           *["lookup-data.js", "bank.js", "search_index.json"] * 2])  # fmt: skip
        with tempfile.TemporaryDirectory() as made:
            folder = Path(made)
            if name in ("catalogue.json", "catalogue.csv", "schemas"):
                return Change(name, kind, name, self._whole(name, kind, rng, folder))
            book = rng.choice(self.books)
            inner = {"lookup-data.js": "assets/lookup/lookup-data.js", "bank.js": "assets/practice/bank.js",
                     "search_index.json": "search/search_index.json", "sw.js": "sw.js"}[name]  # fmt: skip
            text = (book.site / inner).read_text(encoding="utf-8")
            if name == "sw.js":
                head, second, rest = text.split("\n", 2)
                changed = "\n".join([head, changes_of_data.change_json(second, kind, rng), rest])
                for path in book.site.iterdir():
                    if path.name not in ("sw.js", *(below.rstrip("/") for below in book.below)):
                        (folder / path.name).symlink_to(path)
            elif name == "search_index.json":
                begin = text.index('"docs"')
                changed = text[:begin] + '"docs":' + changes_of_data.change_json('{"x":' + text[begin + 7 :], kind, rng)[5:]
                raise_if_same(changed, text)
            else:
                changed = changes_of_data.change_json(text, kind, rng)
            (folder / inner).parent.mkdir(parents=True, exist_ok=True)
            (folder / inner).write_text(changed, encoding="utf-8")
            if name == "bank.js":
                raise_if_same(changes_of_data.without_order_of_choices(changed), changes_of_data.without_order_of_choices(text))
                (folder / "practice.html").symlink_to(book.site / "practice.html")
            return Change(name, kind, f"{book.folder or 'first'} {name}", book.file(name, folder))

    def _whole(self, name: str, kind: str, rng: random.Random, folder: Path) -> bool:
        source = self.output / "data" / name
        if name == "schemas":
            changed = rng.choice(sorted(source.iterdir()))
            for path in source.iterdir():
                (folder / path.name).symlink_to(path)
            (folder / changed.name).unlink()
            (folder / changed.name).write_text(changes_of_data.change_json(changed.read_text("utf-8"), kind, rng), "utf-8")
        elif name == "catalogue.csv":
            text = source.read_bytes().decode("utf-8-sig")
            (folder / name).write_bytes(changes_of_data.change_csv(text, kind, rng).encode("utf-8-sig"))
        else:
            (folder / name).write_text(changes_of_data.change_json(source.read_text("utf-8"), kind, rng), "utf-8")
        return data_objected(self.catalogue, name, folder)

    def prints(self, rng: random.Random) -> Change:
        book = rng.choice(self.books)
        name = rng.choice(self.print_names)
        if name == "border":
            sheets = sorted(path.name for path in book.prints.glob("border-*.pdf"))
            if not sheets:
                raise NoPlace
            name = rng.choice(sheets)
        path = book.prints / name
        if not path.exists():  # a rulebook of one severity has no pairs
            raise NoPlace
        document = self.opened.setdefault(path, changes_of_prints.Print(path))
        kind = rng.choice([*changes_of_prints.KINDS, rng.choice(changes_of_prints.OF_PAGES)])
        with tempfile.TemporaryDirectory() as made:
            out = Path(made) / name
            if kind in changes_of_prints.OF_PAGES:
                changes_of_prints.change_pages(document, kind, out, rng)
                caught, where = book.print(name, read_pdf(out)), kind
            else:
                number, note = changes_of_prints.change_one_page(document, kind, out, rng)
                caught, where = book.print(name, book.with_page(path, number, out)), f"page {number + 1} {note}"
        shown = "border sheets" if name.startswith("border") else name
        return Change(f"print: {shown}", kind, f"{book.folder or 'first'} {name} {where}", caught)


def raise_if_same(changed: str, text: str) -> None:
    """Take another place where nothing changed."""
    if changed == text:
        raise NoPlace


def table(changes: list[Change]) -> Iterator[str]:
    """Rates by output and by kind, and of all."""
    for title, key in (("output", lambda c: c.output), ("kind", lambda c: f"{c.output.split(':')[0]}: {c.kind}")):
        total, caught = Counter(map(key, changes)), Counter(key(c) for c in changes if c.caught)
        yield f"{'by ' + title:<36}{'changes':>9}{'caught':>9}{'rate':>9}"
        for name in sorted(total):
            yield f"{name:<36}{total[name]:>9}{caught[name]:>9}{caught[name] / total[name]:>9.1%}"
        yield ""
    whole = [change for change in changes if change.output not in PARTLY]
    good = sum(change.caught for change in whole)
    yield f"{'outputs compared word for word':<36}{len(whole):>9}{good:>9}{good / max(len(whole), 1):>9.2%}"
    good = sum(change.caught for change in changes)
    yield f"{'all':<36}{len(changes):>9}{good:>9}{good / max(len(changes), 1):>9.2%}"


def main() -> int:
    """Run, print the table, and give 1 where something was missed."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("output", type=Path, nargs="?")
    parser.add_argument("--table", type=Path, nargs="+", help="files of results, of which one table is printed")
    parser.add_argument("--number", type=int, default=5000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--only", default="pages,data,prints")
    parser.add_argument("--results", type=Path, help="file for a line on each change, written as it is judged")
    options = parser.parse_args()
    if options.table:
        lines = [line.split("\t") for file in options.table for line in file.read_text("utf-8").splitlines()]
        print("\n".join(table([Change(*line[:3], line[3] == "caught") for line in lines])))
        return 0
    from chockbook.project import Project

    catalogue = Project(HERE.parents[1]).assemble().catalogue
    started = time.perf_counter()
    changes: list[Change] = []
    with (options.results or Path(os.devnull)).open("w", encoding="utf-8") as results:
        for one in Run(catalogue, options.output, set(options.only.split(","))).changes(options.number, options.seed):
            changes.append(one)
            told = [one.output, one.kind, " ".join(one.where.split()), "caught" if one.caught else "missed"]
            print("\t".join(told), file=results, flush=True)
    print("\n".join(table(changes)))
    print(f"seed {options.seed}, {time.perf_counter() - started:.0f} s")
    return 0 if all(change.caught for change in changes) else 1


if __name__ == "__main__":
    raise SystemExit(main())
