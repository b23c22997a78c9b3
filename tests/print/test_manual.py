"""The manual holds the whole reference, and its lists lead to the right pages."""

from __future__ import annotations

import re

import pikepdf
import pytest
from print_reading import MM, letters, squash, squashed_pages

from chockbook.catalogue import Catalogue
from chockbook.printing import Printed


@pytest.fixture(scope="module", params=["manual", "manual-a4"])
def pages(request: pytest.FixtureRequest, printed: dict[str, Printed]) -> list[str]:
    return squashed_pages(printed[request.param].path)


@pytest.fixture(scope="module")
def entry_pages(pages: list[str], shipped: Catalogue) -> dict[str, list[int]]:
    """Pages, from 1, on which an entry stands in full: heading, then its outcome."""
    found: dict[str, list[int]] = {}
    for entry in shipped.entries:
        heading = squash(f"{entry.component.name['en']}: {entry.condition['en']}")
        outcome = squash(entry.rulings_under("on-s1")[0].severity.outcome["en"])
        found[entry.id] = [number for number, text in enumerate(pages, start=1) if heading + outcome in text]
    return found


def test_every_entry_stands_in_full_on_one_page(
    pages: list[str], entry_pages: dict[str, list[int]], shipped: Catalogue
) -> None:
    assert len(entry_pages) >= 200
    for entry in shipped.entries:
        assert len(entry_pages[entry.id]) == 1, entry.id
        text = pages[entry_pages[entry.id][0] - 1]
        start = text.index(squash(f"{entry.component.name['en']}: {entry.condition['en']}"))
        wanted = []
        for ruling in entry.rulings_under("on-s1"):
            wanted += [ruling.severity.outcome["en"], ruling.severity.name["en"]]
            wanted += [f"Applies {ruling.applies_when['en']}"] if ruling.applies_when else []
            wanted += [action.text["en"] for action in ruling.actions]
        wanted.append(entry.check["en"])
        wanted += [limit.quantity["en"] for limit in entry.limits]
        wanted += [f"{r.source.title['en']}, {r.locator}." for r in entry.rulings_under("on-s1")]
        for words in wanted:
            at = text.find(squash(words), start)
            assert at >= 0, (entry.id, words)
            start = at + len(squash(words))


def test_every_item_of_the_schedule_is_listed(pages: list[str], shipped: Catalogue) -> None:
    text = "".join(pages)
    items = [
        item for schedule in shipped.rulebooks[0].schedules for part in schedule.parts for item in part.items
    ]
    assert len(items) == 76
    for item in items:
        assert squash(f"({item.letter}) {item.text['en']}") in text, item.id


def test_lists_name_the_page_an_entry_stands_on(
    pages: list[str], entry_pages: dict[str, list[int]], shipped: Catalogue
) -> None:
    start = next(
        n for n, text in enumerate(pages) if squash("Every item of the schedule in our own words.") in text
    )
    listed = "".join(re.sub(r"Chockthewheels.*?Page\d+of\d+", "", text) for text in pages[start:])
    for entry in shipped.entries:
        heading = re.escape(squash(f"– {entry.component.name['en']}: {entry.condition['en']}"))
        numbers = re.findall(heading + r"(?:\(Applies[^)]*\))?(\d+)", listed)
        assert numbers, entry.id
        assert {int(number) for number in numbers} == set(entry_pages[entry.id]), entry.id


def test_the_index_finds_a_part_by_a_plain_word(
    pages: list[str], entry_pages: dict[str, list[int]], shipped: Catalogue
) -> None:
    index = "".join(pages[next(n for n, t in enumerate(pages) if squash("Each word leads to") in t) :])
    belt = re.search(r"belt((?:[A-Z][^;\d]*\d+(?:,\d+)*;?)+)", index[index.index("B") :])
    assert belt
    numbers = {int(n) for n in re.findall(r"\d+", belt[1])}
    seat_belt = {entry_pages[e.id][0] for e in shipped.entries if e.component.id == "seat-belt"}
    assert seat_belt
    assert seat_belt <= numbers


def test_every_bookmarked_link_has_a_target(printed: dict[str, Printed]) -> None:
    with pikepdf.open(printed["manual"].path) as pdf:
        links = [
            annotation
            for page in pdf.pages
            for annotation in page.get("/Annots", [])
            if annotation.get("/Subtype") == "/Link"
        ]
        inside = [link for link in links if "/Dest" in link or link.get("/A", {}).get("/S") == "/GoTo"]
        assert len(inside) > 1000
        assert all("/Contents" in link for link in links)


def test_no_heading_stands_alone_at_a_page_foot(pages: list[str], shipped: Catalogue) -> None:
    headings = {squash(f"{number} {s.name['en']}") for number, s in enumerate(shipped.systems, start=1)}
    headings |= {
        squash(f"Part {p.part}. {p.title['en']}") for s in shipped.rulebooks[0].schedules for p in s.parts
    }
    foot = squash(shipped.words["caution-short"]["en"])
    for number, text in enumerate(pages, start=1):
        body = text[: text.index(foot)] if foot in text else text
        assert not any(body.endswith(heading) for heading in headings), number


def test_thumb_marks_carry_the_number_of_the_system(printed: dict[str, Printed], shipped: Catalogue) -> None:
    seen: dict[int, set[float]] = {}
    for number, page in enumerate(letters(printed["manual"].path), start=1):
        odd = number % 2 == 1
        edge = [x for x in page if (x.left > (215.9 - 16.5) * MM if odd else x.right < 16.5 * MM)]
        marks: dict[float, str] = {}
        for letter in edge:
            marks[round(letter.baseline)] = marks.get(round(letter.baseline), "") + letter.text
        for place, text in marks.items():
            seen.setdefault(int(text), set()).add(place)
    assert sorted(seen) == list(range(1, len(shipped.systems) + 1))
    assert all(len(places) == 1 for places in seen.values())
    heights = [min(seen[number]) for number in sorted(seen)]
    assert heights == sorted(heights)
