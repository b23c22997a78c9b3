"""The proof reads stars on cards: each belongs to a step that is not confirmed, and what it means is said."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from chockbook.catalogue import Catalogue
from chockbook.printing import card_filling, render_fitting_cards
from chockbook.proof.card_order import prove_deck
from chockbook.proof.read_pdf import read_pdf

BOOK = "qc-list-1"


def objections(catalogue: Catalogue, path: Path) -> list[str]:
    return [str(one) for one in prove_deck(catalogue, read_pdf(path.read_bytes()), "cards.pdf", BOOK, "fr")]


@pytest.fixture(scope="module")
def deck(shipped: Catalogue, tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("stars") / "cards.pdf"
    render_fitting_cards(shipped, BOOK, "fr", path)
    return path


def test_a_deck_with_its_stars_is_proved(shipped: Catalogue, deck: Path) -> None:
    assert objections(shipped, deck) == []


@pytest.mark.parametrize("basis", ["published", "from-memory"])
def test_a_star_at_another_step_is_seen(basis: str, shipped: Catalogue, deck: Path) -> None:
    """The cards were printed before one step became confirmed, or doubtful."""
    book = shipped.rulebook[BOOK]
    step = next(one for one in book.actions if (one.basis == "from-memory") != (basis == "from-memory"))
    actions = [replace_basis(one, basis) if one is step else one for one in book.actions]
    changed = book.model_copy(update={"actions": actions})
    other = replace(shipped, rulebooks=tuple(changed if one.id == BOOK else one for one in shipped.rulebooks))
    assert any(f"does not say of step {step.id!r} whether it is confirmed" in one for one in objections(other, deck))


def test_stars_without_their_meaning_are_seen(
    shipped: Catalogue, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    told = card_filling.lane_part
    monkeypatch.setattr(card_filling, "lane_part", lambda *args, **more: {**told(*args, **more), "star": ""})
    render_fitting_cards(shipped, BOOK, "fr", tmp_path / "cards.pdf")
    assert any("has a star, and does not say what it means" in one for one in objections(shipped, tmp_path / "cards.pdf"))


def replace_basis(action, basis: str):
    return action.model_copy(update={"basis": basis})
