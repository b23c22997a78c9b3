"""`chockbook prove`: open the outputs again and compare them with the catalogue."""

from __future__ import annotations

import argparse
from pathlib import Path

from ..catalogue import Catalogue
from ..faults import printable
from ..project import Project
from .asked import FAULTS, MISUSE, WELL, complain, project_of


def add(commands: argparse._SubParsersAction) -> None:
    """Say what the command takes."""
    command = commands.add_parser("prove", help="open the outputs again and compare them with the catalogue")
    command.add_argument("output", type=Path, nargs="?", metavar="DIR",
                         help="folder to prove, of a build or of prints for carriers (default: dist)")  # fmt: skip
    command.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    from ..faults import shown, summary
    from ..manifest import against_manifest
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
        if (output / "register.csv").is_file():
            return _prints(project, assembly.catalogue, output)
        result = prove(assembly.catalogue, output)
    except WorkersLost as error:
        return complain(str(error), FAULTS)
    unlike = tuple(against_manifest(assembly.catalogue, output))
    for objection in (*result.objections, *unlike):
        print(printable(str(objection)))
    print(result.summary())
    if unlike:
        print(f"not as it was signed off: {len(unlike)} objections")
    return FAULTS if result.objections or unlike else WELL


def _prints(project: Project, catalogue: Catalogue, folder: Path) -> int:
    """The folder of what was printed for carriers."""
    from ..checks.carriers import assemble_carriers
    from ..proof import prove_carriers

    site = project.output / "site"
    carriers = assemble_carriers(project.tables / "carriers", catalogue).carriers
    proof = prove_carriers(catalogue, carriers, folder, site if site.is_dir() else None)
    for objection in proof.objections:
        print(printable(str(objection)))
    print(proof.summary())
    return FAULTS if proof.objections else WELL
