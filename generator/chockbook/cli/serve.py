"""`chockbook serve`: show the site and build it again on every change."""

from __future__ import annotations

import argparse

from .asked import book_of, book_options, catalogue_of, project_of


def add(commands: argparse._SubParsersAction) -> None:
    """Say what the command takes."""
    command = commands.add_parser("serve", help="show one book's site and build it again on every change")
    command.add_argument("--port", type=int, default=8000, help="port on this machine (default: 8000)")
    book_options(command)
    command.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    from ..serve import serve

    rulebook, language = options.rulebook, options.language
    if rulebook or language:
        rulebook, language = book_of(options, catalogue_of(options))
    return serve(project_of(options), options.port, say=print, rulebook_id=rulebook, language=language)
