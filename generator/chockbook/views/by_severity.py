"""The catalogue by severity: what each calls for, and which entries have it."""

from __future__ import annotations

from dataclasses import dataclass

from ..catalogue import Catalogue
from .entry import ActionView, view_action
from .grouping import EntryRow, SystemRows, entries_under, rulebook_named, under_systems
from .stated import StatedView, stated
from .wording import in_language


@dataclass(frozen=True, slots=True, kw_only=True)
class SeverityView(StatedView):
    """A severity in its rulebook's own words, and the entries that have it."""

    id: str
    name: str
    outcome: str
    meaning: str
    deadline: str | None
    may_drive: str
    actions: tuple[ActionView, ...]
    n_entries: int
    systems: tuple[SystemRows, ...]


def view_by_severity(catalogue: Catalogue, rulebook_id: str, language: str) -> tuple[SeverityView, ...]:
    """The severities of a rulebook, worst first.

    An entry whose severity depends on circumstances stands under each severity that it can have.

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
        MissingWording: a text has not been written in the language.
    """
    rulebook = rulebook_named(catalogue, rulebook_id)
    actions = {action.id: action for action in rulebook.actions}
    entries = entries_under(catalogue, rulebook_id, language)
    views = []
    for severity in reversed(rulebook.severities):
        rows = [
            EntryRow(entry, ruling)
            for entry in entries
            for ruling in entry.rulings
            if ruling.severity_id == severity.id
        ]
        views.append(
            SeverityView(
                id=severity.id,
                name=in_language(severity.name, language),
                outcome=in_language(severity.outcome, language),
                meaning=in_language(severity.meaning, language),
                deadline=in_language(severity.deadline, language) if severity.deadline else None,
                may_drive=severity.may_drive,
                actions=tuple(view_action(catalogue, actions[action_id], language) for action_id in severity.actions),
                **stated(catalogue, severity, language),
                n_entries=len({row.entry.id for row in rows}),
                systems=under_systems(rows),
            )
        )
    return tuple(views)
