"""Weights for the next drill: a system that the class missed more often is asked more often."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from ..drill.weights import write_weights
from .item_analysis import HELD_BACK
from .shares import Share

LEAST, MOST = 0.5, 4.0
"""No system goes unasked, and none crowds out the others. Our own choice."""


def weights_of(systems: Sequence[Share]) -> dict[str, float]:
    """How much more often than others each system is to be asked, by id in the order of the alphabet.

    It is the system's share wrong over that of the class, with HELD_BACK answers at the class's share added to each
    system, kept between LEAST and MOST. Where nothing was wrong every weight is 1.
    """
    asked = sum(one.asked for one in systems)
    wrong = asked - sum(one.right for one in systems)
    if not wrong:
        return {one.id: 1.0 for one in sorted(systems, key=lambda one: one.id)}
    usual = wrong / asked
    found = {}
    for one in sorted(systems, key=lambda one: one.id):
        missed = (one.asked - one.right + HELD_BACK * usual) / (one.asked + HELD_BACK)
        found[one.id] = round(min(MOST, max(LEAST, missed / usual)), 2)
    return found


def write_next_drill(systems: Sequence[Share], note: str, path: Path) -> dict[str, float]:
    """Write the weights as `chockbook drill --weights` reads them: YAML for a name in .yaml or .yml, else JSON.

    Args:
        systems: shares right by system.
        note: what the weights were made from, one line.
        path: the file.

    Raises:
        OSError: the file cannot be written.
    """
    weights = weights_of(systems)
    write_weights(weights, note, path)
    return weights
