"""The cards that open a carrier's deck: whose it is, whom to call, and on which card each system stands."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from .card_faces import Card, Face, height_of
from .card_heights import Part
from .overflow import CardOverflow


def opening_cards(
    cover: list[Part],
    cards: list[Card],
    index: Callable[[dict[str, list[int]], int], list[Part]],
    measured: Callable[[list[Part]], list[Part]],
    room: float,
    title: str,
    two_sided: bool,
    next_format: str | None = None,
) -> list[Card]:
    """As few cards as hold the cover and the index, which starts on a face of its own where there are backs.

    Args:
        cover: what stands on the first face.
        cards: all other cards of the deck.
        index: gives the parts of the index from the numbers of the cards of each system, and from how many systems
            may stand in one of them.
        measured: gives parts with their heights.
        room: height between head and foot, millimetres.
        title: stands in the head.
        two_sided: whether there are backs.
        next_format: what to take where a part has no room.

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
        found = _index(index, where, measured, room, two_sided)
        # With backs, the index stands behind the cover; without, it follows the cover, which saves a card.
        runs = [measured(cover), found] if two_sided else [[*measured(cover), *found]]
        faces = [face for parts in runs for face in _faces(parts, room, title, next_format)]
        if two_sided and len(faces) % 2:
            faces.append(Face([[]], [title]))
        step = 2 if two_sided else 1
        if len(faces) // step <= n_cards:
            return [Card(faces[n], faces[n + 1] if two_sided else None) for n in range(0, len(faces), step)]
        # The numbers of all other cards move on with each card more.
        n_cards = len(faces) // step


def _index(
    index: Callable[[dict[str, list[int]], int], list[Part]],
    where: dict[str, list[int]],
    measured: Callable[[list[Part]], list[Part]],
    room: float,
    own_face: bool,
) -> list[Part]:
    """The index: a line for each system where it has a face of its own and room there, which is found fastest.

    Else it is in as few parts as have room, each with about as many systems as the others.
    """
    if own_face:
        listed = measured([_listed(part) for part in index(where, len(where))])
        if height_of(listed) <= room:
            return listed
    for parts in range(1, len(where) + 1):
        found = measured(index(where, -(-len(where) // parts)))
        if all(height_of(block) <= room for block in _blocks(found)):
            return found
    return measured(index(where, 1))


def _listed(part: Part) -> Part:
    """A part of the index whose systems have a line each."""
    beside = {"beside": _listed(part["beside"])} if "beside" in part else {}
    return {**part, **({"listed": True} if "pieces" in part else {}), **beside}


def _blocks(parts: list[Part]) -> Iterator[list[Part]]:
    """Parts that stay on a face: a title with what it is the title of, everything else by itself."""
    held: list[Part] = []
    for part in parts:
        held.append(part)
        if part["kind"] != "title":
            yield held
            held = []
    if held:
        yield held


def _faces(parts: list[Part], room: float, title: str, next_format: str | None) -> list[Face]:
    faces: list[Face] = []
    for block in _blocks(parts):
        if height_of(block) > room:
            raise CardOverflow(title, height_of(block), room, next_format)
        if not faces or height_of([*faces[-1].columns[0], *block]) > room:
            faces.append(Face([[]], [title]))
        faces[-1].columns[0] += block
    return faces
