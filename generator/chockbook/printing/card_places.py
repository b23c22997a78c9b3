"""Where each part of a face stands on its sheet: counted here, so that the compiler only puts it there."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

from .card_formats import CardFormat
from .card_heights import Part
from .desk import place_of

NOT_SET = ("gap", "height")
"""What is said of a part for placing it, and not set."""


class PlacedParts:
    """The parts of a document, each once, and the places of them on its sheets."""

    def __init__(self, card: CardFormat, language: str) -> None:
        self.card, self.language = card, language
        self.parts: list[Part] = []
        self._known: dict[str, tuple[int, int]] = {}

    def of_face(
        self, face: dict[str, Any], corner: tuple[float, float], turn: int, back: bool = False
    ) -> list[dict[str, Any]]:
        """The places of a face's parts.

        Args:
            face: head and foot with their heights, columns of parts with height and gap, and its language.
            corner: top left corner of the card on the sheet, millimetres.
            turn: 0, or 180 for a face that stands on its head.
            back: whether it is the back of its card, where the left edge of the front lies on the right.
        """
        return [self._place(part, left, top, width, height, artifact, face.get("lang"), corner, turn)
                for part, left, top, width, height, artifact in self._on_card(face, back)]  # fmt: skip

    def _on_card(self, face: dict[str, Any], back: bool) -> Iterator[tuple[Part, float, float, float, float, bool]]:
        """Each part with its corner, its size, and whether it is what stands on every card."""
        card, head = self.card, face["head_height"]
        edge = card.safe if back else card.beside
        yield face["head"], edge, card.above, card.inner, head, False
        for n, column in enumerate(face["columns"]):
            left, at = edge + n * (card.column + card.gutter), card.above + head
            for part in column:
                at += part["gap"]
                yield part, left, at, card.column, part["height"], False
                at += part["height"]
        if face["foot"] is not None:
            high = face["foot_height"]
            yield face["foot"], edge, card.height - card.safe - high, card.inner, high, True

    def _place(
        self, part: Part, left: float, top: float, width: float, height: float, artifact: bool, language: str | None,
        corner: tuple[float, float], turn: int,
    ) -> dict[str, Any]:  # fmt: skip
        number, line = self._number(part)
        if turn:
            left, top = self.card.width - left - width, self.card.height - top - height
        placed = {"part": number, "line": line, "x": round(corner[0] + left, 4), "y": round(corner[1] + top, 4),
                  "width": width, "height": height, "turn": turn, "artifact": artifact}  # fmt: skip
        if language not in (None, self.language):
            placed["lang"] = language
        return placed

    def _number(self, part: Part) -> tuple[int, int]:
        plain = {key: value for key, value in part.items() if key not in NOT_SET}
        content = json.dumps(plain)
        if content not in self._known:
            self._known[content] = len(self.parts), place_of(content)
            self.parts.append(plain)
        return self._known[content]
