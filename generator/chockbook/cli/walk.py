"""`chockbook walk`: the student's practice sheet and the instructor's score sheet of a vehicle."""

from __future__ import annotations

import argparse
import tempfile
from pathlib import Path

from .asked import (
    FAULTS,
    MISUSE,
    MOST_SHOWN,
    WELL,
    NotProved,
    book_of,
    book_options,
    catalogue_of,
    complain,
    project_of,
    told,
)


def add(commands: argparse._SubParsersAction) -> None:
    """Say what the command takes."""
    command = commands.add_parser("walk", help="print what to do and say on the route, and the sheet to mark it on")
    command.add_argument("vehicle", nargs="?", metavar="VEHICLE",
                         help="tractor-trailer (default), tractor, truck, truck-hydraulic, truck-trailer, truck-electric, "
                              "two-trailers, or CARRIER/UNIT of source_tables/carriers")  # fmt: skip
    command.add_argument("--output", type=Path, metavar="DIR", help="folder to write (default: dist-walk)")
    book_options(command)
    command.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    from ..catalogue.usual_units import USUAL, USUAL_UNITS
    from ..output import STAGING_PREFIX, OutputBusy, filling, put_whole
    from ..printing import SettingFailed, render_score_sheet, render_walk_sheet
    from ..proof.walk import Walked
    from ..proof.walk_units import prove_walk_prints
    from ..views.walk import unit_to_walk_name

    catalogue = catalogue_of(options)
    rulebook, language = book_of(options, catalogue)
    asked = options.vehicle or USUAL
    made_up = None
    if "/" in asked:
        unit, name = _unit(options, catalogue, asked)
        if unit is None:
            return complain(name, MISUSE)
        made_up = Walked(tuple(unit.vehicles), frozenset(unit.equipment), name)
    elif asked in USUAL_UNITS:
        unit, name = USUAL_UNITS[asked], unit_to_walk_name(catalogue, asked, language)
    else:
        return complain(f"there is no vehicle {asked!r}; there are: {', '.join(USUAL_UNITS)}, or CARRIER/UNIT", MISUSE)
    folder = options.output or project_of(options).root / "dist-walk"
    about = asked.replace("/", ".")
    sheets = {"walk": render_walk_sheet, "score": render_score_sheet}
    names = {kind: f"{kind}-{about}.{rulebook}.{language}.pdf" for kind in sheets}
    try:
        with filling(folder), tempfile.TemporaryDirectory(prefix=STAGING_PREFIX, dir=folder) as staging:
            beside = Path(staging)
            pages = {names[kind]: render(catalogue, rulebook, language, beside / names[kind], unit, name).pages
                     for kind, render in sheets.items()}  # fmt: skip
            objections = prove_walk_prints(catalogue, beside, about, rulebook, language, made_up)
            if objections:
                raise NotProved("\n".join(map(str, objections[:MOST_SHOWN])))
            for one in pages:
                put_whole(folder / one, (beside / one).read_bytes())
    except (OutputBusy, SettingFailed, NotProved) as error:
        return complain(f"{error}; nothing was replaced", FAULTS)
    except OSError as error:
        return complain(f"{folder} cannot be written: {told(error)}", FAULTS)
    for one, number in pages.items():
        print(f"{folder / one}: {number} pages")
    print("proved: both sheets say what the catalogue says")
    return WELL


def _unit(options: argparse.Namespace, catalogue, asked: str):
    """A carrier's unit with its name, or None with what is wrong."""
    from ..checks.carriers import assemble_carriers

    known = {
        f"{carrier.id}/{unit.id}": (unit, f"{carrier.name}, {unit.name}")
        for carrier in assemble_carriers(project_of(options).tables / "carriers", catalogue).carriers
        for unit in carrier.units
    }
    return known.get(asked, (None, f"there is no unit {asked!r}; there are: {', '.join(known) or 'none'}"))
