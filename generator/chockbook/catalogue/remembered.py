"""What is worked out once for a catalogue: books, pages and documents ask for the same things again and again."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import TypeVar, TypeVarTuple

from .whole import Catalogue

Names = TypeVarTuple("Names")
R = TypeVar("R")


def remembered(work: Callable[[Catalogue, *Names], R]) -> Callable[[Catalogue, *Names], R]:
    """A function of a catalogue and of names, whose results are kept as long as it is asked about the same catalogue.

    What it gives is shared by all who ask, so nobody may change it.
    """
    last: list[tuple[Catalogue, dict[tuple[*Names], R]]] = []

    @wraps(work)
    def told(catalogue: Catalogue, *names: *Names) -> R:
        held = last[0] if last else None
        if held is None or held[0] is not catalogue:
            held = (catalogue, {})
            last[:] = [held]
        kept = held[1]
        if names not in kept:
            kept[names] = work(catalogue, *names)
        return kept[names]

    return told
