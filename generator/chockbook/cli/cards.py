"""`chockbook cards`: decks, checklists and report forms for carriers and their units."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable
from pathlib import Path

from ..faults import counted, printable
from .asked import FAULTS, MISUSE, WELL, catalogue_of, complain, project_of, told

BAR = 30
"""Characters of the bar that shows how far it has come."""


def add(commands: argparse._SubParsersAction) -> None:
    """Say what the command takes."""
    command = commands.add_parser("cards", help="print decks, checklists and report forms for carriers and their units")
    command.add_argument("carriers", nargs="*", metavar="CARRIER", help="ids of carriers (default: all)")
    command.add_argument("--pulled", nargs="+", metavar="EDITION|CARRIER", default=[],
                         help="print nothing: take replaced prints that were pulled off the register")  # fmt: skip
    command.add_argument("--output", type=Path, metavar="DIR", help="folder to write (default: dist-carriers)")
    command.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    from ..checks.carriers import assemble_carriers
    from ..faults import errors, shown
    from ..output import OutputBusy, filling
    from ..printing import RegisterUnreadable, cards_for_carriers, note_proved
    from ..proof import prove_carriers
    from ..sides import is_kept
    from ..workers import WorkersLost

    if options.pulled:
        return _pulled(options)
    project, catalogue = project_of(options), catalogue_of(options)
    assembly = assemble_carriers(project.tables / "carriers", catalogue)
    for line in shown(assembly.faults):
        print(line)
    if assembly.faults:
        print()  # what follows is no part of the last of them
    known = {carrier.id: carrier for carrier in assembly.carriers}
    unknown = [name for name in options.carriers if name not in known]
    if unknown:
        return complain(f"there is no carrier {unknown[0]!r} without faults; there are: {', '.join(known)}", MISUSE)
    wanted = [known[name] for name in options.carriers] or list(known.values())
    folder = options.output or project.root / "dist-carriers"
    site = project.output / "site"
    try:
        with filling(folder):
            result = cards_for_carriers(catalogue, wanted, folder, progress=_bar("printing"))
            proof = prove_carriers(catalogue, known.values(), folder, site if site.is_dir() else None,
                                   only=result.unproved, progress=_bar("proving"), not_printed=result.not_printed)  # fmt: skip
            if not proof.objections:
                for name in result.unproved:
                    note_proved(folder / name)
    except (OutputBusy, WorkersLost, RegisterUnreadable) as error:
        _end_of_bar()
        return complain(str(error), FAULTS)
    except OSError as error:
        _end_of_bar()
        return complain(f"{folder} cannot be written: {told(error)}", FAULTS)
    for notice in result.notices:
        print(f"notice: {printable(notice)}")
    for (name, why), number in zip(result.failed, result.failed_at, strict=True):
        place = assembly.tables[name].place(("carrier", "documents", number))
        print(f"{place}: not printed: {name}: {printable(why)}")
    for objection in proof.objections:
        print(printable(str(objection)))
    print(f"{counted(len(result.made), 'carrier')} printed, {len(result.kept)} unchanged, "
          f"{counted(result.documents, 'document')}; the register is {result.register}")  # fmt: skip
    if result.unproved or proof.objections:
        print(proof.summary())
    if result.documents and not is_kept(catalogue.edition.code, project):
        print(f"notice: edition {catalogue.edition.code} is not kept: run `chockbook keep` before the tables change, or nobody can "
              "tell later which of these prints went stale")  # fmt: skip
    return FAULTS if result.failed or proof.objections or errors(assembly.faults) else WELL


def _pulled(options: argparse.Namespace) -> int:
    """Replaced prints that nobody has any more."""
    from ..output import OutputBusy, filling
    from ..printing import RegisterUnreadable, take_off

    if options.carriers:
        return complain("with --pulled, name editions and carriers after it and none before it", MISUSE)
    folder = options.output or project_of(options).root / "dist-carriers"
    if not folder.is_dir():
        return complain(f"there is no folder {folder}", MISUSE)
    try:
        with filling(folder):
            number = take_off(folder, options.pulled)
    except LookupError as error:
        return complain(str(error.args[0]), MISUSE)
    except (OutputBusy, RegisterUnreadable) as error:
        return complain(str(error), FAULTS)
    print(f"{counted(number, 'replaced print')} taken off the register")
    return WELL


def _end_of_bar() -> None:
    """A bar that did not come to its end leaves its line to itself."""
    if sys.stderr.isatty():
        print(file=sys.stderr)


def _bar(doing: str) -> Callable[[int, int, str], None]:
    """A bar on a terminal; nothing where the output goes to a file or to another program."""
    if not sys.stderr.isatty():
        return lambda done, count, carrier: None

    def show(done: int, count: int, carrier: str) -> None:
        full = BAR * done // count
        line = f"{doing} [{'#' * full}{'.' * (BAR - full)}] {done} of {count}: {printable(carrier)}"
        print(f"\r{line[:78]:78}", end="\n" if done == count else "", file=sys.stderr, flush=True)

    return show
