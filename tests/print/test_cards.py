"""Pocket cards: what stands on them, and that the knife and the laminator spare it."""

from __future__ import annotations

import itertools
import re
from collections import Counter, defaultdict

import pytest
from print_reading import MM, Letter, letters, squash

from chockbook.catalogue import Catalogue, Entry, Ruling, SeverityRecord
from chockbook.printing import Printed
from chockbook.views.card_deck import view_deck

CARD = (95.0, 128.0)
LEFT, TOP = (210 - 2 * 95) / 2, (279.4 - 2 * 128) / 2
SAFE = 4.9
"""Millimetres from the cut to the nearest text, less a rounding: print shops ask for three at least and like five better,
since a stack shifts under the knife (common practice)."""
CORNER = 3.5
"""Side of the corner squares that hold no text, millimetres: ISO/IEC 7810 rounds corners of cards by up to 3.48 mm."""
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
def cards(deck: Printed) -> list[list[Letter]]:
    """The letters of every card, card by card."""
    found = []
    for page in letters(deck.path):
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


def entry_text(entry: Entry) -> str:
    """What an entry says on a card, taken from the catalogue and not from a view."""
    return squash(f"{entry.component.name['en']}: {entry.condition['en']}")


def item_text(ruling: Ruling) -> str:
    """What stands over the entries of an item: its place, its condition, and what is not yet confirmed."""
    parts = [ruling.locator]
    if ruling.applies_when:
        parts.append(ruling.applies_when["en"])
    if not ruling.confirmed:
        parts.append("Not yet confirmed")
    elif ruling.item.locator_basis == "from-memory":
        parts.append("Item letter not yet confirmed")
    return squash("·".join(parts))


def lane_head(severity: SeverityRecord) -> str:
    """The first words of a lane: the outcome, then the severity in the rulebook's own word."""
    return squash(f"{severity.outcome['en']}{severity.name['en']}")


def test_the_counts_are_true(cards: list[list[Letter]], deck: Printed) -> None:
    made = deck.cards
    assert len(cards) == 2 * made
    assert deck.pages == 2 * -(-made // 4)
    assert made <= 50
    numbers = Counter(n for n in range(1, made + 1) for card in cards if f"Card{n}of{made}" in text_of(card))
    assert numbers == dict.fromkeys(range(1, made + 1), 2)


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


def test_every_ruling_stands_once_in_its_lane_under_its_item(
    cards: list[list[Letter]], shipped: Catalogue
) -> None:
    texts = [text_of(card) for card in cards]
    rulings = [(e, r) for e in shipped.entries for r in e.rulings_under("on-s1")]
    lanes = {lane_head(severity) for severity in shipped.rulebooks[0].severities}
    items = {item_text(ruling) for _, ruling in rulings}
    wanted = Counter((entry_text(e), lane_head(r.severity), item_text(r)) for e, r in rulings)
    assert len(wanted) >= 200
    found: Counter[tuple[str, str, str]] = Counter()
    entries = {text for text, _, _ in wanted}
    for text in entries:
        longer = [other for other in entries if other != text and other.startswith(text)]
        for card in texts:
            for at in (match.start() for match in re.finditer(re.escape(text), card)):
                if any(card.startswith(other, at) for other in longer):
                    continue
                lane = max(lanes, key=lambda head: card.rfind(head, 0, at))
                over = max(card.rfind(item, 0, at) for item in items)
                # Of items that begin alike at that place, the longest is the one that stands there.
                item = max((item for item in items if card.startswith(item, over)), key=len)
                found[text, lane, item] += 1
    assert found == wanted


def test_a_lane_gives_the_actions_of_its_entries(cards: list[list[Letter]], shipped: Catalogue) -> None:
    for severity in shipped.rulebooks[0].severities:
        by_id = {action.id: action for action in shipped.rulebooks[0].actions}
        steps = [squash(by_id[action].text["en"]) for action in severity.actions]
        lanes = [text_of(card) for card in cards if lane_head(severity) in text_of(card)]
        assert lanes
        for text in lanes:
            places = [text.find(step, text.find(lane_head(severity))) for step in steps]
            assert min(places) > 0
            assert places == sorted(places)


def test_the_front_stops_and_the_back_goes_on(
    cards: list[list[Letter]], deck: Printed, shipped: Catalogue
) -> None:
    """What one kind has over fills both sides of a card; nothing else stops on a back or goes on on a front."""
    go, stop = (lane_head(severity) for severity in shipped.rulebooks[0].severities)
    made, at = deck.cards, 0
    kinds: dict[str, list[str]] = {}
    for sheet in range(0, made, 4):
        here = min(4, made - sheet)
        for _side in ("front", "back"):
            for card in cards[at : at + here]:
                text = text_of(card)
                assert not (go in text and stop in text)
                (number,) = re.findall(r"Card(\d+)of", text)
                kinds.setdefault(number, []).append("stop" if stop in text else "go" if go in text else "")
            at += here
    seen = Counter(map(tuple, kinds.values()))
    assert seen["stop", "go"] > made / 3
    assert ("go", "stop") not in seen
    assert set(seen) <= {("stop", "go"), ("stop", "stop"), ("go", "go"), ("stop", ""), ("go", "")}
    assert seen["stop", ""] + seen["go", ""] < made / 10

def test_the_head_names_the_systems_of_a_card(cards: list[list[Letter]], shipped: Catalogue) -> None:
    for card in cards:
        text = text_of(card)
        head, body = text.split("Card", 1)[0], text
        for entry in shipped.entries:
            if entry_text(entry) in body:
                assert squash(entry.system.name["en"]) in head, entry.id


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
        ):
            assert squash(wanted) in text


def test_lines_do_not_crowd_or_run_into_the_foot(cards: list[list[Letter]], shipped: Catalogue) -> None:
    foot = squash(shipped.words["caution-short"]["en"])
    for card in cards:
        at = text_of(card).find(foot)
        assert at > 0
        last_entry_line = max(letter.baseline for letter in card[:at])
        foot_lines = sorted({round(letter.baseline, 2) for letter in card[at:]})
        assert foot_lines[0] - last_entry_line >= 10 * LEADING / MM
        steps = [after - before for before, after in itertools.pairwise(foot_lines)]
        assert min(steps) >= 10 * LEADING / MM - 0.01


@pytest.mark.parametrize(("language", "unread"), [("en", "not read"), ("fr", "non lu")])
def test_what_was_not_read_of_a_place_is_said_by_its_mark_alone(shipped: Catalogue, language: str, unread: str) -> None:
    items = [item for lane in view_deck(shipped, "qc-list-1", language).lanes for system in lane.systems
             for item in system.items]  # fmt: skip
    assert not [item.locator for item in items if unread in item.locator]
    unsure = {item.id for schedule in shipped.rulebook["qc-list-1"].schedules for part in schedule.parts
              for item in part.items if item.locator.endswith("(item not read)")}  # fmt: skip
    assert len(unsure) == 59
    assert all(item.marks for item in items if item.item_id in unsure)
