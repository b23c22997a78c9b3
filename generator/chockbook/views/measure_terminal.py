"""Measure it, as lines of plain text for the terminal."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from ..catalogue import Catalogue, LimitRecord, LimitRow
from ..catalogue.locator import locator_in
from ..catalogue.measure import Result, UnfitMeasure, measure, only_divides
from ..catalogue.quantity import Malformed, Quantity, parse_quantity
from ..catalogue.row_choice import RowChoice, choose_row
from .entry import EntryView
from .measure import deciding, related_limits
from .measure_words import error_words, fill, result_lines
from .wording import fixed_word, in_language, joined


class NotMeasured(ValueError):
    """Nothing could be measured: no such figure, or a text that is not a measure. The message is for the reader."""


def run(
    catalogue: Catalogue,
    rulebook: str,
    language: str,
    limit_id: str,
    value_text: str,
    conditions: Mapping[str, str],
) -> list[str]:
    """The answer to a measure in lines: within or over, by how much, which defect it is and what to do.

    Args:
        catalogue: the checked catalogue.
        rulebook: id of the rulebook in force.
        language: code of the language.
        limit_id: id of what was measured, such as "pushrod-stroke".
        value_text: the measure as typed, such as "2 1/4 in".
        conditions: what it applies to, such as {"chamber": "30", "stroke": "standard"}.

    Raises:
        NotMeasured: there is no such figure, or the text is not a measure of its kind.
    """
    limit = catalogue.limit.get(limit_id)
    if limit is None:
        known = "\n".join(f"  {joined(catalogue, one.id, in_language(one.quantity, language), language)}" for one in catalogue.limits)
        unknown = fill(fixed_word(catalogue, "measure-error-unknown-limit", language), {"read": limit_id})
        raise NotMeasured(f"{unknown}\n{known}")
    try:
        quantity = parse_quantity(value_text, language)
        return list(measure_lines(catalogue, limit, quantity, rulebook, language, conditions))
    except (Malformed, UnfitMeasure) as error:
        raise NotMeasured(error_words(catalogue, error, value_text, language)) from error


def measure_lines(
    catalogue: Catalogue,
    limit: LimitRecord,
    quantity: Quantity,
    rulebook: str,
    language: str,
    conditions: Mapping[str, str],
) -> Iterator[str]:
    """A measure held against the figure of the rulebook in force, then what others say of it.

    Raises:
        UnfitMeasure: the measure is of another kind, or its unit is not known.
    """

    def word(key: str) -> str:
        return fixed_word(catalogue, key, language)

    choice = choose_row(limit, rulebook, conditions)
    yield f"{in_language(limit.quantity, language)}   [{limit.id}]"
    if choice.row:
        result = measure(limit, choice.row, quantity)
        yield from _judged(catalogue, limit, choice.row, result, rulebook, language)
    elif not choice.own:
        yield word("measure-no-own")
    else:
        yield from not_chosen(catalogue, choice, language)
        yield from _related(catalogue, limit, language)
    if choice.others:
        yield ""
        yield word("measure-others")
        for row in choice.others:
            lines = result_lines(
                catalogue, limit, in_language(row.printed, language), measure(limit, row, quantity), language
            )
            yield f"  {joined(catalogue, _row_line(catalogue, limit, row, language), lines[0], language)}"
    yield ""
    yield joined(catalogue, word("measure-how"), in_language(limit.method, language), language)
    yield word("aid-line")


def _judged(
    catalogue: Catalogue, limit: LimitRecord, row: LimitRow, result: Result, rulebook: str, language: str
) -> Iterator[str]:
    def word(key: str) -> str:
        return fixed_word(catalogue, key, language)

    first, *more = result_lines(catalogue, limit, in_language(row.printed, language), result, language)
    yield first.upper() if result.passes is False else first
    yield f"  {_row_line(catalogue, limit, row, language)}"
    yield from (f"  {line}" for line in more)
    source = in_language(catalogue.source[row.source].title, language)
    source = f"{source}, {locator_in(catalogue, row.locator, language)} ({word('basis-' + row.basis)})"
    yield f"  {joined(catalogue, word('source'), source, language)}"
    if row.remark:
        yield f"  {in_language(row.remark, language)}"
    if not row.confirmed:
        yield f"  {word('measure-unconfirmed')}"
    yield from _meaning(catalogue, limit, result, rulebook, language)


def _meaning(
    catalogue: Catalogue, limit: LimitRecord, result: Result, rulebook: str, language: str
) -> Iterator[str]:
    yield ""
    if result.passes is None:
        return
    entries = deciding(catalogue, limit.id, rulebook, language)
    if result.passes and not only_divides(limit, (catalogue.entry[entry.id] for entry in entries), rulebook):
        yield fixed_word(catalogue, "measure-no-defect", language)
        return
    if result.passes:
        yield fixed_word(catalogue, "measure-met-but", language)
        for entry in entries:
            yield from entry_lines(catalogue, entry, language)
        return
    keys = {0: "measure-decides-nothing", 1: "measure-is-defect"}
    yield fixed_word(catalogue, keys.get(len(entries), "measure-pick-one"), language)
    for entry in entries:
        yield from entry_lines(catalogue, entry, language)


def entry_lines(catalogue: Catalogue, entry: EntryView, language: str) -> Iterator[str]:
    """A defect with its outcomes and actions."""
    unsure = fixed_word(catalogue, "not-confirmed", language)
    yield f"  {entry.heading}   [{entry.id}]"
    for ruling in entry.rulings:
        when = f" ({ruling.applies_when})" if ruling.applies_when else ""
        mark = "" if ruling.confirmed else f" [{unsure}]"
        yield f"    {ruling.outcome.upper()} - {ruling.severity_name}{when}{mark}"
        for number, action in enumerate(ruling.actions, 1):
            yield f"      {number}. {action.text}" + ("" if action.confirmed else f" ({unsure})")


def _row_line(catalogue: Catalogue, limit: LimitRecord, row: LimitRow, language: str) -> str:
    compare = (
        ""
        if limit.compare == "between"
        else fixed_word(catalogue, f"compare-{limit.compare}", language) + " "
    )
    return joined(catalogue, in_language(row.label, language), f"{compare}{in_language(row.printed, language)}", language)


def not_chosen(catalogue: Catalogue, choice: RowChoice, language: str) -> Iterator[str]:
    """Why no row was chosen: the conditions that are still open, or the rows that there are."""
    if choice.outside:
        yield fixed_word(catalogue, "measure-outside", language)
        rows = choice.own
    else:
        asked = "; ".join(f"{key} ({', '.join(values)})" for key, values in choice.asked.items())
        yield fill(fixed_word(catalogue, "measure-ask", language), {"asked": asked})
        rows = ()
    for row in rows:
        when = ", ".join(f"{key}={value}" for key, value in row.when.items())
        line = joined(catalogue, in_language(row.label, language), in_language(row.printed, language), language)
        yield f"  {line}" + (f"   [{when}]" if when else "")


def _related(catalogue: Catalogue, limit: LimitRecord, language: str) -> Iterator[str]:
    related = related_limits(catalogue, limit)
    if related:
        yield fixed_word(catalogue, "measure-related", language)
        for other in related:
            yield f"  {in_language(other.quantity, language)}   [{other.id}]"
