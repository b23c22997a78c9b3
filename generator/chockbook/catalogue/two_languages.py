"""Which cards can hold two languages, and how."""

from __future__ import annotations

from typing import Literal

from .card_kinds import CARD_KINDS

Way = Literal["side-by-side", "front-and-back"]
"""How a card holds its two languages: in two columns of one face, or one on each face."""
WIDE_FORMATS = tuple(name for name, kind in CARD_KINDS.items() if kind.columns_for_two)
TWO_SIDED_FORMATS = tuple(name for name, kind in CARD_KINDS.items() if kind.face_for_each)


def no_room(way: Way, card_format: str, duplex: str) -> tuple[str, str] | None:
    """Why a card cannot hold two languages in a way, and what to ask for instead; None where it can.

    Args:
        way: how the languages stand on the card.
        card_format: name of the format.
        duplex: long-edge, short-edge, fold or one-sided.
    """
    if way == "side-by-side" and card_format not in WIDE_FORMATS:
        other = ", or languages: front-and-back" if card_format in TWO_SIDED_FORMATS else ""
        return (f"a card of the format {card_format} is too narrow for two languages side by side",
                f"take the format {_either(WIDE_FORMATS)}{other}")  # fmt: skip
    if way == "front-and-back" and card_format not in TWO_SIDED_FORMATS:
        other = ", or languages: side-by-side" if card_format in WIDE_FORMATS else ""
        return (f"a card of the format {card_format} has no second face for a second language",
                f"take the format {_either(TWO_SIDED_FORMATS)}{other}")  # fmt: skip
    if way == "front-and-back" and duplex == "one-sided":
        return "a card with a language on each face cannot be printed one-sided", "take the duplex long-edge, short-edge or fold"
    return None


def _either(names: tuple[str, ...]) -> str:
    return f"{', '.join(names[:-1])} or {names[-1]}"
