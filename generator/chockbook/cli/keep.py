"""`chockbook keep`: keep an edition, so that holders of its cards can be told what changed since."""

from __future__ import annotations

import argparse

from .asked import FAULTS, WELL, catalogue_of, complain, project_of, told


def add(commands: argparse._SubParsersAction) -> None:
    """Say what the command takes."""
    command = commands.add_parser("keep", help="keep an edition in source_tables/editions for holders of its cards")
    command.add_argument("edition", nargs="?", metavar="EDITION",
                         help="a catalogue.json, an output folder, a project, the code of a kept edition or a git revision "
                         "(default: the tables)")  # fmt: skip
    command.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    from ..editions import catalogue_as_data
    from ..sides import NoEdition, edition_named, keep

    project = project_of(options)
    try:
        data = edition_named(options.edition, project) if options.edition else catalogue_as_data(catalogue_of(options))
        path, fresh = keep(data, project)
    except NoEdition as error:
        return complain(str(error), FAULTS)
    except OSError as error:
        return complain(f"the edition cannot be kept: {told(error)}", FAULTS)
    print(f"edition {data['edition']['code']} {'is now' if fresh else 'was already'} kept in {path}")
    return WELL
