"""The faces of cards: parts under each other, and the distances between them."""

from __future__ import annotations

from dataclasses import dataclass, field

from .card_heights import Part
from .overflow import CardOverflow

GAPS = {
    "lane": 1.5,
    "system": 1.8,
    "item": 1.4,
    "entry": 0.7,
    "note": 1.5,
    "imprint": 1.2,
    "title": 2.0,
    "contact": 1.0,
    "code": 2.0,
}
"""Least distance above a part, millimetres."""
WIDER = 0.8
"""How much wider a gap becomes, at most, where there is room to spare; millimetres."""
FOOT_GAP = 1.2
"""Between the body of a card and its foot, millimetres."""
NEAR = 0.001
"""Millimetres that sums of heights may differ by rounding."""


@dataclass(slots=True)
class Face:
    """One side of a card: parts by column, and the systems that they belong to."""

    columns: list[list[Part]]
    systems: list[str] = field(default_factory=list)
    used: float = 0.0
    """Height used in the column that is being filled, millimetres."""
    tallest: float = 0.0
    """Height used in the fullest of the columns before it."""
    bar: Part | None = None
    """The bar of its first system, while the head alone names it."""
    bar_at: int = 0
    """Where that bar goes once there is a second system."""

    steps_only: bool = False
    """Whether steps fill it and the next face has their defects: both belong on one card where cards have backs."""

    @property
    def empty(self) -> bool:
        """Whether nothing stands on it."""
        return not any(self.columns)


@dataclass(frozen=True, slots=True)
class Card:
    """A front and a back; None for a card that is printed on one side."""

    front: Face
    back: Face | None


def height_of(parts: list[Part]) -> float:
    """Height of measured parts under each other with the least distances, millimetres."""
    return sum(part["height"] + GAPS[part["kind"]] for part in parts)


def with_gaps(parts: list[Part], height: float) -> list[Part]:
    """The parts of a column with the distance above each; spare room makes the distances wider.

    Raises:
        CardOverflow: the column is too full, so that its end would run into the foot.
    """
    if height_of(parts) > height + NEAR:
        raise CardOverflow(parts[0]["kind"], height_of(parts), height)
    more = min(WIDER, (height - height_of(parts)) / len(parts)) if parts else 0
    return [{**part, "gap": round(GAPS[part["kind"]] + more, 3)} for part in parts]
