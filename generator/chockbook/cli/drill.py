"""`chockbook drill`: question sheets for a class with their key, and the questions for other tools."""

from __future__ import annotations

import argparse
from pathlib import Path

from .asked import FAULTS, MISUSE, WELL, book_of, book_options, catalogue_of, complain, count, project_of, told

MARK = "keys.json"
MOST_SHOWN = 10
"""Objections of the proof that are printed; after the first of them the rest is seldom news."""


class NotProved(Exception):
    """The finished prints, the keys and the catalogue do not say the same, so nothing was replaced."""


def add(commands: argparse._SubParsersAction) -> None:
    """Say what the command takes."""
    command = commands.add_parser("drill", help="print question sheets for a class, with their key")
    command.add_argument("--sheets", type=count, default=1, metavar="N", help="different sheets (default: 1)")
    command.add_argument("--questions", type=count, default=20, metavar="N", help="questions on a sheet (default: 20)")
    command.add_argument("--seed", default="1", metavar="TEXT", help="the same seed gives the same sheets (default: 1)")
    command.add_argument("--kinds", nargs="+", metavar="KIND", help="kinds of question (default: all)")
    command.add_argument("--systems", nargs="+", metavar="ID", help="systems, such as air-brakes (default: all)")
    command.add_argument("--vehicle", metavar="KIND", help="truck, tractor, trailer or converter-dolly (default: all)")
    command.add_argument("--unconfirmed", action="store_true", help="keep questions that rest on something from memory")
    command.add_argument("--weights", type=Path, metavar="FILE",
                         help='JSON or YAML such as {"systems": {"tires": 2}}: ask twice as much about tires; '
                              "`chockbook results --weights` writes one")  # fmt: skip
    command.add_argument("--output", type=Path, metavar="DIR", help="folder to write (default: dist-drill)")
    book_options(command)
    command.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    from ..drill.keys import keys_of, write_keys
    from ..drill.plan import TooFewQuestions
    from ..drill.sheets import Setting, make_sheets
    from ..drill.weights import read_weights
    from ..exports.question_cards import write_cards, write_questions_csv
    from ..output import OutputBusy, OutputForeign, replacing
    from ..printing import SettingFailed, render_key, render_sheets
    from ..proof.drill import prove_drill

    catalogue = catalogue_of(options)
    rulebook, language = book_of(options, catalogue)
    try:
        weights = read_weights(options.weights) if options.weights else ()
        known = {system.id for system in catalogue.systems}
        if unknown := next((name for name, _ in weights if name not in known), None):
            return complain(f"{options.weights} names {unknown!r}, and there is no such system", MISUSE)
        if unknown := next((name for name in options.systems or () if name not in known), None):
            return complain(f"there is no system {unknown!r}; the systems are {', '.join(sorted(known))}", MISUSE)
        systems = tuple(sorted(set(options.systems))) if options.systems else None
        kinds = tuple(options.kinds) if options.kinds else None
        setting = Setting(rulebook, language, options.sheets, options.questions, options.seed, kinds,
                          options.vehicle, options.unconfirmed, weights, systems)  # fmt: skip
        made = make_sheets(catalogue, setting)
    except TooFewQuestions as error:
        return complain(str(error), FAULTS)
    except (ValueError, OSError) as error:
        return complain(str(error), MISUSE)
    folder = options.output or project_of(options).root / "dist-drill"
    questions = list({question.id: question for sheet in made.sheets for question in sheet.questions}.values())
    try:
        with replacing(folder, mark=MARK) as staging:
            write_keys(keys_of(made), staging / MARK)
            write_questions_csv(questions, staging / "questions.csv")
            write_cards(questions, staging / "cards.tsv")
            sheets = render_sheets(catalogue, made, staging / "sheets.pdf")
            key = render_key(catalogue, made, staging / "key.pdf")
            objections = prove_drill(catalogue, staging, rulebook, language)
            if objections:
                raise NotProved("\n".join(map(str, objections[:MOST_SHOWN])))
    except (OutputBusy, OutputForeign, SettingFailed, NotProved) as error:
        return complain(f"{error}; nothing was replaced", FAULTS)
    except OSError as error:
        return complain(f"{told(error)}; nothing was replaced", FAULTS)
    print(f"class {made.code}: {len(made.sheets)} sheets of {setting.questions} questions, {len(questions)} different "
          f"ones of {made.bank_size}; edition {made.edition}")  # fmt: skip
    print("proved: sheets, key, keys, questions and cards say what the catalogue says")
    print("on every sheet: " + ", ".join(f"{number} {kind}" for kind, number in made.plan.kinds.items()))
    print("by level: " + ", ".join(f"level {level}: {number}" for level, number in made.plan.levels.items()))
    print(f"{folder}: sheets.pdf {sheets.pages} pages, key.pdf {key.pages} pages, keys.json, questions.csv, cards.tsv")
    return WELL
