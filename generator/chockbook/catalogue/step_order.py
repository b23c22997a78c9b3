"""One order of steps out of the orders of several rulings.

site_templates/web/lookup/js/step_order.js does the same; tests/lookup/test_step_order.py holds the two together.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import combinations
from typing import Any


def merged(orders: Sequence[Sequence[str]], place: Callable[[str], Any]) -> list[str]:
    """Every step once, in an order that keeps each order given.

    Args:
        orders: steps by id in the order of doing them, the weightiest order first. Where one contradicts those before
            it together, theirs holds.
        place: what to sort by where the orders leave open which step comes first; no two steps have the same.
    """
    after: dict[str, set[str]] = {name: set() for order in orders for name in order}
    """Of each step those that come after it, at once or by way of others."""
    for order in orders:
        for earlier, later in combinations(order, 2):
            if earlier != later and earlier not in after[later]:
                gained = {later} | after[later]
                for name, following in after.items():
                    if name == earlier or earlier in following:
                        following |= gained
    done: list[str] = []
    left = set(after)
    while left:
        following = set().union(*(after[name] for name in left))
        done.append(min(left - following, key=place))
        left.remove(done[-1])
    return done
