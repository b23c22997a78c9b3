"""`chockbook prove`: open the outputs again and compare them with the catalogue."""

from __future__ import annotations

import argparse
from pathlib import Path

from ..faults import printable
from .asked import FAULTS, MISUSE, WELL, complain, project_of


def add(commands: argparse._SubParsersAction) -> None:
    """Say what the command takes."""
    command = commands.add_parser("prove", help="open the outputs again and compare them with the catalogue")
    command.add_argument("output", type=Path, nargs="?", metavar="DIR", help="folder to prove (default: dist)")
    command.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    from ..faults import shown, summary
    from ..proof import prove
    from ..workers import WorkersLost

    project = project_of(options)
    assembly = project.assemble()
    if assembly.catalogue is None:
        for line in shown(assembly.faults):
            print(line)
        print(summary(assembly.faults))
        return FAULTS
    output = options.output or project.output
    if not output.is_dir():
        return complain(f"there is no folder {output}; build it first", MISUSE)
    try:
        result = prove(assembly.catalogue, output)
    except WorkersLost as error:
        return complain(str(error), FAULTS)
    for objection in result.objections:
        print(printable(str(objection)))
    print(result.summary())
    return FAULTS if result.objections else WELL
