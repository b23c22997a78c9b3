"""From a figure: which figure holds, and whether a measured value meets it.

The rulebook's own rows only. What a value means comes from the measuring code; whether a row is met exactly at
its figure is as the table says. Where two rows of the rulebook judge the same value differently, it is not asked.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import NamedTuple

from ..catalogue import Catalogue, LimitRecord, LimitRow
from ..catalogue.measure import CLOSE, only_divides
from ..catalogue.printed_figures import figures_removed
from ..catalogue.row_choice import own_rows
from ..catalogue.wording import wording_read
from .choosing import Told, choices
from .measured import Value, number_in_words, plain_line, values_of
from .posed import Posed, answers_apart, plain_rulings
from .question import Question, order_by_seed, question_id
from .wording import Words, told

UNITS_IN_WORDS = frozenset({"percent", "degrees", "minutes", "seconds", "hours"})
MOST_OTHERS = 6
"""Other figures from which the wrong choices of a question are taken."""


class _Row(NamedTuple):
    limit: LimitRecord
    row: LimitRow


class _Ground(NamedTuple):
    """A row of the rulebook with the defects that it helps to decide."""

    limit: LimitRecord
    row: LimitRow
    entry_ids: tuple[str, ...]
    system_id: str
    decides: Posed | None
    """The one defect that failing the figure is; None where several hang on it, or circumstances do."""
    divides: bool
    """Whether the figure only tells one severity from another: a value that meets it can still be a defect."""


def ask(
    catalogue: Catalogue, rulebook_id: str, languages: Sequence[Words], vehicle: str | None
) -> Iterator[Question]:
    """For each row of the rulebook's own: which figure it has, and values on both sides of it."""
    grounds = list(_grounds(catalogue, rulebook_id, vehicle))
    for ground in grounds:
        question = _which_figure(catalogue, rulebook_id, ground, languages)
        if question:
            yield question
    asked: set[str] = set()  # two bounds, or two figures of a limit, can lead to the same value
    for ground in grounds:
        for value in values_of(ground.limit, ground.row):
            if (value.level == 3 and _judged_apart(ground, grounds)) or (ground.divides and value.result.passes):
                continue
            question = _measured(catalogue, rulebook_id, ground, value, languages)
            if question and question.id not in asked:
                asked.add(question.id)
                yield question


def _grounds(catalogue: Catalogue, rulebook_id: str, vehicle: str | None) -> Iterator[_Ground]:
    sure = {one.entry.id: one for one in plain_rulings(catalogue, rulebook_id)}
    for limit in catalogue.limits:
        decided = [entry for entry in catalogue.entries if limit in entry.limits and entry.rulings_under(rulebook_id)]
        if not decided or (vehicle is not None and not any(vehicle in entry.vehicles for entry in decided)):
            continue
        only = sure.get(decided[0].id) if len(decided) == 1 else None
        divides = only_divides(limit, decided, rulebook_id)
        for row in own_rows(limit, rulebook_id):
            yield _Ground(limit, row, tuple(entry.id for entry in decided), decided[0].system.id, only, divides)


def _judged_apart(ground: _Ground, grounds: Sequence[_Ground]) -> bool:
    """Whether another figure for the same defects has the same value, and is met at it where this one is not."""

    def met_at(limit: LimitRecord) -> bool:
        return limit.compare in ("at-most", "at-least", "between")

    return any(
        set(other.entry_ids) & set(ground.entry_ids) and _near(_value(other), _value(ground))
        and other.limit.unit == ground.limit.unit and met_at(other.limit) != met_at(ground.limit)
        for other in grounds
    )  # fmt: skip


def _measured(
    catalogue: Catalogue, rulebook_id: str, ground: _Ground, value: Value, languages: Sequence[Words]
) -> Question | None:
    words, rulebook, limit, row = languages[0], catalogue.rulebook[rulebook_id], ground.limit, ground.row
    unit = value.quantity.unit
    name = question_id("measured", rulebook_id, limit.id, sorted(row.when.items()), row.value, value.quantity.value,
                       unit and unit.id)  # fmt: skip
    only = ground.decides if answers_apart(catalogue, rulebook_id) else None

    def text(words: Words) -> str:
        measured = number_in_words(value.quantity.value, unit.id if unit else "count", words, limit.unit == "rating")
        return words.fixed("drill-ask-measured", rulebook=words.of(rulebook.short_name),
                           quantity=words.of(limit.quantity), label=words.of(row.label), value=measured)  # fmt: skip

    def fails(name: Told) -> Told:
        return lambda words: words.fixed("drill-fails-severity", severity=name(words))

    meets: Told = lambda words: words.fixed("drill-meets")  # noqa: E731
    if only:
        right = fails(told(only.ruling.severity.name))
        others = [fails(told(s.name)) for s in rulebook.severities if s.id != only.ruling.severity.id]
    else:
        right, others = (lambda words: words.fixed("drill-fails")), []
    if value.result.passes:
        right, others = meets, [right, *others]
    else:
        others = [meets, *others]
    offered = choices(name, text, right, others, languages)
    if offered is None:
        return None
    decides = only if not value.result.passes else None
    reason = _figure_in_words(limit, row, words)
    return Question(
        id=name, kind="measured", entry_ids=ground.entry_ids, system_id=ground.system_id,
        severity_id=decides.ruling.severity.id if decides else "", text=text(words), choices=offered,
        reason=f"{reason} {words.reason(decides.ruling)}" if decides else reason,
        source="; ".join([_source(catalogue, row, words), *([words.source(decides.ruling)] if decides else [])]),
        confirmed=row.confirmed and (only is None or only.confirmed), level=value.level,
    )  # fmt: skip


def _which_figure(
    catalogue: Catalogue, rulebook_id: str, ground: _Ground, languages: Sequence[Words]
) -> Question | None:
    words, limit, row = languages[0], ground.limit, ground.row
    name = question_id("figure", rulebook_id, limit.id, sorted(row.when.items()), row.value, row.upper)

    def text(words: Words) -> str:
        return words.fixed("drill-ask-figure", rulebook=words.of(catalogue.rulebook[rulebook_id].short_name),
                           quantity=words.of(limit.quantity), label=words.of(row.label))  # fmt: skip

    others = [_figure(limit, other.row) for other in _other_figures(catalogue, ground, name)]
    offered = choices(name, text, _figure(limit, row), others, languages, least_wrong=2)
    if offered is None:
        return None
    return Question(
        id=name, kind="figure", entry_ids=ground.entry_ids, system_id=ground.system_id, severity_id="",
        text=text(words), choices=offered, reason=_figure_in_words(limit, row, words),
        source=_source(catalogue, row, words), confirmed=row.confirmed, level=2 if len(limit.rows) > 3 else 1,
    )  # fmt: skip


def _other_figures(catalogue: Catalogue, ground: _Ground, seed: str) -> list[_Row]:
    """Other figures, the nearest first, no two close to one another.

    Lines that are written like this one come first, or its units would tell it, and a line with words of its own,
    such as "2, red, rear", has no others; then rows of the same limit before those of others in the same unit. A row of
    the same rulebook, or of no rulebook, counts only where its conditions contradict this row's: otherwise it might hold
    here as well.
    """

    shape, plain = _shape(ground.row), plain_line(ground.row)

    def away(one: _Row) -> tuple[bool, bool, Fraction, bytes]:
        value, here = Fraction(one.row.value), Fraction(ground.row.value)
        far = max(value, here) / min(value, here) if value > 0 and here > 0 else Fraction(100)
        return _shape(one.row) != shape, one.limit is not ground.limit, far, order_by_seed(seed, one.limit.id, sorted(one.row.when.items()))

    line = _rest_of_line(ground.row)
    candidates = [
        _Row(limit, row) for limit in catalogue.limits for row in limit.rows
        if limit.unit == ground.limit.unit and (row.upper is None) == (ground.row.upper is None)
        and (_may_stand_beside(ground, row) if limit is ground.limit
             else _rest_of_line(row) == line and plain_line(row))
        and (plain or _shape(row) == shape) and _words_beside(row) == _words_beside(ground.row)
    ]  # fmt: skip
    found: list[_Row] = []
    for one in sorted(candidates, key=away):
        if len(found) == MOST_OTHERS:
            break
        if not any(_near(_value(one), _value(other)) for other in (ground, *found)):
            found.append(one)
    return found


def _may_stand_beside(ground: _Ground, row: LimitRow) -> bool:
    if row.rulebook not in (None, ground.row.rulebook):
        return True
    return any(key in row.when and row.when[key] != value for key, value in ground.row.when.items())


def _value(one: _Ground | _Row) -> Fraction:
    return Fraction(one.row.value)


def _near(one: Fraction, other: Fraction) -> bool:
    return abs(one - other) <= 2 * CLOSE * max(one, other)


def _shape(row: LimitRow) -> str:
    """How a line is written: its letters and brackets without the figures, such as "mm(in)"."""
    return re.sub(r"[\s\d.,/]", "", wording_read(row.printed))


def _words_beside(row: LimitRow) -> set[str]:
    """Words of a line that would tell it from others at a glance: "of mercury", "1/4 full", "in one minute"."""
    return set(re.findall(r"[^\W\d_]{4,}", wording_read(row.printed).lower())) - UNITS_IN_WORDS


def _rest_of_line(row: LimitRow) -> str:
    return figures_removed(wording_read(row.printed))


def _figure(limit: LimitRecord, row: LimitRow) -> Told:
    """The figure as its source prints it, with which side of it is good."""

    def figure(words: Words) -> str:
        printed = words.of(row.printed)
        return printed if limit.compare == "between" else f"{words.fixed(f'compare-{limit.compare}')} {printed}"

    return figure


def _figure_in_words(limit: LimitRecord, row: LimitRow, words: Words) -> str:
    return words.fixed("drill-reason-figure", figure=_figure(limit, row)(words), label=words.of(row.label))


def _source(catalogue: Catalogue, row: LimitRow, words: Words) -> str:
    return words.place(catalogue.source[row.source].title, row.locator)
