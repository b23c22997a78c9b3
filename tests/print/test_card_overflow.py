"""A card never shrinks or cuts: what does not fit stops the run and is named."""

from __future__ import annotations

from dataclasses import replace

import pytest
from print_reading import squash, squashed_pages

from chockbook.catalogue import Catalogue
from chockbook.printing import CardOverflow, SettingFailed, render_cards


def with_condition(catalogue: Catalogue, entry_id: str, condition: str) -> Catalogue:
    entries = tuple(
        replace(entry, condition={"en": condition}) if entry.id == entry_id else entry
        for entry in catalogue.entries
    )
    return replace(catalogue, entries=entries)


def test_an_entry_that_no_card_can_hold_is_named(worded: Catalogue, tmp_path) -> None:
    out = tmp_path / "cards.pdf"
    with pytest.raises(CardOverflow) as caught:
        render_cards(
            with_condition(worded, "tire.flat", "A very long story about air. " * 60), "demo", "en", out
        )
    assert caught.value.entry_id == "tire.flat"
    assert caught.value.needed_mm > caught.value.room_mm > 60
    assert str(caught.value).startswith("tire.flat does not fit on a card")
    assert not out.exists()


def test_entries_flow_to_further_cards_with_the_heads_repeated(worded: Catalogue, tmp_path) -> None:
    first = worded.entries[0]
    many = tuple(replace(first, condition={"en": f"Condition number {n} of many"}) for n in range(90))
    made = render_cards(replace(worded, entries=many), "demo", "en", tmp_path / "cards.pdf")
    assert made.cards > 2
    text = "".join(squashed_pages(made.path))
    # A deck with one kind of lane runs on from front to back; the back refers to the steps on the front.
    assert text.count(squash("Write the defect in the report.")) == made.cards
    assert made.cards < text.count(squash("Go on once reported")) <= 2 * made.cards
    for n in range(90):
        assert text.count(squash(f"Condition number {n} of many")) == 1
    for n in range(1, made.cards + 1):
        assert text.count(squash(f"Card {n} of {made.cards}")) == 2


def test_text_that_looks_like_markup_is_printed_as_it_stands(worded: Catalogue, tmp_path) -> None:
    hostile = "A *bold* #panic() $x$ _y_ <label> @ref `raw` \\ [b] // c"
    made = render_cards(with_condition(worded, "tire.flat", hostile), "demo", "en", tmp_path / "cards.pdf")
    assert squash(hostile) in "".join(squashed_pages(made.path))


def test_a_character_that_the_face_lacks_is_an_error(worded: Catalogue, tmp_path) -> None:
    with pytest.raises(SettingFailed, match="could not be displayed"):
        render_cards(
            with_condition(worded, "tire.flat", "A tire → flat"), "demo", "en", tmp_path / "cards.pdf"
        )
