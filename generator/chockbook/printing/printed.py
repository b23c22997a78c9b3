"""What came of printing a document."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True)
class Printed:
    """A PDF that was written."""

    path: Path
    pages: int
    cards: int
    """Cards on its sheets; 0 for what is not a set of cards."""
    notices: tuple[str, ...] = ()
    """What whoever prints it is told, such as that a deck has too many cards for its format."""
