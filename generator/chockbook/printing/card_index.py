"""The wallet index: which parts can have a defect of the worst severity. It leads to the deck and replaces none."""

from __future__ import annotations

from collections.abc import Callable

from ..views.card_deck import DeckView
from .card_faces import Card, Face, height_of
from .card_filling import lane_part
from .card_heights import Part
from .overflow import CardOverflow

IN_A_ROW = 4
"""Components after the name of their system, at most; a system with more has a further row."""


def fill_index(
    deck: DeckView, measure: Callable[[list[Part]], list[float]], room_below: Callable[[str], float], title: str,
    back: tuple[str, list[Part]],
    words: dict[str, str], next_format: str | None = None,
) -> list[Card]:  # fmt: skip
    """The cards of the index: each system with its components, worst severity only.

    Args:
        deck: with the worst severity only.
        measure: gives the heights of parts.
        room_below: height below the head of a card with a title, millimetres.
        title: stands in the head of every card.
        back: title and parts of every back.
        words: the fixed words of the deck's language.
        next_format: what to take where the index has no room.

    Raises:
        CardOverflow: a system has more components than a card has room for.
    """
    room, back_title = room_below(title), back[0]
    parts = _measured(back[1], measure)
    if height_of(parts) > room_below(back_title):
        raise CardOverflow(title, height_of(parts), room_below(back_title), next_format)
    behind = back_title, parts
    runs: list[list[Part]] = []
    for lane in deck.lanes:
        head = lane_part(lane, None, words, elsewhere=words["print-id1-lead"])
        (head,) = _measured([head], measure)
        rows: list[Part] = []
        for system in lane.systems:
            names = list(
                dict.fromkeys(entry.component_name for item in system.items for entry in item.entries)
            )
            rows += _rows(system.system_id, system.system_name, names, measure, room - height_of([head]))
        here: list[Part] = []
        for row in rows:
            if height_of([head, row]) > room:
                raise CardOverflow(row["entry_id"], height_of([head, row]), room, next_format)
            if here and height_of([head, *here, row]) > room:
                runs.append([head, *here])
                here = []
            here.append(row)
        runs.append([head, *here])
    return [_card(run, title, behind) for run in _joined(runs, measure)]


def _joined(runs: list[list[Part]], measure: Callable[[list[Part]], list[float]]) -> list[list[Part]]:
    """The parts of each card, with rows of one system that came to stand on the same card made one row.

    One row is never higher than two: it says the system's name once.
    """
    joined: list[list[Part]] = []
    for run in runs:
        parts: list[Part] = []
        for part in run:
            if parts and part["kind"] == "entry" and part["entry_id"] == parts[-1].get("entry_id"):
                parts[-1] = {**part, "condition": f"{parts[-1]['condition']} · {part['condition']}"}
            else:
                parts.append(part)
        joined.append(parts)
    heights = iter(measure([part for run in joined for part in run]))
    return [[{**part, "height": next(heights)} for part in run] for run in joined]


def _rows(
    system_id: str,
    name: str,
    components: list[str],
    measure: Callable[[list[Part]], list[float]],
    room: float,
) -> list[Part]:
    """A system's rows: as many components in each as fit, up to IN_A_ROW."""
    rows: list[Part] = []
    for most in range(IN_A_ROW, 0, -1):
        rows = _measured(
            [
                {"kind": "entry", "entry_id": system_id, "component_name": name,
                 "condition": " · ".join(components[n : n + most])}
                for n in range(0, len(components), most)
            ],
            measure,
        )  # fmt: skip
        if all(height_of([row]) <= room for row in rows):
            break
    return rows


def _card(parts: list[Part], title: str, back: tuple[str, list[Part]]) -> Card:
    return Card(Face([parts], [title]), Face([list(back[1])], [back[0]]))


def _measured(parts: list[Part], measure: Callable[[list[Part]], list[float]]) -> list[Part]:
    return [{**part, "height": height} for part, height in zip(parts, measure(parts), strict=True)]
