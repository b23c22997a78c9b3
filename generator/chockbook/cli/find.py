"""`chockbook find`: look a defect up by plain words."""

from __future__ import annotations

import argparse
import json

from .asked import FAULTS, WELL, book_of, book_options, catalogue_of, count


def add(commands: argparse._SubParsersAction) -> None:
    """Say what the command takes."""
    command = commands.add_parser("find", help="look a defect up by plain words")
    command.add_argument("words", nargs="+", metavar="WORDS", help="what is wrong, such as: belt wont latch")
    command.add_argument("--limit", type=count, default=5, metavar="N", help="most results (default: 5)")
    command.add_argument("--json", action="store_true", help="print [{id, score}]")
    book_options(command)
    command.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    from ..lookup import look_up
    from ..views.terminal import beware_line, found_lines

    catalogue = catalogue_of(options)
    rulebook, language = book_of(options, catalogue)
    looked = look_up(catalogue, " ".join(options.words), rulebook, language)
    found = looked.found[: options.limit]
    if options.json:
        print(json.dumps([{"id": entry_id, "score": score} for entry_id, score in found], indent=1))
    beware = beware_line(catalogue, language, len(looked.found), looked.unlisted, looked.loose)
    if beware and not options.json:
        print(beware)
    for entry_id, _ in [] if options.json else found:
        print("\n".join(found_lines(catalogue, entry_id, rulebook, language)))
    if not found and not beware and not options.json:
        print("no match; try other words")
    return WELL if found else FAULTS
