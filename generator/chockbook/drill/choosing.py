"""Wrong choices: the nearest come first, and none reads like another."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from ..catalogue import Entry
from .question import Choice, order_by_seed
from .wording import Words, gives_away, read_alike

Told = Callable[[Words], str]
"""A text, once it is known in which language."""
LOOKED_AT = 500
"""Defects that are looked at for the wrong choices of one question."""


def nearest(seed: str, entry: Entry, others: Iterable[Entry], most_of_component: int = 2) -> list[Entry]:
    """Other defects: some of the same component, then of the same system, then the rest; by seed within each."""

    def tier(other: Entry) -> int:
        return 0 if other.component.id == entry.component.id else 1 if other.system.id == entry.system.id else 2

    ordered = sorted(others, key=lambda other: (tier(other), order_by_seed(seed, other.id)))
    same = [other for other in ordered if tier(other) == 0]
    return [*same[:most_of_component], *(other for other in ordered if tier(other) > 0), *same[most_of_component:]]


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
        parts = (_part(group, seed) for group in groups)
        return list({one.id: one for part in parts for one in part}.values())


def _part(entries: list[Entry], seed: str) -> list[Entry]:
    """Some that follow each other, from a place that the seed decides."""
    if len(entries) <= LOOKED_AT:
        return entries
    start = int.from_bytes(order_by_seed(seed, "part")[:8], "big") % len(entries)
    return [*entries[start : start + LOOKED_AT], *entries[: max(0, start + LOOKED_AT - len(entries))]]


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
