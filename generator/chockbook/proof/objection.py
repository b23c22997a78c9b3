"""What the proof objects to: an output and the catalogue do not say the same."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Objection:
    """One disagreement between an output and the catalogue."""

    output: str
    """The file, and the place in it: "print/manual.pdf page 12"."""
    about: str
    """The entry id or the thing concerned."""
    what: str
    """What is missing, wrong or too much."""

    def __str__(self) -> str:
        return f"{self.output}: {self.about}: {self.what}"
