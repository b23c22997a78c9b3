"""Every row of every table: at the figure, just under and just over it, in each unit system, in program and page."""

from __future__ import annotations

import re
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


INCH = Fraction("25.4")
POUND = Fraction("0.45359237") * Fraction("9.80665")
BASE = {"mm": Fraction(1), "cm": Fraction(10), "m": Fraction(1000), "in": INCH, "ft": 12 * INCH,
        "kPa": Fraction(1), "psi": POUND / (INCH / 1000) ** 2 / 1000}  # fmt: skip
"""Units in millimetres and kilopascals: exact, from the inch and the pound of 1959 and the standard gravity of 1901."""
SYSTEMS = {"metric": ("mm", "cm", "m", "kPa"), "imperial": ("in", "ft", "psi")}
NUMBER = r"(\d+ \d+/\d+|\d+/\d+|\d+(?:[.,]\d+)*)"
FIGURE = re.compile(rf"{NUMBER}(?: to {NUMBER})? ({'|'.join(BASE)})\b")
Ends = tuple[tuple[Fraction, ...], str]
"""A figure, or the two ends of a range, and the unit."""


def ends_of(limit: LimitRecord, row: LimitRow) -> dict[str, Ends] | None:
    """What a person reads in a row, in each unit system: as the source prints it there, else converted from the other.

    None where the source prints more than one figure in a system, or millimetres of mercury: no such row is read here.
    """
    if unit_of(limit).dimension not in ("length", "pressure"):
        return {"plain": (tuple(Fraction(one) for one in (row.value, row.upper) if one is not None), limit.unit)}
    printed = [(tuple(sum(map(Fraction, one.replace(",", "").split())) for one in (low, high) if one), unit)
               for low, high, unit in FIGURE.findall(row.printed["en"])]  # fmt: skip
    found = {system: [one for one in printed if one[1] in units] for system, units in SYSTEMS.items()}
    if not printed or "mercury" in row.printed["en"] or any(len(figures) > 1 for figures in found.values()):
        return None
    other, length = printed[0], unit_of(limit).dimension == "length"
    target = {"metric": "mm" if length else "kPa", "imperial": "in" if length else "psi"}
    converted = {system: (tuple(end * BASE[other[1]] / BASE[unit] for end in other[0]), unit) for system, unit in target.items()}
    return {system: (*figures, converted[system])[0] for system, figures in found.items()}


def quantity_at(limit: LimitRecord, value: Fraction, unit: str) -> Quantity:
    return Quantity(value, UNITS_OF_MEASURE[unit.lower()] if unit in BASE else unit_of(limit))


def test_a_row_is_judged_at_just_under_and_just_over_its_figure(shipped: Catalogue) -> None:
    judged, passed_over = 0, 0
    for limit, row in every_row(shipped):
        if limit.compare in ("between", "about"):
            continue
        read = ends_of(limit, row)
        if read is None:
            passed_over += 1
            continue
        for (end, *_), unit in read.values():
            for step in (-JUST, Fraction(0), JUST):
                result = measure(limit, row, quantity_at(limit, end + step, unit))
                passes = PASSES_AT[limit.compare] if not step else PASSES_ABOVE[limit.compare] == (step > 0)
                where = (limit.id, row.printed, unit, step)
                assert result.passes is passes, where
                assert unit not in BASE or result.by == abs(step) * BASE[unit], where
                states = (
                    ("at-within", "at-beyond") if not step else ("within", "over" if step > 0 else "under")
                )
                assert result.state == states[not passes], where
                judged += 1
    assert judged > 1000
    assert passed_over < 10


def test_a_range_is_judged_at_both_ends(shipped: Catalogue) -> None:
    ranges = [(limit, row, ends_of(limit, row)) for limit, row in every_row(shipped) if limit.compare == "between"]
    read = [(limit, row, ends, unit) for limit, row, by_system in ranges if by_system for ends, unit in by_system.values()]
    assert len(read) > 10
    for limit, row, (low, high), unit in read:
        assert measure(limit, row, quantity_at(limit, low - JUST, unit)).state == "under"
        assert measure(limit, row, quantity_at(limit, high + JUST, unit)).state == "over"
        ends = [measure(limit, row, quantity_at(limit, end, unit)) for end in (low, high)]
        assert [end.state for end in ends] == ["at-within"] * 2, row.printed


def test_a_range_of_which_the_source_prints_more_figures_is_not_decided_at_its_ends(shipped: Catalogue) -> None:
    several = [(limit, row) for limit, row in every_row(shipped) if limit.compare == "between" and "805" in row.printed["en"]]
    assert several
    for limit, row in several:
        for end in (row.value, row.upper):
            assert measure(limit, row, Quantity(Fraction(end), unit_of(limit))).state == "undecided", row.printed


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
