"""`chockbook cards`: decks, checklists and report forms for carriers and their units."""

from __future__ import annotations

import argparse
from pathlib import Path

from ..faults import printable
from .asked import FAULTS, MISUSE, WELL, catalogue_of, complain, project_of, told


def add(commands: argparse._SubParsersAction) -> None:
    """Say what the command takes."""
    command = commands.add_parser("cards", help="print decks, checklists and report forms for carriers and their units")
    command.add_argument("carriers", nargs="*", metavar="CARRIER", help="ids of carriers (default: all)")
    command.add_argument("--output", type=Path, metavar="DIR", help="folder to write (default: dist-carriers)")
    command.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    from ..checks.carriers import assemble_carriers
    from ..faults import errors
    from ..output import OutputBusy, filling
    from ..printing import cards_for_carriers
    from ..workers import WorkersLost

    project, catalogue = project_of(options), catalogue_of(options)
    assembly = assemble_carriers(project.tables / "carriers", catalogue)
    for fault in assembly.faults:
        print(fault)
    known = {carrier.id: carrier for carrier in assembly.carriers}
    unknown = [name for name in options.carriers if name not in known]
    if unknown:
        return complain(f"there is no carrier {unknown[0]!r} without faults; there are: {', '.join(known)}", MISUSE)
    wanted = [known[name] for name in options.carriers] or list(known.values())
    folder = options.output or project.root / "dist-carriers"
    try:
        with filling(folder):
            result = cards_for_carriers(catalogue, wanted, folder, progress=_progress)
    except (OutputBusy, WorkersLost) as error:
        return complain(str(error), FAULTS)
    except OSError as error:
        return complain(f"{folder} cannot be written: {told(error)}", FAULTS)
    for notice in result.notices:
        print(f"notice: {printable(notice)}")
    for name, why in result.failed:
        print(f"not printed: {name}: {printable(why)}")
    print(f"{len(result.made)} carriers printed, {len(result.kept)} unchanged, {result.documents} documents; "
          f"the register is {result.register}")  # fmt: skip
    return FAULTS if result.failed or errors(assembly.faults) else WELL


def _progress(done: int, count: int, carrier: str) -> None:
    print(f"{done} of {count}: {carrier}")
