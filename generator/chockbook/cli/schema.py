"""`chockbook schema`: JSON Schemas of the tables and of carriers' files for editors."""

from __future__ import annotations

import argparse
from pathlib import Path

from .asked import FAULTS, WELL, complain, told


def add(commands: argparse._SubParsersAction) -> None:
    """Say what the command takes."""
    command = commands.add_parser("schema", help="write JSON Schemas of the tables and of carriers' files for editors")
    command.add_argument("folder", type=Path, nargs="?", metavar="DIR", help="folder to write (default: schemas)")
    command.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    from ..exports import write_editor_schemas

    folder = options.folder or Path("schemas")
    try:
        write_editor_schemas(folder)
    except OSError as error:
        return complain(f"{folder} cannot be written: {told(error)}", FAULTS)
    print(f"schemas of the tables and of carriers' files stand in {folder}")
    return WELL
