"""One page of each type, chosen from the catalogue."""

from __future__ import annotations

from chockbook.catalogue import Catalogue, Entry

FIXED = (
    "index", "components/index", "severity/index", "actions/index", "schedule", "route", "figures", "measure", "duties", "compare/index",
    "provinces", "pairs", "practice", "walk", "how-to-use", "cautions", "sources", "standing", "card", "changes",
)  # fmt: skip


def spoken_of(catalogue: Catalogue) -> list[Entry]:
    """The entries that the first rulebook speaks of: those that its pages show."""
    found = [entry for entry in catalogue.entries if entry.rulings_under(catalogue.rulebooks[0].id)]
    assert found, "the rulebook speaks of no entry"
    return found


def one_of_each(catalogue: Catalogue) -> list[str]:
    """Paths, without ending, of a page of each type, with the components that show the most on a page."""
    rulebook = catalogue.rulebooks[0]
    two_rulings = next(e for e in spoken_of(catalogue) if len(e.rulings_under(rulebook.id)) > 1)
    with_limit = next(e for e in spoken_of(catalogue) if e.limits)
    with_figure = next(s for s in catalogue.stations if any(step.figure for step in s.steps))
    components = dict.fromkeys((two_rulings.component.id, with_limit.component.id))
    return [
        *FIXED,
        *(f"components/{component_id}" for component_id in components),
        f"severity/{rulebook.severities[-1].id}",
        f"actions/{rulebook.actions[0].id}",
        f"route/{with_figure.id}",
        *(f"compare/{other.id}" for other in catalogue.rulebooks[1:2]),
    ]
