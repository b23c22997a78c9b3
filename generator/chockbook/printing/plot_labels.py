"""The axes of a plot, and numbers beside its points that lie neither on each other nor on a point."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

DIGIT_WIDTH, LABEL_HEIGHT = 2.1, 3.4
"""Millimetres of a digit at 10 pt."""
POINT_RADIUS = 0.9
"""Millimetres."""
MOST_TICKS = 6
STEPS = (0.05, 0.1, 0.2, 0.25, 0.5)
"""Distances between ticks that are easy to read; the smallest that needs no more than MOST_TICKS is taken."""
Box = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class Axis:
    """A scale from its first to its last tick."""

    ticks: tuple[float, ...]

    def at(self, value: float) -> float:
        """Where a value lies: 0 at the first tick, 1 at the last."""
        return (value - self.ticks[0]) / (self.ticks[-1] - self.ticks[0])


def axis_of(values: Sequence[float], least: float, most: float) -> Axis:
    """An axis that holds all values, and lies between `least` and `most`; without values it reaches from end to end."""
    low, high = (min(values), max(values)) if values else (least, most)
    for step in STEPS:
        first, last = math.floor(low / step + 1e-9), math.ceil(high / step - 1e-9)
        last = max(last, first + 1)
        if last * step > most + 1e-9:
            first, last = first - 1, last - 1
        if last - first < MOST_TICKS or step == STEPS[-1]:
            break
    return Axis(tuple(round(n * step, 10) for n in range(first, last + 1)))


def placed_labels(points: Sequence[Mapping[str, Any]], width: float, height: float) -> list[dict[str, Any]]:
    """The numbers of points that have one, with the lower left corner of each.

    Points at one place share a label. A label stands as near to its point as there is room; where it stands off, a
    line leads to it.

    Args:
        points: x, y and number of each; number 0 has no label.
        width: of the plot, in millimetres as all else.
        height: of the plot.
    """
    wide = 2 * POINT_RADIUS
    dots: list[Box] = [_box(point["x"] - wide / 2, point["y"] - wide / 2, wide, wide) for point in points]
    together: dict[tuple[float, float], list[int]] = {}
    for point in points:
        if point["number"]:
            together.setdefault((point["x"], point["y"]), []).append(point["number"])
    taken: list[Box] = []
    found = []
    for (x, y), numbers in sorted(together.items(), key=lambda pair: (min(pair[1]), pair[0])):
        text = ", ".join(map(str, sorted(numbers)))
        size = DIGIT_WIDTH * len(text)
        best = None
        for left, low, off in _spots(x, y, size):
            box = _box(left, low, size, LABEL_HEIGHT)
            outside = left < 0 or low < 0 or left + size > width or low + LABEL_HEIGHT > height
            if not outside and not any(_meet(box, other) for other in (*taken, *dots)):
                best = left, low, off
                break
        if best is None:  # no room anywhere near: on the point's upper right, whatever lies there
            best = min(x + POINT_RADIUS, width - size), min(y + POINT_RADIUS, height - LABEL_HEIGHT), False
        left, low, off = best
        taken.append(_box(left, low, size, LABEL_HEIGHT))
        found.append({"text": text, "x": round(left, 2), "y": round(low, 2), "width": round(size, 2),
                      "lead": [x, y, round(left + size / 2, 2), round(low + LABEL_HEIGHT / 2, 2)] if off else None})
    return found


def _spots(x: float, y: float, size: float) -> Iterator[tuple[float, float, bool]]:
    """Lower left corners around a point, the nearest first, and whether a line has to lead there."""
    for ring in range(8):
        gap = POINT_RADIUS + 0.4 + 1.6 * ring
        for turn in (0, 4, 2, 6, 1, 3, 5, 7):
            dx, dy = math.cos(turn * math.pi / 4), math.sin(turn * math.pi / 4)
            left = x + dx * gap - (size / 2) * (1 - dx)
            low = y + dy * gap - (LABEL_HEIGHT / 2) * (1 - dy)
            yield left, low, ring > 1


def _box(left: float, low: float, width: float, height: float) -> Box:
    return left, low, left + width, low + height


def _meet(one: Box, other: Box) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]
