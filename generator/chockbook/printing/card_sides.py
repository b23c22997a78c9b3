"""Which face is in front and which behind it, once the faces of a group of systems are filled."""

from __future__ import annotations

from .card_faces import Card, Face


def sides_of(stop: list[Face], go: list[Face], group: list[str]) -> list[Card]:
    """Each stop side with a keep-going side behind it; what one of them has over fills both sides of further cards."""
    (steps, stop), (more_steps, go) = _apart(stop), _apart(go)
    both = min(len(stop), len(go))
    return [*steps, *more_steps, *map(Card, stop, go), *both_sides([*stop[both:], *go[both:]], group)]


def _apart(faces: list[Face]) -> tuple[list[Card], list[Face]]:
    """Cards whose fronts are full of steps, with the defects on their backs; and all other faces."""
    cards = [Card(face, faces[n + 1]) for n, face in enumerate(faces) if face.steps_only]
    taken = {id(face) for card in cards for face in (card.front, card.back)}
    return cards, [face for face in faces if id(face) not in taken]


def both_sides(faces: list[Face], group: list[str]) -> list[Card]:
    """Faces that follow each other from front to back."""
    if len(faces) % 2:
        faces = [*faces, Face([[]], list(group))]
    return [Card(*faces[n : n + 2]) for n in range(0, len(faces), 2)]


def cards_for(sides: list[list[Face]], run_on: bool) -> int:
    """How many cards a group needs with these faces of each kind."""
    if run_on:
        return -(-len(sides[0]) // 2)
    return len(sides[0]) if len(sides) == 1 else len(sides_of(*sides, []))
