"""`chockbook serve`: show the site and build it again on every change."""

from __future__ import annotations

import argparse

from .asked import book_of, book_options, catalogue_of, project_of


def add(commands: argparse._SubParsersAction) -> None:
    """Say what the command takes."""
    command = commands.add_parser("serve", help="show one book's site and build it again on every change")
    command.add_argument("--port", type=_port, default=8000, help="port on this machine (default: 8000)")
    book_options(command)
    command.set_defaults(run=run)


def _port(text: str) -> int:
    """A port of a machine, from 0 (any that is free) to 65535."""
    number = int(text)
    if not 0 <= number <= 65535:
        raise argparse.ArgumentTypeError("a port is a number from 0 to 65535")
    return number


def run(options: argparse.Namespace) -> int:
    from ..serve import serve

    rulebook, language = options.rulebook, options.language
    if rulebook or language:
        rulebook, language = book_of(options, catalogue_of(options))
    return serve(project_of(options), options.port, say=print, rulebook_id=rulebook, language=language)
