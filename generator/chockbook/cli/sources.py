"""`chockbook sources`: how much of each source is covered, and what was left out."""

from __future__ import annotations

import argparse

from .asked import WELL, catalogue_of


def add(commands: argparse._SubParsersAction) -> None:
    """Say what the command takes."""
    command = commands.add_parser("sources", help="how much of each source is covered, and what was left out")
    command.add_argument("--basis", action="store_true", help="where rulings stand, by rulebook, system and severity")
    command.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    from ..views.coverage import coverage_lines

    catalogue = catalogue_of(options)
    if options.basis:
        from ..views.bases import basis_lines

        print("\n".join(basis_lines(catalogue, catalogue.languages[0].code)))
        return WELL
    print("\n".join(coverage_lines(catalogue, catalogue.languages[0].code)))
    return WELL
