"""`chockbook measure`: hold a measured value against a figure, or a whole set of brakes against their limits."""

from __future__ import annotations

import argparse

from .asked import FAULTS, MISUSE, WELL, book_of, book_options, catalogue_of, complain


def add(commands: argparse._SubParsersAction) -> None:
    """Say what the command takes."""
    command = commands.add_parser("measure", help="hold a measured value against a figure")
    command.add_argument("figure", nargs="?", metavar="FIGURE", help="id of the figure, such as pushrod-stroke")
    command.add_argument("value", nargs="?", metavar="VALUE", help='value and unit, such as "2 1/4 in" or "57 mm"')
    command.add_argument("conditions", nargs="*", metavar="NAME=VALUE", help="what it applies to, such as chamber=30")
    command.add_argument("--brakes", nargs="+", metavar="BRAKE", default=[],
                         help='judge a whole set: each brake as "chamber=30, stroke=standard: 2 1/4 in"')  # fmt: skip
    book_options(command)
    command.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    from ..views import measure_set, measure_terminal

    if bool(options.brakes) == bool(options.figure) or (options.figure and options.value is None):
        return complain("give a figure and a value, or --brakes with a text for each brake", MISUSE)
    catalogue = catalogue_of(options)
    rulebook, language = book_of(options, catalogue)
    pairs = [text.partition("=") for text in options.conditions]
    wrong = [name for name, equals, _ in pairs if not equals]
    if wrong:
        return complain(f"{wrong[0]!r} is not a condition; write name=value, such as chamber=30", MISUSE)
    try:
        if options.brakes:
            lines = measure_set.run_set(catalogue, rulebook, language, options.brakes)
        else:
            conditions = {name: value for name, _, value in pairs}
            lines = measure_terminal.run(catalogue, rulebook, language, options.figure, options.value, conditions)
    except measure_terminal.NotMeasured as error:
        return complain(str(error), FAULTS)
    print("\n".join(lines))
    return WELL
