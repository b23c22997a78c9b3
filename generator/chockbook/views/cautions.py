"""The hazards to the reader: signal word, hazard, consequence, how to avoid it."""

from __future__ import annotations

from dataclasses import dataclass

from ..catalogue import Catalogue, CautionRecord
from .wording import fixed_word, in_language


@dataclass(frozen=True, slots=True)
class CautionView:
    """A hazard in one language."""

    id: str
    level: str
    signal_word: str
    hazard: str
    consequence: str
    avoid: str


def view_caution(catalogue: Catalogue, caution: CautionRecord, language: str) -> CautionView:
    """A hazard in one language."""
    return CautionView(
        id=caution.id,
        level=caution.level,
        signal_word=fixed_word(catalogue, f"signal-{caution.level}", language),
        hazard=in_language(caution.hazard, language),
        consequence=in_language(caution.consequence, language),
        avoid=in_language(caution.avoid, language),
    )


def view_cautions(catalogue: Catalogue, language: str) -> tuple[CautionView, ...]:
    """Every hazard, in the order of the table.

    Raises:
        MissingWording: a text has not been written in the language.
    """
    return tuple(view_caution(catalogue, caution, language) for caution in catalogue.cautions)
