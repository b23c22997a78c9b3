"""Measure it: every limit with its rows and figures, the defects it decides, and what others say."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from fractions import Fraction
from typing import Any

from ..catalogue import Catalogue, LimitRecord, LimitRow
from ..catalogue.brake_set import SHARE, STROKE, rule_of
from ..catalogue.locator import locator_in
from ..catalogue.measure import Bound, bounds_of, has_more, only_divides, systems_of, unit_of
from ..catalogue.row_choice import conditions_of, own_rows
from ..catalogue.units import UNITS_OF_MEASURE
from .entry import EntryView, RulingView, view_ruling
from .grouping import entries_under, rulebook_named
from .measure_words import number_words
from .wording import fixed_word, in_language

OTHER_WORDS = ("not-confirmed", "source", "aid-short", "joined")
"""Words of the page's script that other outputs share."""


@dataclass(frozen=True, slots=True)
class BoundView:
    """A figure in one unit system: its exact value as numerator and denominator, and its unit."""

    value: str
    unit: str
    converted: bool


@dataclass(frozen=True, slots=True)
class BoundsView:
    """The figures of a row in one unit system."""

    low: BoundView
    high: BoundView | None
    more: bool
    """Whether the source prints more figures than the two ends of a range."""


@dataclass(frozen=True, slots=True)
class MeasureRowView:
    """A row of a limit to hold a measure against."""

    label: str
    when: dict[str, str]
    printed: str
    bounds: dict[str, BoundsView]
    """By unit system: metric and imperial, or plain."""
    source_title: str
    locator: str
    basis_name: str
    confirmed: bool
    remark: str | None


@dataclass(frozen=True, slots=True)
class MeasureLimitView:
    """A limit that can be measured, under the rulebook in force."""

    id: str
    quantity: str
    method: str
    compare: str
    kind: str
    """length, pressure, time, angle, share or count."""
    table_unit: str
    own: tuple[MeasureRowView, ...]
    others: tuple[MeasureRowView, ...]
    entries: tuple[EntryView, ...]
    """The defects that it decides under the rulebook in force, worst first."""
    divides: bool
    """Whether it only tells one severity of them from another, so that what meets it can still be a defect."""
    related: tuple[str, ...]
    """Ids of other limits that decide one of the same defects."""


@dataclass(frozen=True, slots=True)
class UnitView:
    """A unit: its exact factor to the base unit of its kind, and how people write it."""

    id: str
    name: str
    kind: str
    factor: str
    system: str
    spellings: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class BrakeSetView:
    """What the rulebook in force says of a set of brakes."""

    rule: str
    limit_id: str
    rows: tuple[MeasureRowView, ...]
    past: str
    """How far past its limit a brake counts toward the share, in millimetres, exactly."""
    past_words: str
    share: MeasureRowView | None
    share_compare: str | None
    entry: EntryView | None
    ruling: RulingView | None


@dataclass(frozen=True, slots=True)
class MeasureView:
    """All that the page and its script need."""

    language: str
    limits: tuple[MeasureLimitView, ...]
    units: tuple[UnitView, ...]
    brake_set: BrakeSetView | None
    words: dict[str, str]


def view_measure(catalogue: Catalogue, rulebook_id: str, language: str) -> MeasureView:
    """Every limit that can be measured, those with figures of the rulebook first, in the order of their table.

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
        MissingWording: words.yaml lacks a word.
    """
    rulebook_named(catalogue, rulebook_id)
    entries = entries_under(catalogue, rulebook_id, language)
    limits = [_limit(catalogue, limit, rulebook_id, entries, language) for limit in catalogue.limits]
    limits.sort(key=lambda limit: not limit.own)
    words = {
        key: in_language(text, language)
        for key, text in catalogue.words.items()
        if key.startswith(("measure-", "compare-")) or key in OTHER_WORDS
    }
    units = tuple(
        UnitView(
            unit.id,
            fixed_word(catalogue, f"measure-unit-{unit.id}", language),
            unit.dimension,
            exact(unit.factor),
            unit.system,
            unit.spellings,
        )
        for unit in UNITS_OF_MEASURE.values()
    )
    return MeasureView(
        language, tuple(limits), units, _brake_set(catalogue, rulebook_id, entries, language), words
    )


def measure_data(view: MeasureView) -> dict[str, Any]:
    """What the page's script needs, ready for JSON: defects by id only, since the page itself shows them."""
    limits = [
        {
            "id": limit.id,
            "quantity": limit.quantity,
            "method": limit.method,
            "compare": limit.compare,
            "kind": limit.kind,
            "table_unit": limit.table_unit,
            "own": [asdict(row) for row in limit.own],
            "others": [asdict(row) for row in limit.others],
            "entries": [entry.id for entry in limit.entries],
            "divides": limit.divides,
            "related": limit.related,
        }
        for limit in view.limits
    ]
    brake_set = None
    if view.brake_set:
        brakes = view.brake_set
        ruling = brakes.ruling
        brake_set = {
            "rule": brakes.rule,
            "limit_id": brakes.limit_id,
            "rows": [asdict(row) for row in brakes.rows],
            "past": brakes.past,
            "past_words": brakes.past_words,
            "share": asdict(brakes.share) if brakes.share else None,
            "share_compare": brakes.share_compare,
            "entry": brakes.entry.id if brakes.entry else None,
            "item": ruling
            and {"text": ruling.item_text, "locator": ruling.locator, "confirmed": ruling.confirmed},
        }
    return {
        "language": view.language,
        "limits": limits,
        "units": [asdict(unit) for unit in view.units],
        "brake_set": brake_set,
        "words": view.words,
    }


def measured_entries(view: MeasureView) -> tuple[EntryView, ...]:
    """Every defect that a limit of the view decides, once, in the order of the limits."""
    return tuple({entry.id: entry for limit in view.limits for entry in limit.entries}.values())


def exact(value: Fraction) -> str:
    """A rational number as "numerator/denominator", for a script that counts in whole numbers."""
    return f"{value.numerator}/{value.denominator}"


def deciding(catalogue: Catalogue, limit_id: str, rulebook_id: str, language: str) -> tuple[EntryView, ...]:
    """The defects that a limit decides under a rulebook, worst first."""
    return _decided(limit_id, entries_under(catalogue, rulebook_id, language), catalogue, rulebook_id)


def related_limits(catalogue: Catalogue, limit: LimitRecord) -> tuple[LimitRecord, ...]:
    """Other limits that decide one of the same defects, such as the angle where a wheel is not in the table."""
    shared = {other.id for entry in catalogue.entries if limit in entry.limits for other in entry.limits}
    return tuple(other for other in catalogue.limits if other.id in shared and other.id != limit.id)


def _decided(
    limit_id: str, entries: tuple[EntryView, ...], catalogue: Catalogue, rulebook_id: str
) -> tuple[EntryView, ...]:
    found = [entry for entry in entries if any(limit.id == limit_id for limit in entry.limits)]
    return tuple(
        sorted(found, key=lambda entry: -catalogue.entry[entry.id].rulings_under(rulebook_id)[0].rank)
    )


def _limit(
    catalogue: Catalogue, limit: LimitRecord, rulebook_id: str, entries: tuple[EntryView, ...], language: str
) -> MeasureLimitView:
    own = own_rows(limit, rulebook_id)
    decided = _decided(limit.id, entries, catalogue, rulebook_id)
    return MeasureLimitView(
        id=limit.id,
        quantity=in_language(limit.quantity, language),
        method=in_language(limit.method, language),
        compare=limit.compare,
        kind=unit_of(limit).dimension,
        table_unit=unit_of(limit).id,
        own=tuple(_row(catalogue, limit, row, language) for row in own),
        others=tuple(_row(catalogue, limit, row, language) for row in limit.rows if row not in own),
        entries=decided,
        divides=only_divides(limit, (catalogue.entry[entry.id] for entry in decided), rulebook_id),
        related=tuple(other.id for other in related_limits(catalogue, limit)),
    )


def _row(catalogue: Catalogue, limit: LimitRecord, row: LimitRow, language: str) -> MeasureRowView:
    bounds = {}
    for system in systems_of(limit):
        here = bounds_of(limit, row, system)
        high = _bound(here.high) if here.high else None
        bounds[system] = BoundsView(_bound(here.low), high, has_more(limit, row))
    return MeasureRowView(
        label=in_language(row.label, language),
        when=conditions_of(row),
        printed=in_language(row.printed, language),
        bounds=bounds,
        source_title=in_language(catalogue.source[row.source].title, language),
        locator=locator_in(catalogue, row.locator, language),
        basis_name=fixed_word(catalogue, f"basis-{row.basis}", language),
        confirmed=row.confirmed,
        remark=in_language(row.remark, language) if row.remark else None,
    )


def _bound(bound: Bound) -> BoundView:
    return BoundView(exact(bound.value), bound.unit.id, bound.converted)


def _brake_set(
    catalogue: Catalogue, rulebook_id: str, entries: tuple[EntryView, ...], language: str
) -> BrakeSetView | None:
    rule = rule_of(catalogue, rulebook_id)
    if rule is None:
        return None
    share = _row(catalogue, rule.share, rule.share_row, language) if rule.share and rule.share_row else None
    return BrakeSetView(
        rule=rule.rule,
        limit_id=STROKE,
        rows=tuple(_row(catalogue, rule.stroke, row, language) for row in rule.rows),
        past=exact(rule.counts_from),
        past_words=number_words(catalogue, rule.past, UNITS_OF_MEASURE["mm"], language),
        share=share,
        share_compare=catalogue.limit[SHARE].compare if share else None,
        entry=next((e for e in entries if rule.entry and e.id == rule.entry.id), None),
        ruling=view_ruling(catalogue, rule.ruling, language) if rule.ruling else None,
    )
