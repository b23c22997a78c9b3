"""Wrong choices: the nearest come first, and none reads like another."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import TypeVar

from ..catalogue import Entry
from .question import Choice, order_by_seed
from .wording import Words, gives_away, read_alike

Told = Callable[[Words], str]
"""A text, once it is known in which language."""
LOOKED_AT = 500
"""Defects that are looked at for one question: all of so many, a part of more."""
PART = 100
"""Of a crowd of more, so many of the same component, of the same system and of all are looked at."""
One = TypeVar("One")


def nearest(seed: str, entry: Entry, others: Iterable[Entry], most_of_component: int = 2) -> Iterator[Entry]:
    """Other defects: some of the same component, then of the same system, then the rest; by seed within each.

    They are put in order as they are asked for: who takes a few of a large crowd does not pay for the rest.
    """
    of_component, of_system, rest = [], [], []
    for other in others:
        near = of_component if other.component.id == entry.component.id else of_system
        (near if other.system.id == entry.system.id else rest).append(other)

    def by_seed(tier: list[Entry]) -> list[Entry]:
        return sorted(tier, key=lambda other: order_by_seed(seed, other.id))

    same = by_seed(of_component)
    yield from same[:most_of_component]
    yield from by_seed(of_system)
    yield from by_seed(rest)
    yield from same[most_of_component:]


class Crowd:
    """Defects out of which wrong choices are taken. Of a crowd of many, a part is looked at, which the seed picks:
    with all of them, the work for all questions would grow with the square of the catalogue."""

    def __init__(self, entries: Iterable[Entry]) -> None:
        self._everyone: list[Entry] = list(entries)
        self._of_system: dict[str, list[Entry]] = {}
        self._of_component: dict[str, list[Entry]] = {}
        for entry in self._everyone:
            self._of_system.setdefault(entry.system.id, []).append(entry)
            self._of_component.setdefault(entry.component.id, []).append(entry)

    def near(self, seed: str, entry: Entry) -> list[Entry]:
        """The others, or a part of them in which those of the same component and system are not rarer."""
        if len(self._everyone) <= LOOKED_AT:
            return self._everyone
        groups = (self._of_component.get(entry.component.id, []), self._of_system.get(entry.system.id, []), self._everyone)
        parts = (part_by_seed(group, seed, PART) for group in groups)
        return list({one.id: one for part in parts for one in part}.values())


def part_by_seed(crowd: Sequence[One], seed: str, most: int = LOOKED_AT) -> Sequence[One]:
    """All of a small crowd; of a large one so many that follow each other, from a place that the seed decides."""
    if len(crowd) <= most:
        return crowd
    start = int.from_bytes(order_by_seed(seed, "part")[:8], "big") % len(crowd)
    return [*crowd[start : start + most], *crowd[: max(0, start + most - len(crowd))]]


def choices(
    seed: str, text: Told, right: Told, wrong: Iterable[Told], languages: Sequence[Words],
    most_wrong: int = 3, least_wrong: int = 1,
) -> tuple[Choice, ...] | None:  # fmt: skip
    """The right choice among wrong ones, in an order of the seed, as the first of the languages has them.

    Every language is looked at, so that a question has the same choices in each of them.

    Args:
        seed: the question's id.
        text: the question's wording.
        right: the answer.
        wrong: wrong choices, the best first; one that reads like another is passed over.
        languages: words of the language asked in, then of the others.
        most_wrong: how many are taken.
        least_wrong: fewer than these make no question.

    Returns:
        None where too few are left, or where the question's wording gives the answer away.
    """
    asked, answer = [text(words) for words in languages], [right(words) for words in languages]
    taken: list[list[str]] = []
    for told in wrong:
        if len(taken) == most_wrong:
            break
        said = [told(words) for words in languages]
        if not any(read_alike(*pair) for other in (answer, *taken) for pair in zip(said, other, strict=True)):
            taken.append(said)
    if len(taken) < least_wrong:
        return None
    for at in range(len(languages)):
        if gives_away(asked[at], answer[at], [said[at] for said in taken]):
            return None
    offered = [Choice(answer[0], True), *(Choice(said[0], False) for said in taken)]
    return tuple(choice for _, choice in sorted(enumerate(offered), key=lambda pair: order_by_seed(seed, pair[0])))
