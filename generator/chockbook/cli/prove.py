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
    from ..manifest import against_manifest
    from ..proof import prove

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
    result = prove(assembly.catalogue, output)
    unlike = tuple(against_manifest(assembly.catalogue, output))
    for objection in (*result.objections, *unlike):
        print(printable(str(objection)))
    print(result.summary())
    if unlike:
        print(f"not as it was signed off: {len(unlike)} objections")
    return FAULTS if result.objections or unlike else WELL
