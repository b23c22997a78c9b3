"""What each format of cards has room for, as carriers' files, prints and the proof have to know it.

Their sizes stand with what prints them (printing/card_formats.py).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, slots=True)
class CardKind:
    """A format of cards."""

    name: str
    of_sheet: Literal["part", "half", "whole"] = "part"
    """How it lies on the paper that is asked for: several on a sheet, the half of a sheet, or a sheet by itself of the next
    larger paper, which has no back."""
    is_index: bool = False
    """Names the parts that can stop the vehicle, and leads to a deck: no room for steps, a code, or more than one number."""
    names_owner: bool = True
    """Whether the foot has room for carrier and unit, and each outcome for whom to call."""
    on_ring: bool = False
    """Whether its cards go on a ring, so that room for a hole can be asked for."""
    face_for_each: bool = True
    """Whether it has a front and a back for a language each."""
    columns_for_two: int = 0
    """Columns of a face that hold two languages each, side by side; 0 where a single long word is wider than half a column."""


CARD_KINDS = {
    one.name: one
    for one in (
        CardKind("id1", is_index=True, names_owner=False, face_for_each=False),  # its back says whom to call
        CardKind("a7", names_owner=False, on_ring=True),
        CardKind("card", on_ring=True),
        CardKind("a6", on_ring=True),
        CardKind("visor", of_sheet="half", columns_for_two=1),
        CardKind("wall", of_sheet="whole", face_for_each=False, columns_for_two=2),
    )
}
"""By name, smallest first."""
