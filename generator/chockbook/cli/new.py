"""`chockbook new`: a starter project that builds as it stands."""

from __future__ import annotations

import argparse
from pathlib import Path

from .asked import FAULTS, WELL, complain, told


def add(commands: argparse._SubParsersAction) -> None:
    """Say what the command takes."""
    command = commands.add_parser("new", help="make a starter project that builds as it stands")
    command.add_argument("folder", type=Path, metavar="DIR", help="a folder that does not exist or is empty")
    command.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    from ..starter import FolderInUse, make_starter

    try:
        made = make_starter(options.folder)
    except FolderInUse as error:
        return complain(str(error), FAULTS)
    except OSError as error:
        return complain(f"{told(error)}; nothing was made", FAULTS)
    name = f'"{made}"' if " " in str(made) else made
    print(f"a starter project stands in {made}; build it with: chockbook --project {name} build")
    return WELL
