"""`chockbook results`: a class's answers marked by the keys of its sheets, and what the class got wrong."""

from __future__ import annotations

import argparse
import json
from collections import Counter
from collections.abc import Iterable
from pathlib import Path

from ..faults import Fault, errors, printable
from .asked import FAULTS, MISUSE, WELL, catalogue_of, complain, project_of

MOST_SHOWN = 10
"""Faults of one rule that are shown in the terminal without --all."""


def add(commands: argparse._SubParsersAction) -> None:
    """Say what the command takes."""
    command = commands.add_parser("results", help="mark a class's answers, and show what the class got wrong")
    command.add_argument("file", type=Path, metavar="FILE",
                         help="CSV with the columns sheet, student, answers: the code at the head of the sheet, an "
                              'alias, letters such as "BADC." ("." where none was ticked)')  # fmt: skip
    command.add_argument("--keys", type=Path, nargs="+", metavar="FILE",
                         help="keys of the sheets (default: dist-drill/keys.json; the same seed makes them again)"
                         )  # fmt: skip
    command.add_argument("--json", action="store_true", help="print everything as JSON")
    command.add_argument("--report", type=Path, metavar="PDF", help="write a one-page report")
    command.add_argument("--weights", type=Path, metavar="FILE",
                         help="write weights for `chockbook drill --weights` (.yaml or .json)")  # fmt: skip
    command.add_argument("--scores", type=Path, metavar="CSV", help="write each student's score")
    command.add_argument("--all", action="store_true", help="show every question, pair and bad row")
    command.add_argument("--language", metavar="CODE", help="language (default: that of the sheets)")
    command.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    from ..drill.keys import NAME, NoKeys, read_keys
    from ..results import class_results, read_answers
    from ..results.class_results import as_data

    catalogue = catalogue_of(options)
    paths = options.keys or [project_of(options).root / "dist-drill" / NAME]
    try:
        keys = [read_keys(path) for path in paths]
    except NoKeys as error:
        return complain(str(error), MISUSE)
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or str(error)
        return complain(f"the keys cannot be read: {why}: {paths[0]}; make them again with chockbook drill and the "
                        "seed of the class, or name them with --keys", MISUSE)  # fmt: skip
    wrong = _unfit(options, paths, keys, catalogue)
    if wrong:
        return complain(wrong, MISUSE)
    sheets = {code: asked for one in keys for code, asked in one.sheets.items()}
    answers = read_answers(options.file, str(options.file), sheets)
    results = class_results(answers, keys)
    if options.json:
        print(json.dumps(as_data(results), ensure_ascii=False, indent=1))
    else:
        for line in _shown(answers.faults, options.all):
            print(line)
    if not results.sheets:
        return complain("no row could be marked; nothing was written", FAULTS)
    used = [one for one in keys if one.code in results.classes]
    code = _tell(options, catalogue, results, used)
    return code or (FAULTS if errors(answers.faults) else WELL)


def _tell(options: argparse.Namespace, catalogue, results, keys) -> int:
    """Print the results and write what was asked for."""
    from ..exports.class_scores import write_scores_csv
    from ..printing import SettingFailed, render_results
    from ..results.next_drill import write_next_drill
    from ..views.results import view_results
    from ..views.results_lines import results_lines

    language = options.language or keys[0].setting.language
    view = view_results(catalogue, results, keys, language)
    told = []
    try:
        if options.report:
            rulebook = keys[0].setting.rulebook_id
            render_results(catalogue, view, rulebook, language, results.classes, options.report)
            told.append(f"{options.report}: the report")
        if options.weights:
            note = f"from {len(results.sheets)} sheets of class {', '.join(results.classes)}"
            write_next_drill(results.shares["systems"], note, options.weights)
            told.append(f"{options.weights}: for chockbook drill --weights {options.weights}")
        if options.scores:
            write_scores_csv(results.sheets, options.scores)
            told.append(f"{options.scores}: {len(results.sheets)} scores")
    except (SettingFailed, OSError) as error:
        return complain(f"cannot be written: {error}", FAULTS)
    if not options.json:
        for line in (*results_lines(catalogue, view, language, options.all), *([""] if told else []), *told):
            print("\u00a0".join(map(printable, line.split("\u00a0"))))  # a hard space is harmless, and French has many
    return WELL


def _unfit(options: argparse.Namespace, paths, keys, catalogue) -> str | None:
    """What keeps these keys, this language or these outputs from being used together."""
    rulebooks = {one.setting.rulebook_id for one in keys}
    if len(rulebooks) > 1:
        return f"the keys are of different rulebooks: {', '.join(sorted(rulebooks))}; mark each by itself"
    if not rulebooks <= catalogue.rulebook.keys():
        return f"the keys are of the rulebook {rulebooks.pop()!r}, and the tables have no such rulebook"
    codes = Counter(code for one in keys for code in one.sheets)
    twice = next((code for code, number in codes.items() if number > 1), None)
    if twice:
        return f"sheet {twice} stands in two of the keys files"
    languages = [language.code for language in catalogue.languages]
    language = options.language or keys[0].setting.language
    if language not in languages:
        return f"there is no language {language!r}; there are: {', '.join(languages)}"
    read = {path.resolve() for path in (options.file, *paths)}
    written = [path.resolve() for path in (options.report, options.weights, options.scores) if path]
    if read & set(written) or len(set(written)) < len(written):
        return "an output has the name of another file of the command; name another"
    return None


def _shown(faults: Iterable[Fault], every: bool) -> list[str]:
    """Faults as lines: the first ones of each rule, and how many more there are."""
    lines: list[str] = []
    seen: Counter[str] = Counter()
    for fault in faults:
        seen[fault.rule] += 1
        if every or seen[fault.rule] <= MOST_SHOWN:
            lines.append(str(fault))
    lines += [f"{count - MOST_SHOWN} more [{rule}]; all of them: --all" for rule, count in seen.items()
              if count > MOST_SHOWN and not every]  # fmt: skip
    return [*lines, ""] if lines else []
