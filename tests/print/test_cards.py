"""Pocket cards: what stands on them, and that the knife and the laminator spare it."""

from __future__ import annotations

import itertools
from collections import Counter, defaultdict

import pytest
from print_reading import MM, Letter, letters, squash

from chockbook.catalogue import Catalogue, Entry, Ruling, SeverityRecord
from chockbook.printing import Printed

CARD = (95.0, 128.0)
LEFT, TOP = (210 - 2 * 95) / 2, (279.4 - 2 * 128) / 2
SAFE = 3.9
"""Millimetres from the cut to the nearest text; 3 is the floor of the design criteria (row C5)."""
CORNER = 3.5
"""Side of the corner squares that hold no text, millimetres (row C2)."""
LEADING = 1.25


def card_origin(cell: int) -> tuple[float, float]:
    return LEFT + (cell % 2) * CARD[0], TOP + (cell // 2) * CARD[1]


def cell_of(letter: Letter) -> int | None:
    """The card on the sheet that a letter stands on; None in the sheet's margin."""
    x, y = (letter.left + letter.right) / 2 / MM, (letter.top + letter.bottom) / 2 / MM
    for cell in range(4):
        left, top = card_origin(cell)
        if left <= x < left + CARD[0] and top <= y < top + CARD[1]:
            return cell
    return None


@pytest.fixture(scope="session")
def cards(printed: dict[str, Printed]) -> list[list[Letter]]:
    """The letters of every card, card by card."""
    found = []
    for page in letters(printed["cards"].path):
        cells: dict[int, list[Letter]] = defaultdict(list)
        for letter in page:
            cell = cell_of(letter)
            if cell is not None:
                left, top = card_origin(cell)
                cells[cell].append(
                    Letter(
                        letter.text,
                        letter.left / MM - left,
                        letter.top / MM - top,
                        letter.right / MM - left,
                        letter.bottom / MM - top,
                        letter.baseline / MM - top,
                        letter.size,
                    )
                )
        found += [cells[cell] for cell in sorted(cells)]
    return found


def text_of(card: list[Letter]) -> str:
    return "".join(letter.text for letter in card)


def entry_text(entry: Entry, ruling: Ruling) -> str:
    """What an entry says on a card, taken from the catalogue and not from a view."""
    applies = ruling.applies_when or ruling.item.applies_when
    parts = [f"{entry.component.name['en']}: {entry.condition['en']}"]
    if ruling.applies_when:
        parts.append(f"Applies {applies['en']}")
    parts.append(ruling.locator)
    return squash("·".join(parts))


def lane_head(severity: SeverityRecord) -> str:
    """The first words of a lane: the outcome, then the severity in the rulebook's own word."""
    return squash(f"{severity.outcome['en']}{severity.name['en']}")


def test_the_counts_are_true(cards: list[list[Letter]], printed: dict[str, Printed]) -> None:
    assert len(cards) == printed["cards"].cards
    assert printed["cards"].pages == -(-len(cards) // 4)


def test_no_text_is_near_the_cut_or_in_a_corner(cards: list[list[Letter]]) -> None:
    for card in cards:
        assert min(letter.left for letter in card) >= SAFE
        assert min(letter.top for letter in card) >= SAFE
        assert max(letter.right for letter in card) <= CARD[0] - SAFE
        assert max(letter.bottom for letter in card) <= CARD[1] - SAFE
        corners = [
            letter
            for letter in card
            if (letter.left < CORNER or letter.right > CARD[0] - CORNER)
            and (letter.top < CORNER or letter.bottom > CARD[1] - CORNER)
        ]
        assert corners == []


def test_every_ruling_stands_once_in_its_lane(cards: list[list[Letter]], shipped: Catalogue) -> None:
    texts = [text_of(card) for card in cards]
    lanes = {lane_head(severity) for severity in shipped.rulebooks[0].severities}
    wanted = Counter(
        (entry_text(entry, ruling), lane_head(ruling.severity))
        for entry in shipped.entries
        for ruling in entry.rulings_under("on-s1")
    )
    assert len(wanted) >= 200
    found: Counter[tuple[str, str]] = Counter()
    for text, _ in wanted:
        for card in texts:
            at = card.find(text)
            if at >= 0:
                assert card.count(text) == 1
                lane = max(lanes, key=lambda head: card.rfind(head, 0, at))
                found[text, lane] += 1
    assert found == wanted


def test_a_lane_gives_the_actions_of_its_entries(cards: list[list[Letter]], shipped: Catalogue) -> None:
    texts = [text_of(card) for card in cards]
    for entry in shipped.entries:
        for ruling in entry.rulings_under("on-s1"):
            wanted = entry_text(entry, ruling)
            card = next(text for text in texts if wanted in text)
            at = card.find(wanted)
            head = card[card.rfind(lane_head(ruling.severity), 0, at) : at]
            places = [head.find(squash(action.text["en"])) for action in ruling.actions]
            assert all(place > 0 for place in places), entry.id
            assert places == sorted(places)


def test_the_stop_lane_comes_first(cards: list[list[Letter]], shipped: Catalogue) -> None:
    go, stop = (lane_head(severity) for severity in shipped.rulebooks[0].severities)
    last_lane: dict[str, str] = {}
    for card in cards:
        text = text_of(card)
        system = next(s.name["en"] for s in shipped.systems if text.startswith(squash(s.name["en"]) + "Card"))
        lanes = [lane for _, lane in sorted((text.find(lane), lane) for lane in (stop, go) if lane in text)]
        assert lanes
        order = [*([last_lane[system]] if system in last_lane else []), *lanes]
        assert order == sorted(order, key=[stop, go].index), system
        last_lane[system] = lanes[-1]
    assert set(last_lane.values()) == {stop, go}


def test_every_card_says_which_it_is_and_carries_the_cautions(
    cards: list[list[Letter]], shipped: Catalogue
) -> None:
    edition = shipped.edition
    for card in cards:
        text = text_of(card)
        for wanted in (
            shipped.words["caution-short"]["en"],
            shipped.words["aid-short"]["en"],
            f"Edition {edition.code}",
            f"Issued {edition.date}",
            f"Check by {edition.check_by}",
            "cards.on-s1.en",
            "Ontario Schedule 1",
        ):
            assert squash(wanted) in text


def test_what_is_from_memory_is_marked_on_the_card(cards: list[list[Letter]], shipped: Catalogue) -> None:
    texts = [text_of(card) for card in cards]
    doubtful = [
        (entry, ruling)
        for entry in shipped.entries
        for ruling in entry.rulings_under("on-s1")
        if not ruling.confirmed
    ]
    assert doubtful
    for entry, ruling in doubtful:
        wanted = entry_text(entry, ruling) + squash("· Not yet confirmed")
        assert any(wanted in text for text in texts), entry.id


def test_lines_do_not_crowd_or_run_into_the_foot(cards: list[list[Letter]], shipped: Catalogue) -> None:
    foot = squash(shipped.words["caution-short"]["en"])
    for card in cards:
        at = text_of(card).find(foot)
        last_entry_line = max(letter.baseline for letter in card[:at])
        foot_lines = sorted({round(letter.baseline, 2) for letter in card[at:]})
        assert foot_lines[0] - last_entry_line >= 10 * LEADING / MM
        steps = [after - before for before, after in itertools.pairwise(foot_lines)]
        assert min(steps) >= 10 * LEADING / MM - 0.01
