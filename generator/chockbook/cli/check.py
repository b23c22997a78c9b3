"""`chockbook check`: every fault of the tables, and what the catalogue holds."""

from __future__ import annotations

import argparse
import json

from .asked import FAULTS, WELL, project_of
from .counts import counts


def add(commands: argparse._SubParsersAction) -> None:
    """Say what the command takes."""
    command = commands.add_parser("check", help="check all tables and print every fault")
    command.add_argument("--json", action="store_true", help="print the faults as JSON")
    command.add_argument("--all", action="store_true", help="print every warning whole, however many of one kind")
    command.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    from ..checks.carriers import assemble_carriers
    from ..faults import errors, errors_last, in_order, shown, summary

    project = project_of(options)
    assembly = project.assemble()
    carriers = project.tables / "carriers"
    faults = assembly.faults
    if assembly.catalogue is not None:
        faults = in_order([*faults, *assemble_carriers(carriers, assembly.catalogue).faults])
    if options.json:
        print(json.dumps([_as_data(fault) for fault in faults], ensure_ascii=False, indent=1))
    else:
        for line in map(str, errors_last(faults)) if options.all else shown(faults):
            print(line)
        if assembly.catalogue is not None:
            print(counts(assembly.catalogue))
        elif any(carriers.glob("*.yaml")):
            print("the carriers were not checked: that takes tables without faults")
        print(summary(faults))
    return FAULTS if errors(faults) else WELL


def _as_data(fault) -> dict[str, object]:
    return {"file": fault.place.file, "line": fault.place.line, "column": fault.place.column, "level": fault.level,
            "rule": fault.rule, "what": fault.what, "why": fault.why, "mend": fault.mend}  # fmt: skip
