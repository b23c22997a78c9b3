"""`chockbook decide`: what findings on a combination mean together."""

from __future__ import annotations

import argparse

from .asked import FAULTS, WELL, book_of, book_options, catalogue_of, complain


def add(commands: argparse._SubParsersAction) -> None:
    """Say what the command takes."""
    command = commands.add_parser("decide", help="what findings on a combination mean together")
    command.add_argument("findings", nargs="+", metavar="UNIT:ID[=yes|no]",
                        help="a finding, such as tractor:seat-belt.will-not-latch; =yes or =no answers the "
                             "circumstance that its rulings turn on")  # fmt: skip
    book_options(command)
    command.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    from ..catalogue import Finding, UnfitFinding, decide
    from ..views.decision import view_decision
    from ..views.terminal import decision_lines

    catalogue = catalogue_of(options)
    rulebook, language = book_of(options, catalogue)
    try:
        findings = [_finding(text, Finding) for text in options.findings]
        verdict = decide(catalogue, findings, rulebook)
    except UnfitFinding as error:
        return complain(str(error), FAULTS)
    print("\n".join(decision_lines(catalogue, view_decision(catalogue, verdict, language), language)))
    return WELL


def _finding(text: str, kind):
    """A finding from "unit:id" or "unit:id=answer"."""
    from ..catalogue import UnfitFinding

    unit, colon, rest = text.partition(":")
    if not colon:
        raise UnfitFinding(f"{text!r} is not a finding; write unit:id, such as tractor:horn.silent")
    entry_id, _, answer = rest.partition("=")
    return kind(entry_id, unit, answer or "unknown")
