"""The command `chockbook`: reads arguments, prints, and gives the exit code. It decides nothing else.

Exit codes: 0 all is well, 1 there are faults (in tables, outputs or input), 2 the command was used wrongly.
"""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Sequence
from pathlib import Path

from . import __version__
from .faults import printable

WELL, FAULTS, MISUSE = 0, 1, 2


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors="backslashreplace")
    options = _parser().parse_args(arguments)
    try:
        return options.run(options)
    except KeyboardInterrupt:
        print("stopped; nothing was replaced", file=sys.stderr)
        return 130
    except BrokenPipeError:
        sys.stderr.close()
        return WELL


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="chockbook",
        description="One catalogue of vehicle defects in; web reference, manual, cards and checklist out.",
        epilog="A study and reference aid, not the law: the law in force decides.",
    )
    parser.add_argument("--version", action="version", version=f"chockbook {__version__}")
    parser.add_argument("--project", type=Path, default=Path("."), metavar="DIR",
                        help="folder with source_tables (default: here or the nearest above)")  # fmt: skip
    commands = parser.add_subparsers(title="commands", metavar="COMMAND", required=True)

    check = commands.add_parser("check", help="check all tables and print every fault")
    check.add_argument("--json", action="store_true", help="print the faults as JSON")
    check.set_defaults(run=_check)

    build = commands.add_parser("build", help="check, write every output, prove it, and put it in place")
    build.add_argument("--output", type=Path, metavar="DIR", help="folder to write (default: dist)")
    build.set_defaults(run=_build)

    prove = commands.add_parser("prove", help="open the outputs again and compare them with the catalogue")
    prove.add_argument("output", type=Path, nargs="?", metavar="DIR", help="folder to prove (default: dist)")
    prove.set_defaults(run=_prove)

    serve = commands.add_parser("serve", help="show the site and build it again on every change")
    serve.add_argument("--port", type=int, default=8000, help="port on this machine (default: 8000)")
    serve.set_defaults(run=_serve)

    new = commands.add_parser("new", help="make a starter project that builds as it stands")
    new.add_argument("folder", type=Path, metavar="DIR", help="a folder that does not exist or is empty")
    new.set_defaults(run=_new)

    find = commands.add_parser("find", help="look a defect up by plain words")
    find.add_argument("words", nargs="+", metavar="WORDS", help="what is wrong, such as: belt wont latch")
    find.add_argument("--limit", type=_count, default=5, metavar="N", help="most results (default: 5)")
    find.add_argument("--json", action="store_true", help="print [{id, score}]")
    _book_options(find)
    find.set_defaults(run=_find)

    decide = commands.add_parser("decide", help="what findings on a combination mean together")
    decide.add_argument("findings", nargs="+", metavar="UNIT:ID[=yes|no]",
                        help="a finding, such as tractor:seat-belt.will-not-latch; =yes or =no answers the "
                             "circumstance that its rulings turn on")  # fmt: skip
    _book_options(decide)
    decide.set_defaults(run=_decide)

    cards = commands.add_parser("cards", help="print decks, checklists and report forms for carriers and their units")
    cards.add_argument("carriers", nargs="*", metavar="CARRIER", help="ids of carriers (default: all)")
    cards.add_argument("--output", type=Path, metavar="DIR", help="folder to write (default: dist-carriers)")
    cards.set_defaults(run=_cards)

    measure = commands.add_parser("measure", help="hold a measured value against a figure")
    measure.add_argument("figure", metavar="FIGURE", help="id of the figure, such as pushrod-stroke")
    measure.add_argument("value", metavar="VALUE", help='value and unit, such as "2 1/4 in" or "57 mm"')
    measure.add_argument("conditions", nargs="*", metavar="NAME=VALUE", help="what it applies to, such as chamber=30")
    _book_options(measure)
    measure.set_defaults(run=_measure)

    sources = commands.add_parser("sources", help="how much of each source is covered, and what was left out")
    sources.set_defaults(run=_sources)

    schema = commands.add_parser("schema", help="write JSON Schemas of the tables for editors")
    schema.add_argument("folder", type=Path, nargs="?", metavar="DIR", help="folder to write (default: schemas)")
    schema.set_defaults(run=_schema)
    return parser


def _book_options(command: argparse.ArgumentParser) -> None:
    command.add_argument("--rulebook", metavar="ID", help="rulebook in force (default: the first of the tables)")
    command.add_argument("--language", metavar="CODE", help="language (default: the first of the tables)")


def _count(text: str) -> int:
    number = int(text)
    if number < 1:
        raise argparse.ArgumentTypeError("at least 1")
    return number


def _catalogue(options: argparse.Namespace):
    """The catalogue of the project; the faults are printed and the program ends where there are errors."""
    from .faults import summary

    assembly = _project(options).assemble()
    if assembly.catalogue is None:
        for fault in assembly.faults:
            print(fault)
        print(summary(assembly.faults))
        raise SystemExit(FAULTS)
    return assembly.catalogue


def _book(options: argparse.Namespace, catalogue) -> tuple[str, str]:
    """Rulebook and language that were asked for, or the first ones."""
    rulebooks = [rulebook.id for rulebook in catalogue.rulebooks]
    languages = [language.code for language in catalogue.languages]
    rulebook, language = options.rulebook or rulebooks[0], options.language or languages[0]
    for name, known in ((rulebook, rulebooks), (language, languages)):
        if name not in known:
            raise SystemExit(_complain(f"there is no {name!r}; there are: {', '.join(known)}", MISUSE))
    return rulebook, language


def _project(options: argparse.Namespace):
    from .project import NoProject, find_project

    try:
        return find_project(options.project)
    except NoProject as error:
        raise SystemExit(_complain(str(error), MISUSE)) from None


def _complain(message: str, code: int) -> int:
    print(f"chockbook: {printable(message)}", file=sys.stderr)
    return code


def _check(options: argparse.Namespace) -> int:
    from .faults import errors, summary

    assembly = _project(options).assemble()
    if options.json:
        print(json.dumps([_as_data(fault) for fault in assembly.faults], ensure_ascii=False, indent=1))
    else:
        for fault in assembly.faults:
            print(fault)
        if assembly.catalogue is not None:
            print(_counts(assembly.catalogue))
        print(summary(assembly.faults))
    return FAULTS if errors(assembly.faults) else WELL


def _as_data(fault) -> dict[str, object]:
    return {"file": fault.place.file, "line": fault.place.line, "column": fault.place.column, "level": fault.level,
            "rule": fault.rule, "what": fault.what, "why": fault.why, "mend": fault.mend}  # fmt: skip


def _counts(catalogue) -> str:
    """What the catalogue holds, in a few lines: entries, items covered, and where the rulings stand."""
    lines = [f"edition {catalogue.edition.code} of {catalogue.edition.date}: {len(catalogue.entries)} entries on "
             f"{len(catalogue.components)} components, {len(catalogue.sources)} sources"]  # fmt: skip
    for rulebook in catalogue.rulebooks:
        items = [item for schedule in rulebook.schedules for part in schedule.parts for item in part.items]
        rulings = [ruling for entry in catalogue.entries for ruling in entry.rulings_under(rulebook.id)]
        covered = {item.id for ruling in rulings for item in (ruling.item, *ruling.also)}
        by_basis = {basis: sum(1 for ruling in rulings if ruling.basis == basis)
                    for basis in ("published", "common-practice", "from-memory", "invented")}  # fmt: skip
        standing = ", ".join(f"{count} {basis.replace('-', ' ')}" for basis, count in by_basis.items() if count)
        lines.append(f"{rulebook.id}: {len(covered)} of {len(items)} items covered, {len(rulings)} rulings ({standing})")
    return "\n".join(lines)


def _build(options: argparse.Namespace) -> int:
    from . import build as building
    from .faults import summary
    from .output import OutputBusy, OutputForeign
    from .pages import SiteFault
    from .printing import CardOverflow, SettingFailed

    project = _project(options)
    try:
        built = building.build(project, options.output, say=print)
    except building.FaultyTables as error:
        for fault in error.faults:
            print(fault)
        print(summary(error.faults))
        return FAULTS
    except building.ProofFailed as error:
        for objection in error.proof.objections:
            print(printable(str(objection)))
        print(f"{len(error.proof.objections)} objections; nothing was replaced")
        return FAULTS
    except (OutputBusy, OutputForeign, SiteFault, CardOverflow, SettingFailed, OSError) as error:
        return _complain(f"{error}; nothing was replaced", FAULTS)
    for warning in built.warnings:
        print(warning)
    print(_counts(built.catalogue))
    print(built.proof.summary())
    total = sum(built.seconds.values())
    print(f"{built.files} files in {built.output}, {total:.1f} s")
    return WELL


def _prove(options: argparse.Namespace) -> int:
    from .faults import summary
    from .proof import prove

    project = _project(options)
    assembly = project.assemble()
    if assembly.catalogue is None:
        for fault in assembly.faults:
            print(fault)
        print(summary(assembly.faults))
        return FAULTS
    output = options.output or project.output
    if not output.is_dir():
        return _complain(f"there is no folder {output}; build it first", MISUSE)
    result = prove(assembly.catalogue, output)
    for objection in result.objections:
        print(printable(str(objection)))
    print(result.summary())
    return FAULTS if result.objections else WELL


def _serve(options: argparse.Namespace) -> int:
    from .serve import serve

    return serve(_project(options), options.port, say=print)


def _new(options: argparse.Namespace) -> int:
    from .starter import FolderInUse, make_starter

    try:
        made = make_starter(options.folder)
    except (FolderInUse, OSError) as error:
        return _complain(str(error), FAULTS)
    print(f"a starter project stands in {made}; build it with: chockbook --project {made} build")
    return WELL


def _find(options: argparse.Namespace) -> int:
    from .lookup import find
    from .views.terminal import found_lines

    catalogue = _catalogue(options)
    rulebook, language = _book(options, catalogue)
    found = find(catalogue, " ".join(options.words), rulebook, language, options.limit)
    if options.json:
        print(json.dumps([{"id": entry_id, "score": score} for entry_id, score in found], indent=1))
    for entry_id, _ in [] if options.json else found:
        print("\n".join(found_lines(catalogue, entry_id, rulebook, language)))
    if not found and not options.json:
        print("no match; try other words")
    return WELL if found else FAULTS


def _decide(options: argparse.Namespace) -> int:
    from .catalogue import Finding, UnfitFinding, decide
    from .views.decision import view_decision
    from .views.terminal import decision_lines

    catalogue = _catalogue(options)
    rulebook, language = _book(options, catalogue)
    try:
        findings = [_finding(text, Finding) for text in options.findings]
        verdict = decide(catalogue, findings, rulebook)
    except UnfitFinding as error:
        return _complain(str(error), FAULTS)
    print("\n".join(decision_lines(catalogue, view_decision(catalogue, verdict, language), language)))
    return WELL


def _cards(options: argparse.Namespace) -> int:
    from .checks.carriers import assemble_carriers
    from .faults import errors
    from .printing import cards_for_carriers

    project, catalogue = _project(options), _catalogue(options)
    assembly = assemble_carriers(project.tables / "carriers", catalogue)
    for fault in assembly.faults:
        print(fault)
    known = {carrier.id: carrier for carrier in assembly.carriers}
    unknown = [name for name in options.carriers if name not in known]
    if unknown:
        return _complain(f"there is no carrier {unknown[0]!r} without faults; there are: {', '.join(known)}", MISUSE)
    wanted = [known[name] for name in options.carriers] or list(known.values())
    folder = options.output or project.root / "dist-carriers"
    try:
        result = cards_for_carriers(catalogue, wanted, folder, progress=_progress)
    except OSError as error:
        return _complain(f"{folder} cannot be written: {error.strerror}", FAULTS)
    for notice in result.notices:
        print(f"notice: {printable(notice)}")
    for name, why in result.failed:
        print(f"not printed: {name}: {printable(why)}")
    print(f"{len(result.made)} carriers printed, {len(result.kept)} unchanged, {result.documents} documents; "
          f"the register is {result.register}")  # fmt: skip
    return FAULTS if result.failed or errors(assembly.faults) else WELL


def _progress(done: int, count: int, carrier: str) -> None:
    print(f"{done} of {count}: {carrier}")


def _measure(options: argparse.Namespace) -> int:
    from .views.measure_terminal import NotMeasured, run

    catalogue = _catalogue(options)
    rulebook, language = _book(options, catalogue)
    pairs = [text.partition("=") for text in options.conditions]
    wrong = [name for name, equals, _ in pairs if not equals]
    if wrong:
        return _complain(f"{wrong[0]!r} is not a condition; write name=value, such as chamber=30", MISUSE)
    try:
        lines = run(catalogue, rulebook, language, options.figure, options.value, {n: v for n, _, v in pairs})
    except NotMeasured as error:
        return _complain(str(error), FAULTS)
    print("\n".join(lines))
    return WELL


def _sources(options: argparse.Namespace) -> int:
    from .views.coverage import coverage_lines

    catalogue = _catalogue(options)
    print("\n".join(coverage_lines(catalogue, catalogue.languages[0].code)))
    return WELL


def _finding(text: str, kind):
    """A finding from "unit:id" or "unit:id=answer"."""
    from .catalogue import UnfitFinding

    unit, colon, rest = text.partition(":")
    if not colon:
        raise UnfitFinding(f"{text!r} is not a finding; write unit:id, such as tractor:horn.silent")
    entry_id, _, answer = rest.partition("=")
    return kind(entry_id, unit, answer or "unknown")


def _schema(options: argparse.Namespace) -> int:
    from .exports import write_editor_schemas

    folder = options.folder or Path("schemas")
    try:
        write_editor_schemas(folder)
    except OSError as error:
        return _complain(f"{folder} cannot be written: {error.strerror}", FAULTS)
    print(f"schemas of the tables stand in {folder}")
    return WELL
