"""Measure it, as lines of plain text for the terminal."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from ..catalogue import Catalogue, LimitRecord, LimitRow
from ..catalogue.brake_set import SetResult
from ..catalogue.locator import locator_in
from ..catalogue.measure import Result, UnfitMeasure, measure
from ..catalogue.quantity import Malformed, Quantity, parse_quantity
from ..catalogue.row_choice import RowChoice, choose_row
from ..catalogue.units import UNITS_OF_MEASURE
from .entry import EntryView
from .measure import deciding, related_limits
from .measure_words import error_words, fill, number_words, result_lines
from .wording import fixed_word, in_language


class NotMeasured(ValueError):
    """Nothing could be measured: no such figure, or a text that is not a measure. The message is for the
    reader."""


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
        known = "\n".join(f"  {one.id}: {in_language(one.quantity, language)}" for one in catalogue.limits)
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
        yield from _not_chosen(catalogue, choice, language)
        yield from _related(catalogue, limit, language)
    if choice.others:
        yield ""
        yield word("measure-others")
        for row in choice.others:
            lines = result_lines(
                catalogue, limit, in_language(row.printed, language), measure(limit, row, quantity), language
            )
            yield f"  {_row_line(catalogue, limit, row, language)}: {lines[0]}"
    yield ""
    yield f"{word('measure-how')}: {in_language(limit.method, language)}"
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
    yield f"  {word('source')}: {source}, {locator_in(catalogue, row.locator, language)} ({word('basis-' + row.basis)})"
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
    if result.passes:
        yield fixed_word(catalogue, "measure-no-defect", language)
        return
    entries = deciding(catalogue, limit.id, rulebook, language)
    keys = {0: "measure-decides-nothing", 1: "measure-is-defect"}
    yield fixed_word(catalogue, keys.get(len(entries), "measure-pick-one"), language)
    for entry in entries:
        yield from entry_lines(catalogue, entry, language)


def entry_lines(catalogue: Catalogue, entry: EntryView, language: str) -> Iterator[str]:
    """A defect with its outcomes and actions."""
    unsure = fixed_word(catalogue, "not-confirmed", language)
    yield f"  {entry.component_name}: {entry.condition}   [{entry.id}]"
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
    return f"{in_language(row.label, language)}: {compare}{in_language(row.printed, language)}"


def _not_chosen(catalogue: Catalogue, choice: RowChoice, language: str) -> Iterator[str]:
    if choice.outside:
        yield fixed_word(catalogue, "measure-outside", language)
        rows = choice.own
    else:
        asked = "; ".join(f"{key} ({', '.join(values)})" for key, values in choice.asked.items())
        yield fill(fixed_word(catalogue, "measure-ask", language), {"asked": asked})
        rows = ()
    for row in rows:
        when = ", ".join(f"{key}={value}" for key, value in row.when.items())
        yield f"  {in_language(row.label, language)}: {in_language(row.printed, language)}" + (
            f"   [{when}]" if when else ""
        )


def _related(catalogue: Catalogue, limit: LimitRecord, language: str) -> Iterator[str]:
    related = related_limits(catalogue, limit)
    if related:
        yield fixed_word(catalogue, "measure-related", language)
        for other in related:
            yield f"  {in_language(other.quantity, language)}   [{other.id}]"


def set_lines(catalogue: Catalogue, result: SetResult, rulebook: str, language: str) -> Iterator[str]:
    """A set of brakes: each brake's result, then what the rulebook makes of the set."""

    def word(key: str, **values: str) -> str:
        return fill(fixed_word(catalogue, key, language), values)

    rule = result.rule
    for number, brake in enumerate(result.brakes, 1):
        first = result_lines(catalogue, rule.stroke, "", brake, language)[0]
        yield f"{word('measure-set-brake', number=str(number))}: {first}"
    yield word("measure-set-count", over=str(result.over), total=str(len(result.brakes)))
    if result.share and rule.share and rule.share_row:
        share = result.share.measured
        yield word(
            "measure-set-share",
            past=number_words(catalogue, rule.past, UNITS_OF_MEASURE["mm"], language),
            number=str(result.past),
            total=str(len(result.brakes)),
            share=number_words(catalogue, share.value, share.unit, language),
        )
    yield from _set_rule(catalogue, result, language)
    if result.defect:
        entry = next(
            e
            for e in deciding(catalogue, rule.stroke.id, rulebook, language)
            if rule.entry and e.id == rule.entry.id
        )
        yield from entry_lines(catalogue, entry, language)
    elif result.over:
        yield word("measure-set-single")


def _set_rule(catalogue: Catalogue, result: SetResult, language: str) -> Iterator[str]:
    rule = result.rule
    keys = {
        "one-is-enough": "measure-set-one-is-enough",
        "share": "measure-set-share-rule",
        "share-borrowed": "measure-set-share-rule",
        "silent": "measure-set-silent",
        "no-figures": "measure-set-no-figures",
    }
    figure = ""
    if rule.share and rule.share_row:
        compare = fixed_word(catalogue, f"compare-{rule.share.compare}", language)
        figure = f"{compare} {in_language(rule.share_row.printed, language)}"
    yield fill(fixed_word(catalogue, keys[rule.rule], language), {"figure": figure})
    if rule.ruling:
        unsure = "" if rule.ruling.confirmed else f" [{fixed_word(catalogue, 'not-confirmed', language)}]"
        place = locator_in(catalogue, rule.ruling.locator, language)
        yield f"  {in_language(rule.ruling.item.text, language)} ({place}){unsure}"
    if rule.rule == "share-borrowed":
        yield fixed_word(catalogue, "measure-set-borrowed", language)
