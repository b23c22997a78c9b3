"""Every fact with a standing that the pages of one rulebook rest on, and the page that shows it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from ..catalogue import Catalogue, Standing
from .grouping import rulebook_named
from .schedule import part_anchor
from .wording import in_language


@dataclass(frozen=True, slots=True)
class Fact:
    """A fact: what kind it is, what it says, where it is shown, and the record of its standing."""

    kind: str
    """item, severity, action, duty, report or figure."""
    label: str
    page: str
    """Page that shows it, such as "schedule" or "severity/major"."""
    anchor: str | None
    standing: Standing
    locator_confirmed: bool
    n_entries: int
    """Entries that rest on it; 0 where it is not about entries."""


def facts_of(catalogue: Catalogue, rulebook_id: str, language: str) -> Iterator[Fact]:
    """The facts of a rulebook in the order of its tables, then every figure.

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
        MissingWording: a text has not been written in the language.
    """
    rulebook = rulebook_named(catalogue, rulebook_id)
    resting: dict[str, int] = {}
    for entry in catalogue.entries:
        rulings = entry.rulings_under(rulebook_id)
        for item_id in {item.id for ruling in rulings for item in (ruling.item, *ruling.also)}:
            resting[item_id] = resting.get(item_id, 0) + 1
    deciding: dict[str, int] = {}
    for entry in catalogue.entries:
        for limit in entry.limits:
            deciding[limit.id] = deciding.get(limit.id, 0) + 1

    for severity in rulebook.severities:
        name = in_language(severity.name, language)
        yield Fact("severity", name, f"severity/{severity.id}", None, severity, severity.confirmed, 0)
    for action in rulebook.actions:
        text = in_language(action.text, language)
        yield Fact("action", text, f"actions/{action.id}", None, action, action.confirmed, 0)
    for schedule in rulebook.schedules:
        for part in schedule.parts:
            for item in part.items:
                yield Fact(
                    kind="item",
                    label=in_language(item.text, language),
                    page="schedule",
                    anchor=part_anchor(schedule.id, part.part),
                    standing=item,
                    locator_confirmed=(item.locator_basis or item.basis) != "from-memory",
                    n_entries=resting.get(item.id, 0),
                )
    for duty in rulebook.duties:
        text = in_language(duty.text, language)
        yield Fact("duty", text, "duties", f"topic-{duty.topic}", duty, duty.confirmed, 0)
    for field in rulebook.report:
        name = in_language(field.name, language)
        yield Fact("report", name, "duties", "report", field, field.confirmed, 0)
    for record in catalogue.limits:
        for row in record.rows:
            label = f"{in_language(record.quantity, language)}: {in_language(row.label, language)}"
            shown = deciding.get(record.id, 0)
            yield Fact("figure", label, "figures", record.id, row, row.confirmed, shown)
