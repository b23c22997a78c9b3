"""Worked cases of a set of brakes under each rulebook, and the page's script on the same cases.

Ontario: Schedule 1, Part 1, major (a), one brake past its limit. United States: 49 CFR 393.47(e) speaks of a chamber
past its limit and, in what was read, of no share. Quebec: r. 32, s. 166(9), 20 % of the brakes at 6.4 mm or more past;
Quebec's own stroke limits were not read, so a verdict is not given there.
"""

from __future__ import annotations

import pytest

from chockbook.catalogue import Catalogue
from chockbook.catalogue.brake_set import judge_set, rule_of
from chockbook.catalogue.quantity import parse_quantity
from chockbook.views.measure_set import run_set, set_lines
from chockbook.views.measure_terminal import NotMeasured

TEN = ["45 mm"] * 8
CASES = [
    # rulebook, travels on type 30 standard chambers, over, past by 6.4 mm, share says, defect
    ("on-s1", ["51 mm", "2 in", "40 mm", "1 3/4"], 0, None, None, False),
    ("on-s1", ["51 mm", "51.1 mm", "40 mm", "1 3/4"], 1, None, None, True),
    ("us-fmcsr", ["50.8 mm", "2 in"], 0, None, None, False),
    ("us-fmcsr", ["50.8 mm", "2 1/16 in"], 1, None, None, True),
    ("qc-list-1", [*TEN, "57.4 mm", "52 mm"], 2, 1, "within", None),
    ("qc-list-1", [*TEN, "57.4 mm", "58 mm"], 2, 2, "at-beyond", None),
    ("qc-list-1", [*TEN, "57.3 mm", "58 mm"], 2, 1, "within", None),
    ("qc-list-1", [*TEN[:2], "60 mm", "60 mm"], 2, 2, "over", None),
    # 1/4 in is 6.35 mm: s. 166(9) prints 6.4 mm, to a tenth of a millimetre, and a ruler shows 1/4 in for it.
    ("qc-list-1", [*TEN, "2 1/4 in", "2 1/4 in"], 2, 2, "at-beyond", None),
]

SET_IN_PAGE = """({texts, at, data}) => {
  const M = window.ChockbookMeasure;
  const set = data.brake_set, limit = data.limits.find((one) => one.id === set.limit_id);
  const brakes = texts.map((text) => ({ row: set.rows[at], quantity: M.parse(text, data.units) }));
  const judged = M.judgeSet(set, limit, brakes, data);
  const states = judged.results.map((one) => one.state);
  return [judged.over, judged.past, judged.share && judged.share.state, judged.defect, states];
}"""


@pytest.mark.parametrize(("rulebook", "texts", "over", "past", "share", "defect"), CASES)
def test_a_set_is_judged_as_the_rulebook_says(
    rulebook: str, texts: list[str], over: int, past: int | None, share: str | None, defect: bool | None,
    shipped: Catalogue, in_page, data_of,
) -> None:  # fmt: skip
    rule = rule_of(shipped, rulebook)
    assert rule is not None
    at, row = next(
        (n, r)
        for n, r in enumerate(rule.rows)
        if r.when["chamber"] == "30" and r.when["stroke"] == "standard"
    )
    result = judge_set(rule, tuple((row, parse_quantity(text)) for text in texts))
    assert result.over == over
    if past is not None:
        assert result.past == past
    assert (result.share.state if result.share else None) == share
    assert result.defect is defect
    said = in_page(SET_IN_PAGE, {"texts": texts, "at": at, "data": data_of(rulebook)})
    states = [brake.state for brake in result.brakes]
    assert said == [result.over, result.past, share, defect, states]


def test_quebec_gives_no_verdict_by_borrowed_limits(shipped: Catalogue) -> None:
    rule = rule_of(shipped, "qc-list-1")
    assert rule is not None
    assert rule.rule == "share-borrowed"
    row = next(row for row in rule.rows if row.when["chamber"] == "30")
    lines = "\n".join(
        set_lines(shipped, judge_set(rule, ((row, parse_quantity("3 in")),)), (row,), "qc-list-1", "en")
    )
    assert "they give no verdict here" in lines
    assert "DO NOT DRIVE" not in lines


def test_ontario_stops_the_vehicle_for_one_brake(shipped: Catalogue) -> None:
    rule = rule_of(shipped, "on-s1")
    assert rule is not None
    row = next(row for row in rule.rows if row.when["chamber"] == "30")
    lines = "\n".join(set_lines(shipped, judge_set(rule, ((row, parse_quantity("3 in")),)), (row,), "on-s1", "en"))
    assert "One brake past its limit is enough" in lines
    assert "DO NOT DRIVE" in lines


def test_a_set_typed_in_the_terminal_is_judged_brake_by_brake_and_as_a_whole(shipped: Catalogue) -> None:
    # Schedule 1, Part 1, major (a): any brake past its limit. Type 30 standard: 2 in; type 24LS: 2 1/2 in.
    texts = ["chamber=30, stroke=standard: 2 1/16 in", "chamber=24LS, stroke=long: 2 1/2 in", "chamber=30,stroke=standard: 51 mm"]
    lines = run_set(shipped, "on-s1", "en", texts)
    assert lines[0].startswith("Brake 1 (Type 30, standard stroke: 51 mm (2 in))")
    assert "Over the figure" in lines[0]
    assert lines[1].startswith("Brake 2 (Type 24LS")
    assert "still within it" in lines[1]
    assert "still within it" in lines[2]
    assert "Past the limit: 1 of 3 brakes." in lines
    assert "    DO NOT DRIVE - Major" in lines
    assert any(line.startswith("A study and reference aid, not the law.") for line in lines)


def test_every_brake_that_cannot_be_read_is_told_in_one_message(shipped: Catalogue) -> None:
    texts = ["30 2 in", "chamber=30: 2 in", "chamber=99, stroke=standard: 2 in", "chamber=30, stroke=standard: 2 psi",
             "chamber=30, stroke=standard: 2 in"]  # fmt: skip
    with pytest.raises(NotMeasured) as caught:
        run_set(shipped, "on-s1", "en", texts)
    told = str(caught.value)
    assert "Brake 1: 30 2 in is not a brake." in told
    assert "Brake 2: Say what it applies to. Still open: stroke (standard)." in told
    assert "Brake 3: The table has no such row" in told
    assert "Type 36, standard stroke" in told
    assert "Brake 4: 2 psi does not fit" in told
    assert "Brake 5" not in told


@pytest.mark.parametrize("count", [0, 101])
def test_a_set_has_one_to_a_hundred_brakes(count: int, shipped: Catalogue) -> None:
    with pytest.raises(NotMeasured, match="1 to 100 brakes"):
        run_set(shipped, "on-s1", "en", ["chamber=30, stroke=standard: 2 in"] * count)
