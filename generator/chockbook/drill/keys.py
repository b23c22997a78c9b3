"""The keys of a class as a file: what marks the sheets later, and what makes the same sheets again."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from .sheets import LETTERS, ClassSheets, Setting, right_letter

FORMAT = 1
NAME = "keys.json"
LARGEST = 256 * 1024 * 1024
"""Bytes; a class of 30 sheets of 20 questions takes some 450,000."""


class NoKeys(ValueError):
    """A file is not a keys file of ours."""


@dataclass(frozen=True, slots=True)
class Asked:
    """A question as it stood on a sheet."""

    question_id: str
    kind: str
    level: int
    system_id: str
    severity_id: str
    entry_ids: tuple[str, ...]
    text: str
    choices: tuple[str, ...]
    answer: str
    """The right letter."""


@dataclass(frozen=True, slots=True)
class Keys:
    """The keys of a class."""

    edition: str
    code: str
    setting: Setting
    sheets: dict[str, tuple[Asked, ...]]


def keys_of(made: ClassSheets) -> Keys:
    """The keys of sheets that were made."""
    return Keys(made.edition, made.code, made.setting, {
        sheet.code: tuple(
            Asked(q.id, q.kind, q.level, q.system_id, q.severity_id, q.entry_ids, q.text,
                  tuple(choice.text for choice in q.choices), right_letter(q))
            for q in sheet.questions
        )
        for sheet in made.sheets
    })  # fmt: skip


def write_keys(keys: Keys, path: Path) -> None:
    """Write keys as JSON, the same bytes for the same keys."""
    setting = keys.setting
    data = {
        "format": FORMAT, "edition": keys.edition, "code": keys.code,
        "setting": {name: getattr(setting, name) for name in setting.__slots__},
        "sheets": {code: [{name: getattr(one, name) for name in one.__slots__} for one in asked]
                   for code, asked in keys.sheets.items()},
    }  # fmt: skip
    path.write_text(json.dumps(data, ensure_ascii=False, indent=1) + "\n", encoding="utf-8", newline="\n")


def read_keys(path: Path) -> Keys:
    """Read keys.

    Raises:
        OSError: the file cannot be read.
        NoKeys: it is not a keys file.
    """
    with path.open("rb") as file:
        raw = file.read(LARGEST + 1)
    if len(raw) > LARGEST:
        raise NoKeys(f"{path} is larger than 256 MiB, and no keys file is")
    try:
        data: dict[str, Any] = json.loads(raw.decode("utf-8"))
        if data["format"] != FORMAT:
            raise NoKeys(f"{path} has the format {data['format']}, and this program reads {FORMAT}")
        given = dict(data["setting"])
        given["kinds"] = tuple(given["kinds"]) if given["kinds"] is not None else None
        given["systems"] = tuple(map(str, given["systems"])) if given.get("systems") is not None else None
        given["weights"] = tuple((str(name), float(str(weight))) for name, weight in given["weights"])
        sheets = {
            str(code): tuple(
                Asked(**{**one, "entry_ids": tuple(one["entry_ids"]), "choices": tuple(one["choices"])})
                for one in asked
            )
            for code, asked in data["sheets"].items()
        }
        _can_be_marked(sheets)
        return Keys(str(data["edition"]), str(data["code"]), Setting(**given), sheets)
    except (KeyError, TypeError, ValueError, AttributeError, RecursionError) as error:
        raise error if isinstance(error, NoKeys) else NoKeys(f"{path} is not a keys file: {error!r}") from error


def _can_be_marked(sheets: dict[str, tuple[Asked, ...]]) -> None:
    """Raise ValueError where a sheet has no questions, or a question no right letter among its choices."""
    for code, asked in sheets.items():
        if not asked:
            raise ValueError(f"sheet {code} has no questions")
        for one in asked:
            texts = (one.question_id, one.kind, one.system_id, one.severity_id, one.text, one.answer, *one.choices)
            if not all(isinstance(text, str) for text in texts) or not isinstance(one.level, int):
                raise ValueError(f"a question of sheet {code} is not made of texts")
            if len(one.answer) != 1 or one.answer not in LETTERS[: len(one.choices)]:
                raise ValueError(f"question {one.question_id} of sheet {code} has no right letter")
            if len(set(one.choices)) < len(one.choices):
                raise ValueError(f"question {one.question_id} of sheet {code} offers a choice twice")
