"""What several commands ask of their options: the project, its catalogue, the book in force."""

from __future__ import annotations

import argparse
import os
import sys
from datetime import date

from ..catalogue import Catalogue
from ..faults import printable, shown, summary
from ..project import NoProject, Project, find_project

WELL, FAULTS, MISUSE = 0, 1, 2
MOST_SHOWN = 10
"""Objections of the proof that are printed; after the first of them the rest is seldom news."""


class NotProved(Exception):
    """The finished sheets and the catalogue do not say the same, so none was put in place."""


def book_options(command: argparse.ArgumentParser) -> None:
    """Let a command take --rulebook and --language."""
    command.add_argument("--rulebook", metavar="ID", help="rulebook in force (default: the first of the tables)")
    command.add_argument("--language", metavar="CODE", help="language (default: the first of the tables)")


def count(text: str) -> int:
    """A number of at least 1 from the command line."""
    number = int(text)
    if number < 1:
        raise argparse.ArgumentTypeError("at least 1")
    return number


def catalogue_of(options: argparse.Namespace) -> Catalogue:
    """The catalogue of the project; the faults are printed and the program ends where there are errors."""
    assembly = project_of(options).assemble()
    if assembly.catalogue is None:
        for line in shown(assembly.faults):
            print(line)
        print(summary(assembly.faults))
        raise SystemExit(FAULTS)
    return assembly.catalogue


def book_of(options: argparse.Namespace, catalogue: Catalogue) -> tuple[str, str]:
    """Rulebook and language that were asked for, or the first ones."""
    rulebooks = [rulebook.id for rulebook in catalogue.rulebooks]
    languages = [language.code for language in catalogue.languages]
    rulebook, language = options.rulebook or rulebooks[0], options.language or languages[0]
    for name, known in ((rulebook, rulebooks), (language, languages)):
        if name not in known:
            raise SystemExit(complain(f"there is no {name!r}; there are: {', '.join(known)}", MISUSE))
    return rulebook, language


def project_of(options: argparse.Namespace) -> Project:
    """The project that the command works on; the program ends where there is none."""
    try:
        return find_project(options.project, options.today or _today_of_environment())
    except NoProject as error:
        raise SystemExit(complain(str(error), MISUSE)) from None


def day(text: str) -> date:
    """A day from the command line."""
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"{text!r} is not a day such as 2026-11-25") from None


def _today_of_environment() -> date | None:
    """The day that CHOCKBOOK_TODAY names; the program ends where it names none."""
    text = os.environ.get("CHOCKBOOK_TODAY")
    try:
        return date.fromisoformat(text) if text else None
    except ValueError:
        raise SystemExit(complain(f"CHOCKBOOK_TODAY is {text!r}, not a day such as 2026-11-25", MISUSE)) from None


def told(error: OSError) -> str:
    """What the system objects to, in a few words: "No space left on device: dist/print"."""
    reason = error.strerror or str(error)
    return f"{reason}: {error.filename}" if error.filename else reason


def complain(message: str, code: int) -> int:
    """Print what is wrong, and give the exit code back."""
    print("chockbook: " + "\n".join(map(printable, message.split("\n"))), file=sys.stderr)
    return code
