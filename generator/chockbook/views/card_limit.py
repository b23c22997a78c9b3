"""The limit of a defect in a line that fits on a card."""

from __future__ import annotations

from ..catalogue import Catalogue, Entry
from .entry import view_figure
from .wording import fixed_word, in_language, joined


def card_limit(catalogue: Catalogue, entry: Entry, rulebook_id: str, language: str) -> str | None:
    """Such as "Limit: at least 3 mm (0.12 in)"; None where no figure of the rulebook is meant for the card.

    Raises:
        MissingWording: a text has not been written in the language.
    """
    said = []
    for limit in entry.limits:
        for row in limit.rows:
            if row.rulebook != rulebook_id or row.card is None or entry.id not in row.card.entries:
                continue
            figure = view_figure(catalogue, row, language).printed
            if limit.compare != "between":
                figure = f"{fixed_word(catalogue, f'compare-{limit.compare}', language)} {figure}"
            if row.card.place:
                figure = f"{in_language(row.card.place, language)}, {figure}"
            mark = "" if row.confirmed else f" ({fixed_word(catalogue, 'not-confirmed', language).lower()})"
            said.append(figure + mark)
    if not said:
        return None
    return joined(catalogue, fixed_word(catalogue, "card-limit", language), "; ".join(said), language)
