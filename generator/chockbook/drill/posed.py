"""What can be asked of a rulebook: each ruling with the circumstance under which it alone governs."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from ..catalogue import Catalogue, Entry, Ruling, question_of

LEFT_TO_DRIVER = "if-safe"
"""The value of may_drive under which the driver decides whether to go on."""


@dataclass(frozen=True, slots=True)
class Posed:
    """A defect with the ruling that governs it under a stated circumstance."""

    entry: Entry
    ruling: Ruling
    circumstance: Mapping[str, str] | None
    """What the question has to state; None where the rulebook makes no difference."""
    answer: str
    """What the decision rule is told of the circumstance: yes, no or unknown."""

    @property
    def confirmed(self) -> bool:
        """Whether item and circumstance were read in a source."""
        item = self.ruling.item
        return item.confirmed and (self.circumstance is None or item.applies_when_basis != "from-memory")


def posed(catalogue: Catalogue, rulebook_id: str, vehicle: str | None = None) -> Iterator[Posed]:
    """Every defect of a rulebook with each ruling that can be asked about without a doubt.

    A ruling with a circumstance is asked with it stated. Where a defect has two severities and one of them
    states no circumstance, that one is not asked: nothing in the tables says when it holds.

    Args:
        catalogue: the checked catalogue.
        rulebook_id: the rulebook in force.
        vehicle: leaves out defects of other vehicles.
    """
    for entry in catalogue.entries:
        if vehicle is not None and vehicle not in entry.vehicles:
            continue
        rulings = entry.rulings_under(rulebook_id)
        question = question_of(rulings)
        severities = {ruling.severity.id for ruling in rulings}
        for ruling in rulings:
            if ruling.applies_when is None and len(severities) > 1:
                continue
            answer = "unknown"
            if question and ruling in (question.yes, question.no):
                answer = "yes" if ruling is question.yes else "no"
            elif question:
                continue
            yield Posed(entry, ruling, ruling.applies_when, answer)


def plain_rulings(catalogue: Catalogue, rulebook_id: str, vehicle: str | None = None) -> Iterator[Posed]:
    """Defects on which a rulebook says one thing only, whatever the circumstances."""
    for one in posed(catalogue, rulebook_id, vehicle):
        if one.circumstance is None and len(one.entry.rulings_under(rulebook_id)) == 1:
            yield one


def answers_apart(catalogue: Catalogue, rulebook_id: str) -> bool:
    """Whether a rulebook has several severities, and leaves none of them to the driver.

    Where going on is left to whoever is satisfied that it is safe, to stop is right as well, and a defect of the
    other severity is a defect too: no answer is the only right one.
    """
    severities = catalogue.rulebook[rulebook_id].severities
    return len(severities) > 1 and all(severity.may_drive != LEFT_TO_DRIVER for severity in severities)
