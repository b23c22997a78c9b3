"""The command `chockbook`: reads arguments, prints, and gives the exit code. It decides nothing else.

Each command has a module of its own. Exit codes: 0 all is well, 1 there are faults (in tables, outputs or
input), 2 the command was used wrongly.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path

from .. import __version__
from . import (
    build,
    cards,
    check,
    compare,
    decide,
    drill,
    find,
    keep,
    measure,
    new,
    prove,
    results,
    schema,
    serve,
    sources,
    walk,
)
from .asked import FAULTS, WELL, complain, day, told

# In the order in which the help lists them.
COMMANDS = (
    check,
    build,
    prove,
    serve,
    new,
    find,
    decide,
    cards,
    compare,
    keep,
    measure,
    drill,
    results,
    walk,
    sources,
    schema,
)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors="backslashreplace")
    options = _parser().parse_args(arguments)
    try:
        return options.run(options)
    except KeyboardInterrupt:
        print("stopped; nothing was replaced", file=sys.stderr)
        return 130
    except BrokenPipeError:
        sys.stderr.close()
        return WELL
    except OSError as error:  # such as a disk on which what is printed cannot be kept
        return complain(f"stopped: {told(error)}", FAULTS)


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="chockbook",
        description="One catalogue of vehicle defects in; web reference, manual, cards and checklist out.",
        epilog="A study and reference aid, not the law: the law in force decides.",
    )
    parser.add_argument("--version", action="version", version=f"chockbook {__version__}")
    parser.add_argument("--project", type=Path, default=Path("."), metavar="DIR",
                        help="folder with source_tables (default: here or the nearest above)")  # fmt: skip
    parser.add_argument("--today", type=day, metavar="DAY",
                        help="day by which review dates are judged (default: CHOCKBOOK_TODAY, or the machine's day)")  # fmt: skip
    commands = parser.add_subparsers(title="commands", metavar="COMMAND", required=True)

    for command in COMMANDS:
        command.add(commands)
    return parser
