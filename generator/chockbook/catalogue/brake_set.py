"""The pushrod travel of every brake of a vehicle, and what a rulebook makes of the set.

site_templates/web/assets/measure/rule.js does the same; tests/measure holds the two together.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from .entry import Entry, Ruling
from .limit import LimitRecord, LimitRow
from .measure import Result, measure
from .printed_figures import printed_figures
from .quantity import Quantity
from .row_choice import own_rows
from .units import UNITS_OF_MEASURE
from .whole import Catalogue
from .wording import wording_read

STROKE = "pushrod-stroke"
SHARE = "brakes-past-stroke"
"""Names of the two limits: how far a pushrod may travel, and how many brakes may be past that."""

HALF_A_TENTH = Fraction(1, 20)
"""Millimetres."""

Rule = Literal["one-is-enough", "share", "share-borrowed", "silent", "no-figures"]


@dataclass(frozen=True, slots=True)
class SetRule:
    """What a rulebook says of a set of brakes."""

    rule: Rule
    """one-is-enough: a single brake past its limit is the defect. share: a share of the brakes is. share-borrowed: a share
    is, but the rulebook's own stroke limits were not read, so figures of another authority cannot decide. silent: the
    rulebook has a ruling that speaks of no share. no-figures: no ruling and no figure."""
    stroke: LimitRecord
    rows: tuple[LimitRow, ...]
    """The rulebook's own stroke limits; where it has none, those of others."""
    share: LimitRecord | None
    share_row: LimitRow | None
    past: Fraction
    """How far past its limit a brake counts toward the share, in millimetres; 0 where any length counts."""
    entry: Entry | None
    ruling: Ruling | None

    @property
    def counts_from(self) -> Fraction:
        """Millimetres past its limit from which a brake counts toward the share.

        A figure printed to a tenth of a millimetre is met by what rounds to it: 1/4 in is 6.35 mm, and counts as the
        6.4 mm that the source prints for it.
        """
        return max(self.past - HALF_A_TENTH, Fraction(0))


@dataclass(frozen=True, slots=True)
class SetResult:
    """What was found on a set of brakes."""

    rule: SetRule
    brakes: tuple[Result, ...]
    over: int
    """Brakes past their limit."""
    past: int
    """Brakes that count toward the share."""
    share: Result | None
    """What the share's own figure says; None where the rulebook has none."""
    defect: bool | None
    """Whether the set is the defect under the rulebook in force; None where the tables cannot tell."""


def rule_of(catalogue: Catalogue, rulebook_id: str) -> SetRule | None:
    """What a rulebook says of a set of brakes; None where the tables have no stroke limits at all."""
    stroke = catalogue.limit.get(STROKE)
    if stroke is None:
        return None
    share = catalogue.limit.get(SHARE)
    share_row = next(iter(own_rows(share, rulebook_id)), None) if share else None
    entry = next((e for e in catalogue.entries if any(limit.id == STROKE for limit in e.limits)), None)
    rulings = entry.rulings_under(rulebook_id) if entry else ()
    ruling = rulings[0] if rulings else None
    own = own_rows(stroke, rulebook_id)
    rule: Rule
    if share_row:
        rule = "share" if own else "share-borrowed"
    elif not own:
        rule = "silent" if ruling else "no-figures"
    elif ruling and not ruling.applies_when:
        rule = "one-is-enough"
    else:
        rule = "silent"
    past = Fraction(0)
    if share and share_row:
        past = next((f.in_base for f in printed_figures(wording_read(share.quantity)) if f.unit.dimension == "length"), Fraction(0))
    return SetRule(rule, stroke, own or stroke.rows, share, share_row, past, entry, ruling)


def judge_set(rule: SetRule, brakes: tuple[tuple[LimitRow, Quantity], ...]) -> SetResult:
    """What a rulebook makes of a set of brakes: for each its row of the stroke limits and its measured travel.

    Raises:
        UnfitMeasure: a travel is not a length, or its unit is not known.
        ValueError: there is no brake.
    """
    if not brakes:
        raise ValueError("a set has at least one brake")
    results = tuple(measure(rule.stroke, row, travel) for row, travel in brakes)
    over = sum(result.passes is False for result in results)
    past = sum(result.passes is False and result.by >= rule.counts_from for result in results)
    share = None
    if rule.share and rule.share_row:
        share = measure(rule.share, rule.share_row, _share(past, len(results)))
    defect: bool | None = None
    if rule.rule == "one-is-enough":
        defect = over > 0
    elif rule.rule == "share" and share:
        defect = share.passes is False
    return SetResult(rule, results, over, past, share, defect)


def _share(part: int, whole: int) -> Quantity:
    return Quantity(Fraction(part, whole), UNITS_OF_MEASURE["fraction"], True)
