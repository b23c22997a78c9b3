"""All that is known of a class from its marked sheets, and the same as plain data."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from ..drill.keys import Keys
from ..faults import Fault
from .confusions import Confusion, confusions_of
from .item_analysis import Item, Reliability, items_of, reliability_of
from .marking import MarkedSheet, mark
from .next_drill import weights_of
from .read import Answers
from .shares import GROUPS, Share, shares_of
from .statistics import variance

FORMAT = 1


@dataclass(frozen=True, slots=True)
class ClassResults:
    """What a class knows and does not."""

    classes: tuple[str, ...]
    """Codes of the classes whose keys were used."""
    editions: tuple[str, ...]
    sheets: tuple[MarkedSheet, ...]
    """In the order of the file."""
    left_out: int
    faults: tuple[Fault, ...]
    items: tuple[Item, ...]
    shares: Mapping[str, tuple[Share, ...]]
    """By system, severity, kind and level, as shares.GROUPS names them."""
    confusions: tuple[Confusion, ...]
    reliability: Reliability | None
    weights: Mapping[str, float]
    """Of the next drill, by system."""

    @property
    def mean(self) -> float:
        """Mean share right, 0 to 1; of at least one sheet."""
        return sum(sheet.share for sheet in self.sheets) / len(self.sheets)

    @property
    def spread(self) -> float:
        """Standard deviation of the shares right, divided by n."""
        return variance([sheet.share for sheet in self.sheets]) ** 0.5

    @property
    def blanks(self) -> int:
        """Answers that were left blank or cannot be read; they count as wrong."""
        return sum(sheet.blank for sheet in self.sheets)


def class_results(answers: Answers, keys: Sequence[Keys]) -> ClassResults:
    """Mark the answers of a class and count.

    Args:
        answers: rows whose sheets are all in the keys.
        keys: of one or more classes.
    """
    by_sheet = {code: asked for one in keys for code, asked in one.sheets.items()}
    sheets = mark(answers.rows, by_sheet)
    used = {sheet.sheet for sheet in sheets}
    of_class = [one for one in keys if used & one.sheets.keys()]
    shares = {group: tuple(shares_of(sheets, group)) for group in GROUPS}
    return ClassResults(
        _each(one.code for one in of_class), _each(one.edition for one in of_class), tuple(sheets), answers.left_out,
        answers.faults, tuple(items_of(sheets)), shares, tuple(confusions_of(sheets)), reliability_of(sheets),
        weights_of(shares["systems"]),
    )  # fmt: skip


def as_data(results: ClassResults) -> dict[str, Any]:
    """The results as plain data for other programs. Shares and discriminations are rounded to four places."""
    reliability = results.reliability
    return {
        "format": FORMAT, "classes": list(results.classes), "editions": list(results.editions),
        "marked": len(results.sheets), "left_out": results.left_out, "blank_answers": results.blanks,
        "mean": _rounded(results.mean) if results.sheets else None,
        "spread": _rounded(results.spread) if results.sheets else None,
        "reliability": reliability and {"formula": reliability.formula, "value": _rounded(reliability.value),
                                        "parts": reliability.parts},
        "students": [{"sheet": one.sheet, "student": one.student, "right": one.right, "of": len(one.answers),
                      "blank": one.blank, "share": _rounded(one.share)} for one in results.sheets],
        "questions": [_item(one) for one in results.items],
        **{group: [_share(one) for one in shares] for group, shares in results.shares.items()},
        "confusions": [{"kind": one.kind, "right": one.one, "taken_for_it": one.other, "count": one.other_for_one,
                        "the_other_way": one.one_for_other, "offered": one.offered, "systems": dict(one.systems)}
                       for one in results.confusions],
        "weights": dict(results.weights),
        "faults": [{"file": one.place.file, "line": one.place.line, "column": one.place.column, "level": one.level,
                    "rule": one.rule, "what": one.what, "why": one.why, "mend": one.mend} for one in results.faults],
    }  # fmt: skip


def _share(one: Share) -> dict[str, Any]:
    return {"id": one.id, "asked": one.asked, "right": one.right, "share": _rounded(one.share),
            "questions": one.questions, "students": one.students,
            "discrimination": _rounded(one.discrimination)}  # fmt: skip


def _item(item: Item) -> dict[str, Any]:
    asked = item.asked
    return {
        "id": asked.question_id, "kind": asked.kind, "level": asked.level, "system": asked.system_id,
        "severity": asked.severity_id, "entries": list(asked.entry_ids), "text": asked.text,
        "students": item.students, "right": item.right, "blank": item.blank, "difficulty": _rounded(item.difficulty),
        "point_biserial": _rounded(item.point_biserial), "upper_lower": _rounded(item.upper_lower),
        "wrong": [{"text": text, "count": count} for text, count in item.wrong],
    }  # fmt: skip


def _rounded(value: float | None) -> float | None:
    return None if value is None else round(value, 4)


def _each(values: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(values))
