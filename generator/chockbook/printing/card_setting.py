"""What is asked for of a deck beside its content: how it is printed, and what its carrier says on it."""

from __future__ import annotations

from dataclasses import dataclass

from .card_heights import Part


@dataclass(frozen=True, slots=True)
class CardSetting:
    """How a deck is printed."""

    format: str = "card"
    paper: str = "common"
    """letter, a4, or common for a sheet that prints unscaled on both."""
    duplex: str = "long-edge"
    marks: str = "office"
    mono: bool = False
    punch: str = "none"
    """Edge of the fronts that is kept free for a hole: top, left or none."""


@dataclass(frozen=True, slots=True)
class Cover:
    """What a carrier's deck says of itself: texts ready to be set, of that carrier and nobody else."""

    carrier: str
    unit: str
    contact: str
    """Whom to call first: stands on every card."""
    contact_short: str
    """The same without the hours, for a card that has no room for them."""
    parts: tuple[Part, ...]
    """The front of the first card."""
