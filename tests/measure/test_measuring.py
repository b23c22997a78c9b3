"""Every row of every table: at the figure, just under and just over it, in each unit system, in program and
page."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Any

import pytest

from chockbook.catalogue import Catalogue, LimitRecord, LimitRow
from chockbook.catalogue.measure import UnfitMeasure, bounds_of, figures_of, measure, systems_of, unit_of
from chockbook.catalogue.quantity import Quantity, parse_quantity
from chockbook.catalogue.row_choice import choose_row, conditions_of, own_rows
from chockbook.catalogue.units import UNITS_OF_MEASURE
from chockbook.views.measure_words import result_lines

JUST = Fraction(1, 1000)
PASSES_AT = {"at-most": True, "at-least": True, "less-than": False, "more-than": False}
PASSES_ABOVE = {"at-most": False, "at-least": True, "less-than": False, "more-than": True}

MEASURE_IN_PAGE = """({cases, data}) => cases.map(([limitId, own, at, value, unitId]) => {
  const M = window.ChockbookMeasure;
  const limit = data.limits.find((one) => one.id === limitId);
  const row = (own ? limit.own : limit.others)[at];
  const unit = data.units.find((one) => one.id === unitId);
  const quantity = { value: M.exact(value), unit, isFraction: false };
  const result = M.measure(limit, row, quantity, data);
  return [result.state, result.passes, result.bound.converted, `${result.by.n}/${result.by.d}`,
    M.resultLines(limit, row.printed, result, data)];
})"""


def every_row(catalogue: Catalogue) -> Iterator[tuple[LimitRecord, LimitRow]]:
    for limit in catalogue.limits:
        for row in limit.rows:
            yield limit, row


def test_a_row_is_judged_at_just_under_and_just_over_its_figure(shipped: Catalogue) -> None:
    judged = 0
    for limit, row in every_row(shipped):
        if limit.compare in ("between", "about"):
            continue
        for system in systems_of(limit):
            low = bounds_of(limit, row, system).low
            for step in (-JUST, Fraction(0), JUST):
                result = measure(limit, row, Quantity(low.value + step, low.unit))
                passes = PASSES_AT[limit.compare] if not step else PASSES_ABOVE[limit.compare] == (step > 0)
                where = (limit.id, row.printed, system, step)
                assert result.passes is passes, where
                assert result.by == abs(step) * low.unit.factor, where
                states = (
                    ("at-within", "at-beyond") if not step else ("within", "over" if step > 0 else "under")
                )
                assert result.state == states[not passes], where
                judged += 1
    assert judged > 1000


def test_a_range_is_judged_at_both_ends(shipped: Catalogue) -> None:
    ranges = [(limit, row) for limit, row in every_row(shipped) if limit.compare == "between"]
    assert ranges
    for limit, row in ranges:
        for system in systems_of(limit):
            bounds = bounds_of(limit, row, system)
            assert bounds.high is not None
            assert measure(limit, row, Quantity(bounds.low.value - JUST, bounds.low.unit)).state == "under"
            assert measure(limit, row, Quantity(bounds.high.value + JUST, bounds.high.unit)).state == "over"
            ends = [measure(limit, row, Quantity(end.value, end.unit)) for end in (bounds.low, bounds.high)]
            several = "805" in row.printed["en"]
            assert [end.state for end in ends] == ["undecided" if several else "at-within"] * 2, row.printed


def test_a_figure_that_says_about_decides_nothing(shipped: Catalogue) -> None:
    limit = shipped.limit["warning-device-distance"]
    for row in limit.rows:
        for text in ("1 m", "30 m", "900 ft"):
            result = measure(limit, row, parse_quantity(text))
            assert (result.state, result.passes, result.why) == ("undecided", None, "about")


@pytest.mark.parametrize(
    ("limit_id", "conditions", "text", "state", "converted"),
    [
        # Ontario's chart prints 51 mm (2 in) for type 30 and 44 mm (1 3/4 in) for type 20: 2 in is 50.8 mm.
        ("pushrod-stroke", {"chamber": "30", "stroke": "standard"}, "2 in", "at-within", False),
        ("pushrod-stroke", {"chamber": "30", "stroke": "standard"}, "51 mm", "at-within", False),
        ("pushrod-stroke", {"chamber": "30", "stroke": "standard"}, "2 1/64 in", "over", False),
        ("pushrod-stroke", {"chamber": "20", "stroke": "standard"}, "1 3/4", "at-within", False),
        ("pushrod-stroke", {"chamber": "20", "stroke": "standard"}, "44.1 mm", "over", False),
        # 10 mm (3/8 in): 3/8 in is 9.525 mm, so 9.6 mm passes and 0.38 in fails.
        ("pintle-movement", {}, "9.6 mm", "within", False),
        ("pintle-movement", {}, "0.38 in", "over", False),
        # 3 mm (0.12 in): 0.12 in is 3.048 mm.
        ("tread-depth", {"axle": "front"}, "3 mm", "at-within", False),
        ("tread-depth", {"axle": "front"}, "0.12 in", "at-within", False),
        ("tread-depth", {"axle": "front"}, "3 32nds", "under", False),
        ("tread-depth", {"axle": "front"}, "4/32", "within", False),
    ],
)
def test_the_figure_of_the_system_measured_in_decides(
    limit_id: str, conditions: dict[str, str], text: str, state: str, converted: bool, shipped: Catalogue
) -> None:
    limit = shipped.limit[limit_id]
    choice = choose_row(limit, "on-s1", conditions)
    assert choice.row is not None
    result = measure(limit, choice.row, parse_quantity(text))
    assert (result.state, result.bound.converted) == (state, converted)


@pytest.mark.parametrize(
    ("rulebook", "limit_id", "conditions", "text", "state"),
    [
        (
            "qc-list-1",
            "fifth-wheel-movement",
            {},
            "1/2 in",
            "within",
        ),  # 12.8 mm printed alone; 1/2 in is 12.7 mm
        ("qc-list-1", "fifth-wheel-movement", {}, "0.504 in", "over"),  # 12.8016 mm
        ("us-fmcsr", "fifth-wheel-movement", {}, "12.7 mm", "at-within"),  # 1/2 in printed alone
        ("us-fmcsr", "tread-depth", {"axle": "front"}, "3.175 mm", "at-within"),  # 4/32 in
        ("us-fmcsr", "tread-depth", {"axle": "front"}, "3.17 mm", "under"),
        ("qc-list-1", "air-loss-applied", {"units": "2"}, "6.96 psi", "within"),  # 48 kPa is 6.9618 psi
        ("qc-list-1", "air-loss-applied", {"units": "2"}, "7 psi", "over"),
    ],
)
def test_a_figure_printed_in_one_system_is_converted_exactly_and_says_so(
    rulebook: str, limit_id: str, conditions: dict[str, str], text: str, state: str, shipped: Catalogue
) -> None:
    limit = shipped.limit[limit_id]
    row = choose_row(limit, rulebook, conditions).row
    assert row is not None
    result = measure(limit, row, parse_quantity(text))
    assert (result.state, result.bound.converted) == (state, True)
    assert any(
        "converted exactly" in line for line in result_lines(shipped, limit, row.printed["en"], result, "en")
    )


def test_every_printed_figure_was_recognized(shipped: Catalogue) -> None:
    """A length or pressure whose printed figure is not recognized would be judged by a conversion unseen."""
    for limit, row in every_row(shipped):
        if len(systems_of(limit)) == 2:
            wanted = 2 if row.upper is not None else 1
            assert len(figures_of(limit, row)) >= wanted, (limit.id, row.printed)
            both = [bounds_of(limit, row, system).low.converted for system in systems_of(limit)]
            assert not all(both), (limit.id, row.printed)


def test_every_own_row_is_reached_by_its_conditions_and_no_other(shipped: Catalogue) -> None:
    reached = 0
    for rulebook in shipped.rulebooks:
        for limit in shipped.limits:
            for row in own_rows(limit, rulebook.id):
                assert choose_row(limit, rulebook.id, conditions_of(row)).row == row, (limit.id, row.when)
                reached += 1
    assert reached > 150


def test_nothing_is_worked_out_between_rows(shipped: Catalogue) -> None:
    wheel = choose_row(
        shipped.limit["steering-free-play"], "us-fmcsr", {"wheel": "470", "steering": "manual"}
    )
    assert wheel.row is None
    assert wheel.outside
    assert len(wheel.own) == 12
    open_ = choose_row(shipped.limit["steering-free-play"], "us-fmcsr", {"wheel": "457"})
    assert open_.row is None
    assert open_.asked == {"steering": ("manual", "power")}


def test_a_unit_is_never_guessed(shipped: Catalogue) -> None:
    row = shipped.limit["pushrod-stroke"].rows[0]
    for text, kind in (
        ("2", "unit-needed"),
        ("2.25", "unit-needed"),
        ("2 psi", "wrong-kind"),
        ("20 %", "wrong-kind"),
    ):
        with pytest.raises(UnfitMeasure) as refused:
            measure(shipped.limit["pushrod-stroke"], row, parse_quantity(text))
        assert refused.value.kind == kind


def test_the_page_says_the_same_of_every_row(in_page, data_of, shipped: Catalogue) -> None:
    compared = 0
    for rulebook in shipped.rulebooks:
        cases: list[list[Any]] = []
        expected: list[list[Any]] = []
        for limit in shipped.limits:
            own = own_rows(limit, rulebook.id)
            for is_own, rows in ((True, own), (False, tuple(row for row in limit.rows if row not in own))):
                for at, row in enumerate(rows):
                    for quantity in _around(limit, row):
                        unit = quantity.unit
                        value = f"{quantity.value.numerator}/{quantity.value.denominator}"
                        cases.append([limit.id, is_own, at, value, unit.id])
                        result = measure(limit, row, quantity)
                        by = f"{result.by.numerator}/{result.by.denominator}"
                        lines = result_lines(shipped, limit, row.printed["en"], result, "en")
                        expected.append([result.state, result.passes, result.bound.converted, by, lines])
        found = in_page(MEASURE_IN_PAGE, {"cases": cases, "data": data_of(rulebook.id)})
        for case, said, wanted in zip(cases, found, expected, strict=True):
            assert said == wanted, case
        compared += len(cases)
    assert compared > 4000


def _around(limit: LimitRecord, row: LimitRow) -> Iterator[Quantity]:
    for system in systems_of(limit):
        bounds = bounds_of(limit, row, system)
        for end in (bounds.low, bounds.high):
            if end:
                for step in (-JUST, Fraction(0), JUST, Fraction(1, 7)):
                    yield Quantity(end.value + step, end.unit)
    if unit_of(limit).dimension == "length":
        yield Quantity(Fraction(9, 4), UNITS_OF_MEASURE["in"])
        yield Quantity(Fraction(57, 10), UNITS_OF_MEASURE["cm"])
        yield Quantity(Fraction(5), UNITS_OF_MEASURE["32nds"])
