"""Cards say the limit that decides a defect, and the proof reads it back: figure, side, place and standing."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from chockbook.catalogue import Catalogue
from chockbook.catalogue.limit import LimitRow
from chockbook.printing import render_fitting_cards
from chockbook.proof.card_order import prove_deck
from chockbook.proof.read_pdf import read_pdf
from chockbook.views.card_deck import view_deck

DEFECT = "tire-tread.worn-steer"
LANGUAGE = {"us-fmcsr": "en", "on-s1": "fr"}


@pytest.fixture(scope="module", params=sorted(LANGUAGE))
def deck(request: pytest.FixtureRequest, shipped: Catalogue, tmp_path_factory: pytest.TempPathFactory) -> tuple[str, Path]:
    path = tmp_path_factory.mktemp("limits") / "cards.pdf"
    render_fitting_cards(shipped, request.param, LANGUAGE[request.param], path)
    return request.param, path


def said_of(catalogue: Catalogue, rulebook: str, entry_id: str) -> str | None:
    """What the cards of a rulebook give as a defect's limit, in English."""
    return next(entry.limit for lane in view_deck(catalogue, rulebook, "en").lanes for system in lane.systems
                for item in system.items for entry in item.entries if entry.entry_id == entry_id)  # fmt: skip


@pytest.mark.parametrize(("rulebook", "defect", "said"), [
    # 49 CFR 393.75(b) and (c), as in force in 2025
    ("us-fmcsr", "tire-tread.worn-steer", "Limit: at least 4/32 in"),
    ("us-fmcsr", "tire-tread.worn-other", "Limit: at least 2/32 in"),
    # 49 CFR 393.47(f), with part 396, Appendix A: wedge brake data
    ("us-fmcsr", "wedge-brake.mark-moves-too-far", "Limit: no more than 1.6 mm (1/16 in)"),
    # 49 CFR 393.95(a)(1): 10 B:C with placards; else 5 B:C, or two of 4 B:C
    ("us-fmcsr", "fire-extinguisher.rating-too-low",
     "Limit: placarded load, at least 10 B:C; other loads, at least 5 B:C; two extinguishers, at least 4 B:C each"),
])  # fmt: skip
def test_a_card_gives_the_laws_own_figure(rulebook: str, defect: str, said: str, shipped: Catalogue) -> None:
    assert said_of(shipped, rulebook, defect) == said


def test_a_defect_whose_figure_is_for_no_card_has_none(shipped: Catalogue) -> None:
    assert said_of(shipped, "us-fmcsr", "brake-pushrod.stroke-over-limit") is None


def test_a_deck_with_its_limits_is_proved(shipped: Catalogue, deck: tuple[str, Path]) -> None:
    assert objections(shipped, *deck) == []


@pytest.mark.parametrize("change", [
    lambda row, language: {"printed": {**row.printed, language: row.printed[language].translate(str.maketrans("34", "58"))}},
    lambda row, language: {"basis": "from-memory"},
    lambda row, language: {"card": None},
    lambda row, language: {"card": row.card.model_copy(update={"place": {"en": "drive axle", "fr": "essieu moteur"}})},
], ids=["figure", "standing", "no limit", "place"])  # fmt: skip
def test_a_limit_other_than_the_tables_is_seen(
    change: Callable[[LimitRow, str], dict], shipped: Catalogue, deck: tuple[str, Path]
) -> None:
    """The cards were printed before the table changed."""
    book, path = deck

    def changed(row: LimitRow) -> LimitRow:
        ours = row.rulebook == book and row.card is not None and DEFECT in row.card.entries
        return row.model_copy(update=change(row, LANGUAGE[book])) if ours else row

    limits = {limit.id: limit.model_copy(update={"rows": [changed(row) for row in limit.rows]}) for limit in shipped.limits}
    entries = tuple(replace(one, limits=tuple(limits[limit.id] for limit in one.limits)) for one in shipped.entries)
    other = replace(shipped, limits=tuple(limits.values()), entries=entries)
    assert any(DEFECT in one or "Limit" in one for one in objections(other, book, path))


def objections(catalogue: Catalogue, book: str, path: Path) -> list[str]:
    return [str(one) for one in prove_deck(catalogue, read_pdf(path.read_bytes()), "cards.pdf", book, LANGUAGE[book])]
