"""How much of each source the catalogue holds: items covered, rulings by basis, and what was left out and why."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from ..catalogue import Catalogue
from ..catalogue.locator import locator_in
from .measure_words import fill
from .wording import fixed_word, in_language

BASES = ("published", "common-practice", "from-memory", "invented")


@dataclass(frozen=True, slots=True)
class LeftOutView:
    """Something that the source holds and the rulebook here does not, and why."""

    locator: str
    what: str
    why: str


@dataclass(frozen=True, slots=True)
class CoverageView:
    """What the catalogue holds of one rulebook."""

    rulebook_id: str
    rulebook_name: str
    n_items: int
    """Items of the source that the tables hold."""
    n_covered: int
    """Items that at least one entry stands under."""
    n_rulings: int
    by_basis: tuple[tuple[str, int], ...]
    """Name of each basis with the number of rulings that stand so."""
    left_out: tuple[LeftOutView, ...]


def view_coverage(catalogue: Catalogue, language: str) -> tuple[CoverageView, ...]:
    """Of each rulebook, in the order of the tables."""
    return tuple(_of_rulebook(catalogue, rulebook, language) for rulebook in catalogue.rulebooks)


def _of_rulebook(catalogue: Catalogue, rulebook, language: str) -> CoverageView:
    items = [item.id for schedule in rulebook.schedules for part in schedule.parts for item in part.items]
    rulings = [ruling for entry in catalogue.entries for ruling in entry.rulings_under(rulebook.id)]
    covered = {item.id for ruling in rulings for item in (ruling.item, *ruling.also)}
    counted = Counter(ruling.basis for ruling in rulings)
    return CoverageView(
        rulebook_id=rulebook.id,
        rulebook_name=in_language(rulebook.name, language),
        n_items=len(items),
        n_covered=len(covered),
        n_rulings=len(rulings),
        by_basis=tuple(
            (fixed_word(catalogue, f"basis-{basis}", language), counted[basis])
            for basis in BASES
            if counted[basis]
        ),
        left_out=tuple(
            LeftOutView(
                locator_in(catalogue, one.locator, language),
                in_language(one.what, language),
                in_language(one.why, language),
            )
            for one in rulebook.left_out
        ),
    )


def coverage_lines(catalogue: Catalogue, language: str = "en") -> Iterator[str]:
    """Coverage of every rulebook in lines, for the terminal."""

    def word(key: str, **values: object) -> str:
        return fill(
            fixed_word(catalogue, key, language), {name: str(value) for name, value in values.items()}
        )

    for view in view_coverage(catalogue, language):
        yield f"{view.rulebook_name} [{view.rulebook_id}]"
        yield "  " + word(
            "coverage-items", covered=view.n_covered, items=view.n_items, left=len(view.left_out)
        )
        yield (
            "  "
            + word("coverage-rulings", rulings=view.n_rulings)
            + " "
            + ", ".join(f"{name}: {n}" for name, n in view.by_basis)
        )
        if view.left_out:
            yield "  " + word("coverage-left-out") + ":"
            for one in view.left_out:
                yield f"    {one.locator}: {one.what.rstrip('.')}. {one.why}"
        yield ""
