"""What to teach first after a drill, in plain words: systems, a severity, and two answers taken for each other."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Protocol

from ..results.class_results import ClassResults
from ..results.confusions import Confusion
from ..results.shares import Share

MOST_SYSTEMS = 3
"""Systems that are named: as many as fit in a lesson. Our own choice."""
NOTED = 1.2
"""Weight of the next drill from which a system is said to be missed much more than the others. Our own choice."""
FEWEST_ANSWERS, FEWEST_MISSES = 10, 3
"""Answers that a system or severity needs before it is named, and wrong ones that a system does: one tick is no
weakness of a class. Our own choice."""
FAR_APART = 0.1
"""Share right by which the worst severity lies below the best before it is named. Our own choice."""
FEWEST_TIMES = 3
"""How often two answers were taken for each other before they are named. Our own choice."""


class Sayer(Protocol):
    """Names and fixed words in one language."""

    def __call__(self, key: str, **values: object) -> str: ...

    def percent(self, share: float) -> str: ...

    def counted(self, right: int, asked: int) -> str: ...

    def system(self, name: str) -> str: ...

    def severity(self, name: str) -> str: ...


def missed_systems(weights: Mapping[str, float]) -> list[str]:
    """Ids of the systems missed much more than the others, the most missed first; few answers count for little."""
    return [name for _, name in sorted((-weight, name) for name, weight in weights.items() if weight >= NOTED)]


def teach_first(say: Sayer, results: ClassResults, other: str) -> tuple[str, ...]:
    """Lines that say what to teach first; at least one.

    Args:
        say: gives names and words.
        results: the class.
        other: what stands before a text of the sheets, where they are in another language.
    """
    systems = _systems(say, results.shares["systems"], results.weights)
    lines = [systems, _severity(say, results.shares["severities"]), _pair(say, results.confusions, other)]
    return tuple(line for line in lines if line)


def _systems(say: Sayer, shares: Sequence[Share], weights: Mapping[str, float]) -> str:
    """The systems missed much more than the others, by answers enough; those that tie with the last one are counted."""
    known = {one.id: one for one in shares if one.asked >= FEWEST_ANSWERS}
    if all(one.right == one.asked for one in shares):
        return say("results-none-missed")
    if not known:
        return say("results-teach-few", fewest=FEWEST_ANSWERS)
    missed = [known[name] for name in missed_systems(weights) if name in known]
    missed = [one for one in missed if one.asked - one.right >= FEWEST_MISSES]
    if not missed:
        return say("results-teach-none")

    def order(one: Share) -> tuple[float, float]:
        return -weights[one.id], one.share

    named = sorted(missed, key=order)[:MOST_SYSTEMS]
    tied = sum(order(one) == order(named[-1]) for one in missed if one not in named)
    told = ", ".join(say("results-teach-share", name=say.system(one.id), counted=say.counted(one.right, one.asked))
                     for one in named)  # fmt: skip
    return say("results-teach-systems", systems=told + (" " + say("results-teach-tied", number=tied) if tied else ""))


def _severity(say: Sayer, shares: Sequence[Share]) -> str:
    """The severity that was known worst, where another was known much better, each by answers enough."""
    shares = [one for one in shares if one.asked >= FEWEST_ANSWERS]
    if len(shares) < 2:
        return ""
    worst, best = (choose(shares, key=lambda one: one.share) for choose in (min, max))
    if best.share - worst.share < FAR_APART:
        return ""
    return say("results-teach-severity", worst=say.severity(worst.id), share=say.counted(worst.right, worst.asked),
               best=say.severity(best.id), other=say.counted(best.right, best.asked))  # fmt: skip


def _pair(say: Sayer, confusions: Sequence[Confusion], other: str) -> str:
    """The two answers that were taken for each other most, where no other two were as much."""
    if not confusions or confusions[0].count < FEWEST_TIMES:
        return ""
    one, *others = confusions
    if others and (others[0].count, others[0].offered) == (one.count, one.offered):
        return ""
    return say("results-teach-pair", right=other + one.one.rstrip("."), ticked=other + one.other.rstrip("."),
               count=one.other_for_one, offered=one.offered)  # fmt: skip
