"""Card formats by name: size, type sizes, and how many cards of a format a person still finds their way in.

Sizes of id1 and a7: ISO/IEC 7810 (ID-1, ID-2); a6, A5 and A3: ISO 216; letter and tabloid: the paper trade.
Type sizes and numbers of cards are our own choice; nothing is under 10 pt.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from ..catalogue.card_kinds import CARD_KINDS, CardKind

SHEETS = {"letter": (215.9, 279.4), "a4": (210.0, 297.0), "a3": (297.0, 420.0), "tabloid": (279.4, 431.8)}
"""Width and height of papers, upright, in millimetres."""
COMMON = (210.0, 279.4)
"""As wide as A4 and as high as letter: prints unscaled on both."""
PUNCH_STRIP = 12.0
"""Nothing is printed so near to an edge with a hole, millimetres: room for a 6 mm hole and for paper around it."""
FILM_BORDER = 3.0
"""Clear film that seals a laminated card, millimetres on each side."""


@dataclass(frozen=True, slots=True)
class CardFormat:
    """A card as it is cut, in millimetres, and its type sizes in points."""

    name: str
    width: float
    height: float
    safe: float = 5.0
    """From the cut to the nearest text."""
    columns: int = 1
    gutter: float = 6.0
    """Between columns."""
    body: float = 10
    action: float = 10
    system: float = 12
    head: float = 13
    outcome: float = 14
    most_cards: int = 60
    """A deck with more cards belongs in the next format."""
    next_format: str | None = None
    punch: str = "none"
    """Edge of the front with a hole: top, left or none. A back has it at the top, or on its right."""

    @property
    def kind(self) -> CardKind:
        """What it has room for."""
        return CARD_KINDS[self.name]

    @property
    def above(self) -> float:
        """From the top of the card to the text."""
        return max(self.safe, PUNCH_STRIP) if self.punch == "top" else self.safe

    @property
    def beside(self) -> float:
        """From the left of a front, and from the right of a back, to the text."""
        return max(self.safe, PUNCH_STRIP) if self.punch == "left" else self.safe

    @property
    def inner(self) -> float:
        """Width that holds text."""
        return self.width - self.beside - self.safe

    @property
    def inner_height(self) -> float:
        """Height that holds text, head and foot included."""
        return self.height - self.above - self.safe

    @property
    def column(self) -> float:
        """Width of a column."""
        return (self.inner - (self.columns - 1) * self.gutter) / self.columns


FORMATS = {
    one.name: one
    for one in (
        CardFormat("id1", 85.6 - 2 * FILM_BORDER, 53.98 - 2 * FILM_BORDER, safe=3.2, action=10, head=12,
                   outcome=12, most_cards=24, next_format="card"),
        CardFormat("a7", 74, 105, safe=3.0, action=10, head=12, outcome=12, most_cards=60, next_format="card"),
        CardFormat("card", 95, 128, most_cards=60, next_format="a6"),
        CardFormat("a6", 105, 148, body=10.5, action=11, most_cards=40, next_format="visor"),
        CardFormat("visor", 139.7, 210, safe=8.0, body=11.5, action=12, head=15, outcome=16, most_cards=24,
                   next_format="wall"),
        CardFormat("wall", 297, 420, safe=9.0, columns=3, gutter=8, body=12.5, action=13, system=15, head=24,
                   outcome=20, most_cards=8),
    )
}  # fmt: skip
"""Formats by name, smallest first. The wallet format is the paper inside its seal of film."""


def format_on(name: str, paper: str) -> CardFormat:
    """The format as it is on a paper: a visor card is half of it, a wall sheet two of it.

    Args:
        name: a key of FORMATS.
        paper: "letter" or "a4".
    """
    chosen = FORMATS[name]
    if chosen.kind.of_sheet == "half":
        width, height = SHEETS[paper]
        return replace(chosen, width=height / 2, height=width)
    if chosen.kind.of_sheet == "whole":
        width, height = SHEETS["tabloid" if paper == "letter" else "a3"]
        return replace(chosen, width=width, height=height)
    return chosen
