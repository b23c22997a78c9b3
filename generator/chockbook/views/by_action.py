"""The catalogue by action: what is to be done, by whom, and for which entries."""

from __future__ import annotations

from dataclasses import dataclass

from ..catalogue import Catalogue
from .entry import ActionView, view_action
from .grouping import EntryRow, SystemRows, entries_under, rulebook_named, under_systems
from .wording import fixed_word, in_language


@dataclass(frozen=True, slots=True)
class SeverityName:
    """A severity that calls for an action as a rule."""

    id: str
    name: str
    outcome: str
    may_drive: str


@dataclass(frozen=True, slots=True)
class ActionPageView:
    """An action with its standing, and the entries that call for it."""

    action: ActionView
    kind_name: str
    by_name: str
    source_title: str
    basis_name: str
    severities: tuple[SeverityName, ...]
    n_entries: int
    systems: tuple[SystemRows, ...]


def view_by_action(catalogue: Catalogue, rulebook_id: str, language: str) -> tuple[ActionPageView, ...]:
    """The actions of a rulebook in its order, each with the rulings that call for it.

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
        MissingWording: a text has not been written in the language.
    """
    rulebook = rulebook_named(catalogue, rulebook_id)
    entries = entries_under(catalogue, rulebook_id, language)
    views = []
    for action in rulebook.actions:
        rows = [
            EntryRow(entry, ruling)
            for entry in entries
            for ruling in entry.rulings
            if any(called.id == action.id for called in ruling.actions)
        ]
        views.append(
            ActionPageView(
                action=view_action(catalogue, action, language),
                kind_name=fixed_word(catalogue, f"kind-{action.kind}", language),
                by_name=fixed_word(catalogue, f"by-{action.by}", language),
                source_title=in_language(catalogue.source[action.source].title, language),
                basis_name=fixed_word(catalogue, f"basis-{action.basis}", language),
                severities=tuple(
                    SeverityName(
                        severity.id,
                        in_language(severity.name, language),
                        in_language(severity.outcome, language),
                        severity.may_drive,
                    )
                    for severity in reversed(rulebook.severities)
                    if action.id in severity.actions
                ),
                n_entries=len({row.entry.id for row in rows}),
                systems=under_systems(rows),
            )
        )
    return tuple(views)
