"""`chockbook compare`: what changed between two editions, and which prints went stale by it."""

from __future__ import annotations

import argparse
import csv
import json
import tempfile
from collections import Counter
from collections.abc import Iterator
from dataclasses import asdict
from pathlib import Path

from ..catalogue.carrier import CarrierRecord
from ..faults import printable
from .asked import (
    FAULTS,
    MISUSE,
    MOST_SHOWN,
    WELL,
    NotProved,
    book_of,
    book_options,
    catalogue_of,
    complain,
    project_of,
    told,
)


def add(commands: argparse._SubParsersAction) -> None:
    """Say what the command takes."""
    command = commands.add_parser("compare", help="what changed between two editions, and which prints went stale")
    command.add_argument("old", metavar="OLD", help="a catalogue.json, an output folder, a project, the code of a kept "
                                                    "edition, or a git revision")  # fmt: skip
    command.add_argument("new", metavar="NEW", nargs="?", help="the same (default: the tables of the project)")
    command.add_argument("--json", action="store_true", help="print the changes as JSON")
    command.add_argument("--register", type=Path, metavar="FILE",
                         help="register of prints (default: dist-carriers/register.csv, where there is one)")  # fmt: skip
    command.add_argument("--carrier", metavar="ID",
                         help="name the prints of this carrier only; its bulletin says which to hand in")  # fmt: skip
    command.add_argument("--bulletin", type=Path, metavar="PDF", help="write a one-page bulletin for drivers")
    command.add_argument("--changelog", type=Path, metavar="FILE", help="write or refresh the changes in CHANGELOG.md")
    book_options(command)
    command.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    from ..editions import catalogue_as_data, compare, judge_prints
    from ..output import put_whole
    from ..printing import SettingFailed
    from ..sides import NoEdition, edition_named
    from ..views.changelog import ChangelogWritten, refresh
    from ..views.changes import difference_lines, view_difference
    from ..views.own_changes import view_own_changes

    project, catalogue = project_of(options), catalogue_of(options)
    carriers = _carriers_of(project, catalogue)
    carrier = carriers.get(options.carrier) if options.carrier else None
    if options.carrier and carrier is None:
        return complain(f"there is no carrier {options.carrier!r} without faults; there are: {', '.join(carriers)}", MISUSE)
    if carrier is not None:
        options.language = options.language or carrier.languages[0]
    rulebook, language = book_of(options, catalogue)
    rulebooks = carrier.rulebooks if carrier is not None and not options.rulebook else [rulebook]
    try:
        old = edition_named(options.old, project)
        new = edition_named(options.new, project) if options.new else catalogue_as_data(catalogue)
    except NoEdition as error:
        return complain(str(error), FAULTS)
    difference = compare(old, new)
    known = {one["edition"]["code"]: compare(one, new) for one in catalogue.former}
    known[difference.old["code"]] = difference
    register = options.register or project.root / "dist-carriers" / "register.csv"
    try:
        rows = _rows(register) if options.register or register.is_file() else []
    except (OSError, ValueError, csv.Error) as error:
        return complain(f"{register} is not a register that can be read ({type(error).__name__})", MISUSE)
    if carrier is not None:
        rows = [row for row in rows if row.get("carrier") == carrier.id]
    prints = judge_prints(rows, known, difference.new["code"], carriers, catalogue.publisher.base_address)
    if options.json:
        data = {"old": difference.old, "new": difference.new, "not_compared": list(difference.unknown),
                "changes": [change.as_data() for change in difference.changes],
                "prints": [{**one.row, "replaced": one.is_replaced, "state": one.state,
                            "changed": sorted({change.id for change in one.changes}),
                            "own_changes": [asdict(change) for change in one.own], "unjudged": one.unjudged,
                            "new_print_code": one.new_code} for one in prints]}  # fmt: skip
        print(json.dumps(data, ensure_ascii=False, indent=1))
    else:
        view = view_difference(catalogue, difference, options.rulebook, language)
        names = _names(carriers)
        own = [f"{one.carrier}: {one.said(catalogue, language)}{f': {one.before} → {one.after}' if one.before != one.after else ''}"
               for one in view_own_changes(catalogue, prints, names, language)]  # fmt: skip
        for line in (*difference_lines(catalogue, view, language, own), *_print_lines(catalogue, prints, names, language)):
            print(printable(line))
    try:
        if options.bulletin:
            _write_bulletin(catalogue, difference, rulebooks, language, options.bulletin,
                            None if carrier is None else (carrier, prints))  # fmt: skip
        if options.changelog:
            put_whole(options.changelog, refresh(options.changelog, catalogue, difference).encode())
    except (ChangelogWritten, SettingFailed, NotProved) as error:
        return complain(str(error), FAULTS)
    except OSError as error:
        return complain(f"{told(error)}; the former one stays", FAULTS)
    except UnicodeError as error:
        return complain(f"{options.changelog} is not text in UTF-8: {error.reason}", FAULTS)
    return WELL


def _write_bulletin(catalogue, difference, rulebooks, language: str, place: Path, owner) -> None:
    """Put a bulletin in its place once it has been read back.

    Raises:
        NotProved: it does not say what changed; the former one stays.
        SettingFailed: the compiler objects.
        OSError: it cannot be written.
    """
    from ..output import put_whole
    from ..printing import render_bulletin
    from ..proof.read_pdf import read_pdf
    from ..proof.recite_bulletin import prove_bulletin

    with tempfile.TemporaryDirectory(prefix="chockbook-bulletin-") as beside:
        made = render_bulletin(catalogue, difference, rulebooks, language, Path(beside) / place.name, owner).path
        found = list(prove_bulletin(catalogue, difference, rulebooks, language, read_pdf(made), place.name, owner))
        if found:
            raise NotProved("; ".join(map(str, found[:MOST_SHOWN])))
        put_whole(place, made.read_bytes())


def _rows(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file, strict=True))
    if rows and not {"path", "document", "rulebook", "language", "edition"} <= set(rows[0]):
        raise ValueError("columns")
    return rows


def _carriers_of(project, catalogue) -> dict[str, CarrierRecord]:
    """The project's carriers without faults, by id."""
    from ..checks.carriers import assemble_carriers

    return {one.id: one for one in assemble_carriers(project.tables / "carriers", catalogue).carriers}


def _names(carriers: dict[str, CarrierRecord]) -> dict[tuple[str, str], str]:
    """What is painted on the units, by carrier and unit."""
    return {(carrier.id, unit.id): unit.name for carrier in carriers.values() for unit in carrier.units}


def _print_lines(catalogue, prints, names, language: str) -> Iterator[str]:
    """How many prints are on each pile, and of those to pull from which units they are.

    What still says the same is counted only: it needs nobody, and would push what does off the screen.
    """
    from ..views.prints_to_pull import view_pulls
    from ..views.wording import fixed_word, joined

    def word(key: str) -> str:
        return fixed_word(catalogue, key, language)

    without_file = dict.fromkeys(one.row.get("carrier", "") for one in prints if "no-carrier" in one.unjudged)
    if without_file:
        yield ""
        yield joined(catalogue, word("prints-no-carriers"), ", ".join(without_file), language)
    counted = Counter(one.pile for one in prints)
    for pile in ("stale", "pull", "unknown", "same", "current"):
        if counted[pile]:
            yield ""
            yield joined(catalogue, word(f"prints-{pile}"), counted[pile], language)
        if pile in ("same", "current"):
            continue
        for pull in view_pulls(prints, (pile,), names):
            yield f"  {pull.carrier}{': ' if pull.units else ''}{', '.join(pull.units)}"
            for one in pull.prints:
                why = f": {', '.join(map(word, one.reasons))}" if one.reasons else ""
                yield f"    {one.document}, {one.rulebook}, {'/'.join(one.languages)}; {' '.join([one.edition, one.code]).strip()}{why}"
