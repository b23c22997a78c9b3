"""A defect under every rulebook: what each says of it, side by side.

A rulebook that does not speak of a defect is never shown as allowing it: what was not read may still be the law.
"""

from __future__ import annotations

from dataclasses import dataclass

from ..catalogue import Catalogue, Entry, LimitRecord, LimitRow, RulebookRecord, SeverityRecord
from ..catalogue.remembered import remembered
from ..catalogue.row_choice import own_rows
from .entry import RulingView, entry_name, view_ruling
from .wording import fixed_word, in_language, joined

SHOWN_FIGURES = 3
"""Figures of one limit shown in a row; longer tables are pointed to."""


@dataclass(frozen=True, slots=True)
class FigureLine:
    """A rulebook's own figures of one limit that decides the defect."""

    limit_id: str
    quantity: str
    figures: tuple[str, ...]
    """Each with what it applies to; the first few of a longer table."""
    more: int
    """Figures of the table beyond those."""


@dataclass(frozen=True, slots=True)
class SideView:
    """What one rulebook says of a defect."""

    rulebook_id: str
    rulebook_name: str
    rulings: tuple[RulingView, ...]
    """Worst first; empty where the rulebook, as far as it was read, does not speak of the defect."""
    deadline: str | None
    figures: tuple[FigureLine, ...]
    absent: str | None
    """What to say where there is no ruling."""

    @property
    def governing(self) -> RulingView | None:
        """The worst ruling."""
        return self.rulings[0] if self.rulings else None


@dataclass(frozen=True, slots=True)
class DefectAcross:
    """A defect with what every rulebook says of it."""

    entry_id: str
    name: str
    component_id: str
    slug: str
    sides: tuple[SideView, ...]


ComparedSystems = tuple[tuple[str, str, tuple[DefectAcross, ...]], ...]
"""Id and name of each system, with its defects under every rulebook."""


def other_sides(compared: ComparedSystems, rulebook_id: str) -> dict[str, tuple[SideView, ...]]:
    """By the id of a defect, what the rulebooks beside the one in force say of it."""
    return {defect.entry_id: tuple(side for side in defect.sides if side.rulebook_id != rulebook_id)
            for _, _, defects in compared for defect in defects}  # fmt: skip


@remembered
def compare_all(catalogue: Catalogue, language: str) -> ComparedSystems:
    """Every defect under every rulebook: id and name of each system with its defects."""
    found = []
    for system in catalogue.systems:
        entries = [entry for entry in catalogue.entries if entry.system.id == system.id]
        name = in_language(system.name, language)
        found.append((system.id, name, tuple(_across(catalogue, entry, language) for entry in entries)))
    return tuple(found)


def _across(catalogue: Catalogue, entry: Entry, language: str) -> DefectAcross:
    sides = tuple(side_of(catalogue, entry, rulebook, language) for rulebook in catalogue.rulebooks)
    return DefectAcross(entry.id, entry_name(catalogue, entry, language), entry.component.id, entry.slug, sides)


def side_of(catalogue: Catalogue, entry: Entry, rulebook: RulebookRecord, language: str) -> SideView:
    """What one rulebook says of a defect.

    Raises:
        MissingWording: words.yaml lacks a word that is placed.
    """
    rulings = entry.rulings_under(rulebook.id)
    name = in_language(rulebook.short_name, language)
    figures = []
    for limit in entry.limits:
        rows = own_rows(limit, rulebook.id)
        if rows:
            figures.append(_figure_line(catalogue, limit, rows, language))
    return SideView(
        rulebook_id=rulebook.id,
        rulebook_name=name,
        rulings=tuple(view_ruling(catalogue, ruling, language) for ruling in rulings),
        deadline=deadline_of(rulebook, rulings[0].severity, language) if rulings else None,
        figures=tuple(figures),
        absent=None if rulings else fixed_word(catalogue, "across-absent", language),
    )


def _figure_line(
    catalogue: Catalogue, limit: LimitRecord, rows: tuple[LimitRow, ...], language: str
) -> FigureLine:
    compare = (
        ""
        if limit.compare == "between"
        else fixed_word(catalogue, f"compare-{limit.compare}", language) + " "
    )
    shown = rows if len(rows) <= SHOWN_FIGURES else ()
    told = tuple(
        joined(catalogue, in_language(row.label, language), f"{compare}{in_language(row.printed, language)}", language)
        for row in shown
    )
    return FigureLine(limit.id, in_language(limit.quantity, language), told, len(rows) - len(shown))


def deadline_of(rulebook: RulebookRecord, severity: SeverityRecord, language: str) -> str | None:
    """By when the defect is repaired: the severity's deadline, otherwise what its actions say of the repair."""
    if severity.deadline:
        return in_language(severity.deadline, language)
    repairs = [a for a in rulebook.actions if a.id in severity.actions and a.kind == "repair"]
    return " ".join(in_language(action.text, language) for action in repairs) or None
