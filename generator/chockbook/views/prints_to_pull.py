"""Which prints to pull, truck by truck: units whose prints went stale alike stand together.

Whoever walks the yard looks for a unit and then for what hangs in its cab, so units come first and files do not come
at all. Prints of one document in several languages are one line.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, replace

from ..editions import Judged, Pile


@dataclass(frozen=True, slots=True)
class PrintView:
    """One document to pull from each unit of a group."""

    document: str
    """As the register names it, such as "deck-visor-letter-long-edge"."""
    rulebook: str
    """Its id."""
    languages: tuple[str, ...]
    """Codes; of a print in two languages both, such as "en+fr"."""
    edition: str
    """The code that stands on it."""
    code: str
    """Of what it took from its carrier's file, as it stands on it; empty on one that has none."""
    new_code: str | None
    """That of the print to take instead; None where there is none."""
    reasons: tuple[str, ...]
    """Keys of fixed words: what of its carrier's file is another thing now, or why it cannot be judged."""


@dataclass(frozen=True, slots=True)
class PullView:
    """Units of a carrier from which the same prints are to be pulled."""

    carrier: str
    """Its id."""
    units: tuple[str, ...]
    """What is painted on them, in the order of the register; none for what a carrier prints once for all."""
    prints: tuple[PrintView, ...]


def view_pulls(judged: Iterable[Judged], piles: Collection[Pile], names: Mapping[tuple[str, str], str]) -> tuple[PullView, ...]:
    """The prints of some piles, carrier by carrier and unit by unit.

    Args:
        judged: the prints of the register.
        piles: what is to be done with them.
        names: what is painted on a unit, by carrier and id; a unit that is not there is named by its id.
    """
    found: dict[tuple[str, str], dict[PrintView, list[str]]] = {}
    for one in judged:
        if one.pile not in piles:
            continue
        row = one.row
        known = PrintView(row.get("document", ""), row.get("rulebook", ""), (), row.get("edition", ""),
                          row.get("print_code", ""), one.new_code, _reasons(one))  # fmt: skip
        owner = row.get("carrier", ""), row.get("unit", "")
        languages = found.setdefault(owner, {}).setdefault(known, [])
        if row.get("language") not in (None, "", *languages):
            languages.append(row["language"])
    alike: dict[tuple[str, bool, frozenset[PrintView]], list[str]] = {}
    order: dict[frozenset[PrintView], tuple[PrintView, ...]] = {}
    for (carrier, unit), prints in found.items():
        whole = tuple(replace(one, languages=tuple(languages)) for one, languages in prints.items())
        order.setdefault(frozenset(whole), whole)
        units = alike.setdefault((carrier, bool(unit), frozenset(whole)), [])
        if unit:
            units.append(names.get((carrier, unit), unit))
    return tuple(PullView(carrier, tuple(units), order[prints]) for (carrier, _, prints), units in alike.items())


def _reasons(one: Judged) -> tuple[str, ...]:
    whats = ("contacts" if change.what.startswith("contact") else change.what for change in one.own)
    return tuple(dict.fromkeys(f"prints-{why}" for why in (*whats, *one.unjudged, *(["replaced"] if one.is_replaced else []))))
