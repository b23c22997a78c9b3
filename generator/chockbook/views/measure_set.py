"""A whole set of brakes, as lines of plain text for the terminal."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..catalogue import Catalogue, LimitRow
from ..catalogue.brake_set import SetResult, SetRule, judge_set, rule_of
from ..catalogue.locator import locator_in
from ..catalogue.measure import UnfitMeasure, measure
from ..catalogue.quantity import Malformed, Quantity, parse_quantity
from ..catalogue.row_choice import choose_among
from ..catalogue.units import UNITS_OF_MEASURE
from .measure import deciding
from .measure_terminal import NotMeasured, entry_lines, not_chosen
from .measure_words import error_words, fill, number_words, result_lines
from .wording import fixed_word, in_language, joined

MOST_BRAKES = 100
"""More than any vehicle has."""


def run_set(catalogue: Catalogue, rulebook: str, language: str, texts: Sequence[str]) -> list[str]:
    """What a rulebook makes of a set of brakes, in lines.

    Args:
        catalogue: the checked catalogue.
        rulebook: id of the rulebook in force.
        language: code of the language.
        texts: a text for each brake: what it is, a colon, and its pushrod travel, such as
            "chamber=30, stroke=standard: 2 1/4 in".

    Raises:
        NotMeasured: a text is not a brake, or the tables have no stroke limits; every fault in one message.
    """
    rule = rule_of(catalogue, rulebook)
    if rule is None or not texts or len(texts) > MOST_BRAKES:
        raise NotMeasured(fixed_word(catalogue, "measure-set-error-none", language))
    brakes, wrong = [], []
    for number, text in enumerate(texts, 1):
        try:
            brakes.append(_read_brake(catalogue, rule, text, language))
        except NotMeasured as error:
            name = fill(fixed_word(catalogue, "measure-set-brake", language), {"number": str(number)})
            wrong.append(joined(catalogue, name, error, language))
    if wrong:
        raise NotMeasured("\n".join(wrong))
    lines = list(set_lines(catalogue, judge_set(rule, tuple(brakes)), tuple(row for row, _ in brakes), rulebook, language))
    how = joined(catalogue, fixed_word(catalogue, "measure-how", language), in_language(rule.stroke.method, language), language)
    return [*lines, "", how, fixed_word(catalogue, "aid-line", language)]


def _read_brake(catalogue: Catalogue, rule: SetRule, text: str, language: str) -> tuple[LimitRow, Quantity]:
    """The row of the stroke limits that a text names, and the travel in it."""
    named, colon, travel = text.partition(":")
    pairs = [part.partition("=") for part in named.split(",")]
    if not colon or not all(equals and name.strip() and value.strip() for name, equals, value in pairs):
        raise NotMeasured(fill(fixed_word(catalogue, "measure-set-error-form", language), {"read": text}))
    choice = choose_among(rule.rows, (), {name.strip(): value for name, _, value in pairs})
    if choice.row is None:
        raise NotMeasured("\n".join(not_chosen(catalogue, choice, language)))
    try:
        quantity = parse_quantity(travel, language)
        measure(rule.stroke, choice.row, quantity)
    except (Malformed, UnfitMeasure) as error:
        raise NotMeasured(error_words(catalogue, error, travel.strip(), language)) from error
    return choice.row, quantity


def set_lines(
    catalogue: Catalogue, result: SetResult, rows: Sequence[LimitRow], rulebook: str, language: str
) -> Iterator[str]:
    """A set of brakes: each brake's result with its row of the limits, then what the rulebook makes of the set."""

    def word(key: str, **values: str) -> str:
        return fill(fixed_word(catalogue, key, language), values)

    rule = result.rule
    for number, (brake, row) in enumerate(zip(result.brakes, rows, strict=True), 1):
        first = result_lines(catalogue, rule.stroke, in_language(row.printed, language), brake, language)[0]
        figure = joined(catalogue, in_language(row.label, language), in_language(row.printed, language), language)
        unsure = "" if row.confirmed else f" [{word('not-confirmed')}]"
        yield joined(catalogue, f"{word('measure-set-brake', number=str(number))} ({figure}){unsure}", first, language)
    yield ""
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
