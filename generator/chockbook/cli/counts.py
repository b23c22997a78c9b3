"""What a catalogue holds, in a few lines."""

from __future__ import annotations

from ..catalogue import Catalogue


def counts(catalogue: Catalogue) -> str:
    """What the catalogue holds, in a few lines: entries, items covered, and where the rulings stand."""
    lines = [f"edition {catalogue.edition.code} of {catalogue.edition.date}: {len(catalogue.entries)} entries on "
             f"{len(catalogue.components)} components, {len(catalogue.sources)} sources"]  # fmt: skip
    for rulebook in catalogue.rulebooks:
        items = [item for schedule in rulebook.schedules for part in schedule.parts for item in part.items]
        rulings = [ruling for entry in catalogue.entries for ruling in entry.rulings_under(rulebook.id)]
        covered = {item.id for ruling in rulings for item in (ruling.item, *ruling.also)}
        by_basis = {basis: sum(1 for ruling in rulings if ruling.basis == basis)
                    for basis in ("published", "common-practice", "from-memory", "invented")}  # fmt: skip
        standing = ", ".join(f"{count} {basis.replace('-', ' ')}" for basis, count in by_basis.items() if count)
        lines.append(
            f"{rulebook.id}: {len(covered)} of {len(items)} items covered, {len(rulings)} rulings ({standing})"
        )
    return "\n".join(lines)
