"""Where the rulings of a rulebook stand, by system and by severity: what is published and what is from memory."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from ..catalogue import Catalogue, Ruling
from .coverage import BASES
from .grouping import rulebook_named
from .wording import fixed_word, in_language


@dataclass(frozen=True, slots=True)
class BasisRow:
    """The rulings of one system, or of one severity."""

    name: str
    total: int
    counts: tuple[tuple[str, int], ...]
    """Name of each basis that some stand on, with their number."""


@dataclass(frozen=True, slots=True)
class BasisTable:
    """Rows by system, or by severity."""

    id: str
    name: str
    rows: tuple[BasisRow, ...]


@dataclass(frozen=True, slots=True)
class BasesView:
    """Where the rulings of a rulebook stand."""

    rulebook_name: str
    tables: tuple[BasisTable, ...]


def view_bases(catalogue: Catalogue, rulebook_id: str, language: str) -> BasesView:
    """Counts of one rulebook's rulings; systems in the order of the catalogue, severities worst first.

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
    """
    rulebook = rulebook_named(catalogue, rulebook_id)
    rulings = [(entry.system.id, one) for entry in catalogue.entries for one in entry.rulings_under(rulebook_id)]

    def table(id_: str, rows: list[tuple[str, list[Ruling]]]) -> BasisTable:
        made = []
        for name, found in rows:
            counted = Counter(ruling.basis for ruling in found)
            counts = tuple((fixed_word(catalogue, f"basis-{one}", language), counted[one]) for one in BASES if counted[one])
            if found:
                made.append(BasisRow(name, len(found), counts))
        return BasisTable(id_, fixed_word(catalogue, f"standing-{id_}", language), tuple(made))

    systems = [(in_language(system.name, language), [one for owner, one in rulings if owner == system.id])
               for system in catalogue.systems]  # fmt: skip
    severities = [(in_language(severity.name, language), [one for _, one in rulings if one.severity.id == severity.id])
                  for severity in reversed(rulebook.severities)]  # fmt: skip
    return BasesView(in_language(rulebook.name, language), (table("by-severity", severities), table("by-system", systems)))


def basis_lines(catalogue: Catalogue, language: str) -> Iterator[str]:
    """Every rulebook in lines, for the terminal."""
    for rulebook in catalogue.rulebooks:
        view = view_bases(catalogue, rulebook.id, language)
        yield f"{view.rulebook_name} [{rulebook.id}]"
        for table in view.tables:
            yield f"  {table.name}"
            for row in table.rows:
                yield f"    {row.name}: {row.total} ({', '.join(f'{name} {number}' for name, number in row.counts)})"
        yield ""
