"""How a deck fills its cards: few cards, no side without need empty, steps never far from their defects."""

from __future__ import annotations

import itertools

import pytest
from demo_carriers import ALL_EQUIPMENT, carrier

from chockbook.catalogue import Catalogue
from chockbook.printing.card_faces import Card, Face
from chockbook.printing.card_setting import CardSetting
from chockbook.printing.deck_maker import DeckMaker

TRUCK = {"id": "t", "name": "T", "vehicles": ["truck"],
         "equipment": ["air-brakes", "spring-suspension", "def-system", "cargo"]}  # fmt: skip
EVERYTHING = {"id": "e", "name": "E", "vehicles": ["truck", "trailer"], "equipment": list(ALL_EQUIPMENT)}
DECKS = list(itertools.product(("on-s1", "qc-list-1"), ("en", "fr"), ("card", "a6"), ("t", "e")))
UNITS = {one.id: one for one in carrier(units=[TRUCK, EVERYTHING]).units}


def deck_of(catalogue: Catalogue, rulebook: str, language: str, name: str, unit: str) -> list[Card]:
    maker = DeckMaker(catalogue, rulebook, language, CardSetting(format=name), None, "deck")
    return maker.filled(UNITS[unit])


def kinds(face: Face) -> set[str]:
    return {part["may_drive"] for column in face.columns for part in column if part["kind"] == "lane"}


def entries(face: Face) -> list[str]:
    return [part["entry_id"] for column in face.columns for part in column if part["kind"] == "entry"]


def heads(face: Face) -> list[dict]:
    return [part for column in face.columns for part in column if part["kind"] == "lane"]


@pytest.mark.parametrize("deck", DECKS, ids="-".join)
def test_hardly_a_side_is_empty_and_none_says_both(deck: tuple[str, ...], shipped: Catalogue) -> None:
    cards = deck_of(shipped, *deck)
    sides = [(kinds(card.front), kinds(card.back)) for card in cards]
    for front, back in sides:
        assert front  # what there is begins on the front
        assert not any("no" in side and len(side) > 1 for side in (front, back))
        assert "no" in front or "no" not in back  # a stop side never stands behind a keep-going side
    empty = sum(not back for _, back in sides)
    assert empty <= max(1, len(cards) // 20)


@pytest.mark.parametrize("deck", DECKS, ids="-".join)
def test_steps_have_their_defects_on_the_same_card(deck: tuple[str, ...], shipped: Catalogue) -> None:
    for card in deck_of(shipped, *deck):
        for face in (card.front, card.back):
            for head in heads(face):
                if head["elsewhere"] is not None:
                    assert face is card.back
                    assert head["elsewhere"] == shipped.words["steps-on-front"][deck[1]]
                    assert next(one["steps"] for one in heads(card.front) if one["outcome"] == head["outcome"])
            if heads(face) and not entries(face):
                assert face is card.front
                assert entries(card.back)
                assert kinds(card.back) == kinds(face)


def test_french_decks_of_one_truck_have_as_few_cards_as_can_be(shipped: Catalogue) -> None:
    """Ninety-seven at first, and more than half of their sides empty."""
    assert len(deck_of(shipped, "on-s1", "fr", "card", "t")) <= 62
    assert len(deck_of(shipped, "qc-list-1", "fr", "a6", "t")) <= 40


def test_front_and_back_are_about_neighbouring_systems(shipped: Catalogue) -> None:
    order = [system.name["en"] for system in shipped.systems]
    for card in deck_of(shipped, "on-s1", "en", "card", "e"):
        places = [order.index(system) for face in (card.front, card.back) for system in face.systems]
        assert max(places) - min(places) < 8


@pytest.mark.parametrize(("rulebook", "unconfirmed"), [("on-s1", (1, 1)), ("qc-list-1", (3, 3))])
def test_several_steps_that_are_not_confirmed_have_a_star_each_and_one_note(rulebook, unconfirmed, shipped) -> None:
    """Counted by hand in rulebooks.yaml: the unconfirmed steps of the major and of the minor severity."""
    marks = {}
    for card in deck_of(shipped, rulebook, "en", "a6", "t"):
        for head in (*heads(card.front), *heads(card.back)):
            marks[head["may_drive"] == "no"] = [step["mark"] for step in head["steps"] if step["mark"]], head["star"]
    for stops, count in zip((True, False), unconfirmed, strict=True):
        said, star = marks[stops]
        several = count > 1
        assert said == ["*" if several else "Not yet confirmed"] * count
        assert star == ("(*\u00a0Not yet confirmed)" if several else None)
