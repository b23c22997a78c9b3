"""`chockbook build`: check, write every output, prove it, put it in place."""

from __future__ import annotations

import argparse
from pathlib import Path

from ..faults import printable
from .asked import FAULTS, WELL, complain, project_of, told
from .counts import counts


def add(commands: argparse._SubParsersAction) -> None:
    """Say what the command takes."""
    command = commands.add_parser("build", help="check, write every output, prove it, and put it in place")
    command.add_argument("--output", type=Path, metavar="DIR", help="folder to write (default: dist)")
    command.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    from .. import build as building
    from ..faults import shown, summary
    from ..output import OutputBusy, OutputForeign
    from ..pages import SiteFault
    from ..printing import CardOverflow, SettingFailed
    from ..workers import WorkersLost

    project = project_of(options)
    try:
        built = building.build(project, options.output, say=print)
    except building.FaultyTables as error:
        for line in shown(error.faults):
            print(line)
        print(summary(error.faults))
        return FAULTS
    except building.ProofFailed as error:
        for objection in error.proof.objections:
            print(printable(str(objection)))
        print(f"{len(error.proof.objections)} objections; nothing was replaced")
        return FAULTS
    except (OutputBusy, OutputForeign, SiteFault, CardOverflow, SettingFailed, WorkersLost) as error:
        return complain(f"{error}; nothing was replaced", FAULTS)
    except OSError as error:
        return complain(f"{told(error)}; nothing was replaced", FAULTS)
    for line in shown(built.warnings):
        print(line)
    print(counts(built.catalogue))
    print(built.proof.summary())
    total = sum(built.seconds.values())
    print(f"{built.files} files in {built.output}, {total:.1f} s")
    return WELL
