"""The cards that open a carrier's deck: whose it is, whom to call, and on which card each system stands."""

from __future__ import annotations

from collections.abc import Callable

from .card_filling import Card, Face, height_of
from .card_heights import Part
from .overflow import CardOverflow


def opening_cards(
    cover: list[Part],
    cards: list[Card],
    index: Callable[[dict[str, list[int]]], list[Part]],
    measured: Callable[[list[Part]], list[Part]],
    room: float,
    title: str,
    two_sided: bool,
) -> list[Card]:
    """As few cards as hold the cover and the index, which starts on a face of its own.

    Args:
        cover: what stands on the first face.
        cards: all other cards of the deck.
        index: gives the parts of the index from the numbers of the cards of each system.
        measured: gives parts with their heights.
        room: height between head and foot, millimetres.
        title: stands in the head.
        two_sided: whether there are backs.

    Raises:
        CardOverflow: a part is higher than a face.
    """
    n_cards = 1
    while True:
        where: dict[str, list[int]] = {}
        for number, card in enumerate(cards, n_cards + 1):
            for face in (card.front, card.back):
                for system in face.systems if face and not face.empty else ():
                    if number not in where.setdefault(system, []):
                        where[system].append(number)
        faces = [*_faces(measured(cover), room, title), *_faces(measured(index(where)), room, title)]
        if two_sided and len(faces) % 2:
            faces.append(Face([[]], [title]))
        step = 2 if two_sided else 1
        if len(faces) // step <= n_cards:
            return [Card(faces[n], faces[n + 1] if two_sided else None) for n in range(0, len(faces), step)]
        # The numbers of all other cards move on with each card more.
        n_cards = len(faces) // step


def _faces(parts: list[Part], room: float, title: str) -> list[Face]:
    faces: list[Face] = []
    for part in parts:
        if height_of([part]) > room:
            raise CardOverflow(title, height_of([part]), room)
        if not faces or height_of([*faces[-1].columns[0], part]) > room:
            faces.append(Face([[]], [title]))
        faces[-1].columns[0].append(part)
    return faces
