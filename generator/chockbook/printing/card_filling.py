"""Filling cards: which part of a deck stands on which face. Nothing is shrunk, cut or divided.

The stop side is the front of a card, the back is the keep-going side. Neighbouring systems share cards where
that saves some; within such a group each side runs on from card to card. Where a group has more of one kind than of
the other, its last cards have that kind on both sides, rather than a side with nothing on it. A deck that is printed
on one side, or that has one kind of lane only, runs on from face to face.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

from ..views.card_deck import DeckView, LaneView
from .card_faces import Card, Face, height_of
from .card_formats import CardFormat
from .card_heights import Part
from .card_sides import both_sides, cards_for, sides_of
from .overflow import CardOverflow

TOGETHER = 5
"""Neighbouring systems that share cards, at most; more would set the two sides of a card far apart."""

ELSEWHERE = ("steps-on-front", "steps-on-card-before")
"""Fixed words that say where the steps of a lane are, on a face that has no room for them."""

STAR = "*"
"""Behind steps that are not confirmed, where there are several."""

Measure = Callable[[list[Part]], list[float]]
"""Heights of parts in millimetres."""


@dataclass(frozen=True, slots=True)
class _Row:
    """An entry with what it stands under."""

    system: str
    bar: Part
    item: Part
    entry: Part


@dataclass(frozen=True)
class _Lane:
    """A lane with its parts measured."""

    stops: bool
    head: Part
    brief: Part
    """For a back, whose front has the steps."""
    later: Part
    """For a face, where the steps fill the same side of the card before."""
    rows: list[_Row]
    first: bool
    """Whether it is the first of its deck."""

    def opens_with(self, group: list[str]) -> bool:
        """Whether these systems, in this lane, are what a deck begins with."""
        return self.first and self.rows[0].system == group[0]

    @cached_property
    def by_system(self) -> dict[str, list[_Row]]:
        """Rows by the name of their system."""
        found: dict[str, list[_Row]] = {}
        for row in self.rows:
            found.setdefault(row.system, []).append(row)
        return found


@dataclass(frozen=True, slots=True)
class Said:
    """A deck with what its lanes say beside their entries, in one language."""

    deck: DeckView
    contact: str | None
    words: dict[str, str]
    language: str


def fill_cards(
    deck: DeckView, card: CardFormat, measure: Measure, room: Callable[[list[str]], float], contact: str | None,
    words: dict[str, str], two_sided: bool, opening: list[Part] | None = None, second: Said | None = None,
) -> list[Card]:  # fmt: skip
    """The cards of a deck.

    Args:
        deck: what goes on them.
        card: their format.
        measure: gives the heights of parts as wide as a column.
        room: height between head and foot of a card with these system names in its head, millimetres.
        contact: whom to call; stands under the steps of every lane.
        words: "not-confirmed" and those of ELSEWHERE in the deck's language.
        two_sided: whether there are backs.
        opening: measured parts that come before all others on the first face.
        second: the same deck in a second language, which each part then carries as its "beside".

    Raises:
        CardOverflow: an entry does not fit on an empty face.
    """
    lanes = _measured(Said(deck, contact, words, ""), measure, second)
    names = [name for _, name in deck.system_names]
    stop, go = [lane for lane in lanes if lane.stops], [lane for lane in lanes if not lane.stops]
    filler = _Filler(card, room, opening or [])
    if not two_sided:
        return [Card(face, None) for side in (stop, go) for group in filler.groups(names, [side])
                for face in filler.faces(group, side)]  # fmt: skip
    cards: list[Card] = []
    if stop and go:
        for group in filler.groups(names, [stop, go]):
            cards += sides_of(*(filler.faces(group, side, has_backs=True) for side in (stop, go)), group)
        return cards
    for group in filler.groups(names, [lanes], run_on=True):
        cards += both_sides(filler.faces(group, lanes, brief_backs=True), group)
    return cards


def _measured(said: Said, measure: Measure, second: Said | None) -> list[_Lane]:
    """The lanes with the height of every part, all found out in one go."""
    lanes, parts = _parts_of(said)
    if second is not None:
        for part, other in zip(parts, _parts_of(second)[1], strict=True):
            if part != other:
                part["beside"] = {**other, "lang": second.language}
    for part, height in zip(parts, measure(parts), strict=True):
        part["height"] = height
    return lanes


def _parts_of(said: Said) -> tuple[list[_Lane], list[Part]]:
    """The lanes of a deck, and every part of them in an order that is the same in every language."""
    lanes = []
    parts: list[Part] = []
    for lane in said.deck.lanes:
        rows = []
        for system in lane.systems:
            bar: Part = {"kind": "system", "name": system.system_name}
            parts.append(bar)
            for item in system.items:
                over: Part = {"kind": "item", "locator": item.locator, "applies": item.applies_when,
                              "marks": list(item.marks)}  # fmt: skip
                parts.append(over)
                for entry in item.entries:
                    part: Part = {"kind": "entry", "entry_id": entry.entry_id,
                                  "component_name": entry.component_name, "condition": entry.condition,
                                  "limit": entry.limit}  # fmt: skip
                    rows.append(_Row(system.system_name, bar, over, part))
        parts += [row.entry for row in rows]
        head = lane_part(lane, said.contact, said.words)
        brief, later = (lane_part(lane, said.contact, said.words, elsewhere=said.words[key]) for key in ELSEWHERE)
        parts += [head, brief, later]
        lanes.append(_Lane(lane.stops, head, brief, later, rows, first=not lanes))
    return lanes, parts


class _Filler:
    def __init__(self, card: CardFormat, room: Callable[[list[str]], float], opening: list[Part]) -> None:
        self.card, self.opening = card, opening
        self._room, self._rooms = room, dict[tuple[str, ...], float]()

    def room(self, systems: list[str]) -> float:
        """Height between head and foot with these systems in the head, asked for once."""
        key = tuple(systems)
        if key not in self._rooms:
            self._rooms[key] = self._room(systems)
        return self._rooms[key]

    def groups(self, names: list[str], sides: list[list[_Lane]], run_on: bool = False) -> list[list[str]]:
        """Neighbouring systems that share cards, so that the deck has as few cards as it can.

        Of two ways with as many cards, the one with fewer systems in a group is taken.
        """
        here = [name for name in names if any(name in lane.by_system for side in sides for lane in side)]
        if self.card.columns > 1:
            # On a wall all is in sight at once: sheet follows sheet, and none but the last is left part empty.
            return [here] if here else []
        best: list[tuple[float, int]] = [(0.0, 0)]
        for end in range(1, len(here) + 1):
            ways = []
            for start in range(max(0, end - TOGETHER), end):
                faces = [self.faces(here[start:end], side, run_on, len(sides) > 1) for side in sides]
                cards = cards_for(faces, run_on)
                ways.append((best[start][0] + cards + 0.001 * (end - start) ** 2, start))
            best.append(min(ways))
        groups, end = [], len(here)
        while end:
            start = best[end][1]
            groups.append(here[start:end])
            end = start
        return groups[::-1]

    def faces(
        self, group: list[str], lanes: list[_Lane], brief_backs: bool = False, has_backs: bool = False
    ) -> list[Face]:
        """The faces that these systems need for some lanes.

        Args:
            group: names of the systems.
            lanes: whose entries these are.
            brief_backs: whether every second face is the back of the one before it, and needs no steps.
            has_backs: whether a face that is full of steps gets its defects behind it.
        """
        faces: list[Face] = []
        if self.opening and lanes and lanes[0].opens_with(group):
            faces.append(Face([[*self.opening]], used=height_of(self.opening)))
        for lane in lanes:
            last: _Row | None = None
            for row in (row for name in group for row in lane.by_system.get(name, ())):
                before = [] if last and last.item is row.item else [row.item]
                # The only system of a face is named in its head; where there are several, each has a bar.
                if (faces and row.system not in faces[-1].systems) or (last and last.system != row.system):
                    before = [row.bar, *before]
                if not (
                    faces and self._put(faces[-1], [*([] if last else [lane.head]), *before, row.entry], row)
                ):
                    # A further column goes on within the lane; a further face repeats its head.
                    whole = [row.item, row.entry]
                    bars = [row.bar] if self.card.columns > 1 else []
                    beside = [*bars, *whole] if last else [lane.head, *bars, *whole]
                    # What opens a deck can fill a column by itself: its face goes on beside it.
                    if not (
                        faces
                        and (last or not faces[-1].systems)
                        and self._next_column(faces[-1])
                        and self._put(faces[-1], beside, row)
                    ):
                        head = lane.brief if brief_backs and len(faces) % 2 and last else lane.head
                        faces.append(Face([[]]))
                        fits = self._put(faces[-1], [head, *bars, *whole], row)
                        if not fits and head is lane.head and self._put(faces[-1], [head], row):
                            # Long steps can fill a face; the entry then opens the next one.
                            behind = has_backs or (brief_backs and len(faces) % 2)
                            faces[-1].steps_only = has_backs
                            short = lane.brief if behind else lane.later
                            faces.append(Face([[]]))
                            fits = self._put(faces[-1], [short, *bars, *whole], row)
                        if not fits:
                            needed, height = height_of([head, *whole]), self.room([row.system])
                            raise CardOverflow(row.entry["entry_id"], needed, height, self.card.next_format)
                last = row
        return faces

    def _next_column(self, face: Face) -> bool:
        if len(face.columns) == self.card.columns:
            return False
        face.columns.append([])
        face.used, face.tallest = 0.0, max(face.tallest, face.used)
        return True

    def _put(self, face: Face, parts: list[Part], row: _Row) -> bool:
        """Put parts that belong together on a face, if there is room for all of them.

        A further system can make the head higher, which takes room from every column.
        """
        needed = height_of(parts)
        systems = face.systems if row.system in face.systems else [*face.systems, row.system]
        unnamed = face.bar if len(systems) > 1 else None
        late = height_of([unnamed]) if unnamed else 0.0
        if max(face.used + needed + late, face.tallest) > self.room(systems):
            return False
        if not face.systems and row.bar not in parts:
            face.bar, face.bar_at = (
                row.bar,
                1 + next(n for n, part in enumerate(parts) if part["kind"] == "lane"),
            )
        elif unnamed:
            # The head named the one system; with a second one each gets its bar.
            face.columns[0].insert(face.bar_at, unnamed)
            face.bar = None
        face.columns[-1] += parts
        face.used += needed + late
        face.systems = systems
        return True


def lane_part(
    lane: LaneView, contact: str | None, words: dict[str, str], elsewhere: str | None = None
) -> Part:
    """The head of a lane: outcome, severity, steps or where they are instead, and whom to call.

    One step that is not confirmed says so; several have a star each, and say it once after the last step.
    """
    starred = elsewhere is None and sum(not action.confirmed for action in lane.actions) > 1
    doubt = STAR if starred else words["not-confirmed"]
    return {
        "kind": "lane",
        "outcome": lane.outcome,
        "may_drive": lane.may_drive,
        "severity_name": lane.severity_name,
        "steps": [
            {"text": action.text, "mark": None if action.confirmed else doubt}
            for action in lane.actions
        ] if elsewhere is None else [],
        "star": f"({STAR}\u00a0{words['not-confirmed']})" if starred else None,
        "elsewhere": elsewhere,
        "contact": contact,
    }  # fmt: skip
