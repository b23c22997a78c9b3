"""`chockbook compare`: what changed between two editions, and which prints went stale by it."""

from __future__ import annotations

import argparse
import csv
import json
from collections import Counter
from collections.abc import Callable
from pathlib import Path

from ..faults import printable
from .asked import FAULTS, MISUSE, WELL, book_of, book_options, catalogue_of, complain, project_of, told


def add(commands: argparse._SubParsersAction) -> None:
    """Say what the command takes."""
    command = commands.add_parser("compare", help="what changed between two editions, and which prints went stale")
    command.add_argument("old", metavar="OLD", help="a catalogue.json, an output folder, a project, the code of a kept "
                                                    "edition, or a git revision")  # fmt: skip
    command.add_argument("new", metavar="NEW", nargs="?", help="the same (default: the tables of the project)")
    command.add_argument("--json", action="store_true", help="print the changes as JSON")
    command.add_argument("--register", type=Path, metavar="FILE",
                         help="register of prints (default: dist-carriers/register.csv, where there is one)")  # fmt: skip
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

    project, catalogue = project_of(options), catalogue_of(options)
    rulebook, language = book_of(options, catalogue)
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
    prints = judge_prints(rows, known, difference.new["code"], *_carriers(project, catalogue))
    if options.json:
        data = {"old": difference.old, "new": difference.new, "not_compared": list(difference.unknown),
                "changes": [change.as_data() for change in difference.changes],
                "prints": [{**one.row, "replaced": _replaced(one), "state": one.state,
                            "changed": sorted({change.id for change in one.changes}), "other_contacts": one.other_contacts} for one in prints]}  # fmt: skip
        print(json.dumps(data, ensure_ascii=False, indent=1))
    else:
        view = view_difference(catalogue, difference, options.rulebook, language)
        for line in (*difference_lines(catalogue, view, language), *_print_lines(catalogue, prints, language)):
            print(printable(line))
    try:
        if options.bulletin:
            from ..printing import render_bulletin

            render_bulletin(catalogue, difference, rulebook, language, options.bulletin)
        if options.changelog:
            put_whole(options.changelog, refresh(options.changelog, catalogue, difference).encode())
    except (ChangelogWritten, SettingFailed) as error:
        return complain(str(error), FAULTS)
    except OSError as error:
        return complain(f"{told(error)}; the former one stays", FAULTS)
    except UnicodeError as error:
        return complain(f"{options.changelog} is not text in UTF-8: {error.reason}", FAULTS)
    return WELL


def _rows(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file, strict=True))
    if rows and not {"path", "document", "rulebook", "language", "edition"} <= set(rows[0]):
        raise ValueError("columns")
    return rows


def _carriers(project, catalogue) -> tuple[dict, Callable]:
    """What the units of the project's carriers are made up of, and the codes of their contacts."""
    from ..checks.carriers import assemble_carriers

    carriers = {one.id: one for one in assemble_carriers(project.tables / "carriers", catalogue).carriers}
    units = {(carrier.id, unit.id): (tuple(unit.vehicles), tuple(unit.equipment))
             for carrier in carriers.values() for unit in carrier.units}  # fmt: skip
    return units, lambda carrier, languages: carriers[carrier].contacts_code(languages) if carrier in carriers else None


def _print_lines(catalogue, prints, language: str):
    """The prints by state; each stale one with why: how many changes it carries, or other contacts."""
    from ..views.wording import fixed_word

    counted = Counter(one.state for one in prints)
    for state in ("stale", "same", "unknown", "current"):
        if counted[state]:
            yield ""
            yield f"{fixed_word(catalogue, f'prints-{state}', language)}: {counted[state]}"
        for one in prints:
            if one.state == state and (state != "current" or _replaced(one)):
                count = fixed_word(catalogue, "changes-count", language).replace("{number}", str(len(one.changes)))
                why = [*([count] if one.changes else []),
                       *([fixed_word(catalogue, "prints-contacts", language)] if one.other_contacts else [])]  # fmt: skip
                more = f" ({'; '.join(why)})" if why else ""
                owner = " ".join(part for part in (one.row.get("carrier"), one.row.get("unit")) if part)
                gone = f" {one.row.get('edition')}: {fixed_word(catalogue, 'prints-replaced', language)}" if _replaced(one) else ""
                yield f"  {owner}: {one.row.get('path')}{more}{gone}"


def _replaced(one) -> bool:
    """Whether a print was replaced by another one, and nobody has said that it was pulled."""
    return one.row.get("state") == "replaced"
