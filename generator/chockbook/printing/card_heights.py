"""How high the parts of a card are when they are set. What is known is kept, since decks share most parts."""

from __future__ import annotations

import json
from typing import Any

from .card_formats import CardFormat
from .compile import look_up

Part = dict[str, Any]
_KNOWN: dict[tuple[str, float, float, str], float] = {}
_MOST_KNOWN = 60_000
"""Parts that are remembered before all are forgotten; about as many as three rulebooks in all formats have."""


def style_of(card: CardFormat, mono: bool = False) -> dict[str, Any]:
    """What the templates need to know of a format."""
    return {
        "width": card.width, "height": card.height, "safe": card.safe, "inner": card.inner, "column": card.column,
        "gutter": card.gutter, "body": card.body, "action": card.action, "system": card.system, "head": card.head,
        "outcome": card.outcome, "mono": mono,
    }  # fmt: skip


def heights(card: CardFormat, language: str, width: float, parts: list[Part]) -> list[float]:
    """Height of each part in millimetres.

    Args:
        card: the format, for its type sizes.
        language: code of the language of the texts.
        width: of the parts, in millimetres.
        parts: as lib/card_parts.typ takes them.

    Raises:
        SettingFailed: the compiler objects, as to a character that the face lacks.
    """
    sizes = repr((card.body, card.action, card.system, card.head, card.outcome))
    keys = [(language + sizes, card.safe, width, json.dumps(part, sort_keys=True)) for part in parts]
    wanted = {key: part for key, part in zip(keys, parts, strict=True) if key not in _KNOWN}
    if wanted:
        if len(_KNOWN) > _MOST_KNOWN:
            _KNOWN.clear()
            wanted = dict(zip(keys, parts, strict=True))
        data = {"style": style_of(card), "language": language, "width": width, "parts": list(wanted.values())}
        _KNOWN.update(zip(wanted, look_up("card_heights.typ", data, "heights"), strict=True))
    return [_KNOWN[key] for key in keys]
