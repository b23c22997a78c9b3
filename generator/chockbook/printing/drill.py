"""Printed question sheets of a class, and their key."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from ..catalogue import Catalogue
from ..drill.question import Question
from ..drill.sheets import LETTERS, ClassSheets, right_letter
from ..views.wording import fixed_word, in_language
from .document_data import document_data
from .places import set_with_places
from .printed import Printed


def render_sheets(catalogue: Catalogue, made: ClassSheets, out_path: Path) -> Printed:
    """Write every sheet of a class: each begins on a page of its own and counts its own pages.

    Raises:
        MissingWording: a text has not been written in the language.
        SettingFailed: the compiler objects.
    """
    return _render("drill_sheets.typ", "drill", catalogue, made, out_path)


def render_key(catalogue: Catalogue, made: ClassSheets, out_path: Path) -> Printed:
    """Write the key: the plan, the letters of every sheet, and each question once with answer, reason and source.

    Raises:
        MissingWording: a text has not been written in the language.
        SettingFailed: the compiler objects.
    """
    return _render("drill_key.typ", "drill-key", catalogue, made, out_path)


def _render(template: str, kind: str, catalogue: Catalogue, made: ClassSheets, out_path: Path) -> Printed:
    setting = made.setting
    name = f"{kind}.{made.code}.{setting.rulebook_id}.{setting.language}"
    # The head names the rulebook; a question need not say it again.
    lead = f"{in_language(catalogue.rulebook[setting.rulebook_id].short_name, setting.language)}. "
    data = document_data(kind, catalogue, setting.rulebook_id, setting.language, name) | {
        "sheets": [_sheet(sheet.code, sheet.questions, sheet.letters, lead) for sheet in made.sheets],
        "key": _key(catalogue, made, lead),
        "code": made.code,
    }
    pages = set_with_places(template, data, catalogue.edition.date, out_path)
    return Printed(path=out_path, pages=pages, cards=0)


def _sheet(code: str, questions: tuple[Question, ...], letters: str, lead: str) -> dict[str, Any]:
    return {
        "code": code,
        "letters": list(letters),
        "questions": [
            {"text": question.text.removeprefix(lead), "confirmed": question.confirmed,
             "choices": [{"letter": letter, "text": choice.text}
                         for letter, choice in zip(LETTERS, question.choices, strict=False)]}
            for question in questions
        ],
    }  # fmt: skip


def _key(catalogue: Catalogue, made: ClassSheets, lead: str) -> dict[str, Any]:
    language, setting, plan = made.setting.language, made.setting, made.plan
    systems = {system.id: in_language(system.name, language) for system in catalogue.systems}
    severities = {s.id: in_language(s.name, language) for s in catalogue.rulebook[setting.rulebook_id].severities}
    asked: dict[str, tuple[Question, list[str]]] = {}
    for sheet in made.sheets:
        for place, question in enumerate(sheet.questions, 1):
            number = sheet.code.rpartition("-")[2]
            asked.setdefault(question.id, (question, []))[1].append(f"{number}.{place}{right_letter(question)}")
    by_system = _count(question.system_id for sheet in made.sheets for question in sheet.questions)
    by_severity = _count(question.severity_id for sheet in made.sheets for question in sheet.questions)
    return {
        "setting": [
            [fixed_word(catalogue, "drill-key-seed", language), setting.seed],
            [fixed_word(catalogue, "drill-key-sheets", language), str(setting.sheets)],
            [fixed_word(catalogue, "drill-key-questions", language), str(setting.questions)],
            [fixed_word(catalogue, "drill-key-bank", language), str(made.bank_size)],
        ],
        "kinds": [[fixed_word(catalogue, f"drill-kind-{kind}", language), n] for kind, n in plan.kinds.items()],
        "levels": [[fixed_word(catalogue, f"drill-level-{level}", language), n] for level, n in plan.levels.items()],
        "systems": [[systems[key], by_system[key]] for key in systems if key in by_system],
        "severities": [[severities[key], by_severity[key]] for key in severities if key in by_severity],
        "questions": [
            {"text": question.text.removeprefix(lead), "answer": question.answer.text.rstrip("."), "reason": question.reason,
             "source": question.source, "confirmed": question.confirmed, "places": places}
            for question, places in asked.values()
        ],
    }  # fmt: skip


def _count(names) -> dict[str, int]:
    found: dict[str, int] = {}
    for name in names:
        if name:
            found[name] = found.get(name, 0) + 1
    return found
