"""`chockbook serve`: show the site and build it again on every change."""

from __future__ import annotations

import argparse

from .asked import project_of


def add(commands: argparse._SubParsersAction) -> None:
    """Say what the command takes."""
    command = commands.add_parser("serve", help="show the site and build it again on every change")
    command.add_argument("--port", type=int, default=8000, help="port on this machine (default: 8000)")
    command.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    from ..serve import serve

    return serve(project_of(options), options.port, say=print)
