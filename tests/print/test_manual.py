"""The manual holds the whole reference, and its lists lead to the right pages."""

from __future__ import annotations

import re
from pathlib import Path

import pikepdf
import pytest
from print_reading import MM, letters, squash, squashed_pages

from chockbook.catalogue import Catalogue, Entry
from chockbook.printing import Printed, render_manual

BODY_TYPE = 11.0
"""Points; least size of what an entry says, its sources apart."""


@pytest.fixture(scope="module")
def pages(printed: dict[str, Printed]) -> list[str]:
    return squashed_pages(printed["manual"].path)


@pytest.fixture(scope="module")
def spoken_of(shipped: Catalogue) -> list[Entry]:
    """The entries of which the manual's rulebook speaks."""
    return [entry for entry in shipped.entries if entry.rulings_under("on-s1")]


@pytest.fixture(scope="module")
def entry_pages(pages: list[str], spoken_of: list[Entry]) -> dict[str, list[int]]:
    """Pages, from 1, on which an entry stands in full: heading, then its outcome."""
    found: dict[str, list[int]] = {}
    for entry in spoken_of:
        heading = squash(f"{entry.component.name['en']}: {entry.condition['en']}")
        outcome = squash(entry.rulings_under("on-s1")[0].severity.outcome["en"])
        found[entry.id] = [number for number, text in enumerate(pages, start=1) if heading + outcome in text]
    return found


def test_every_entry_stands_in_full_on_one_page(
    pages: list[str], entry_pages: dict[str, list[int]], spoken_of: list[Entry]
) -> None:
    assert len(entry_pages) >= 200
    for entry in spoken_of:
        assert len(entry_pages[entry.id]) == 1, entry.id
        text = pages[entry_pages[entry.id][0] - 1]
        start = text.index(squash(f"{entry.component.name['en']}: {entry.condition['en']}"))
        wanted = []
        for ruling in entry.rulings_under("on-s1"):
            wanted += [ruling.severity.outcome["en"], ruling.severity.name["en"]]
            wanted += [f"Applies {ruling.applies_when['en']}"] if ruling.applies_when else []
            for number, action in enumerate(ruling.actions, start=1):
                wanted.append(
                    f"{number}{action.text['en']}" + ("" if action.confirmed else "(Not yet confirmed)")
                )
        wanted.append(f"How to check: {entry.check['en']}")
        wanted += [limit.quantity["en"] for limit in entry.limits]
        wanted.append("Found on:")
        for ruling in entry.rulings_under("on-s1"):
            wanted.append(f"{ruling.source.title['en']}, {ruling.locator}.")
            wanted += [f"Also: {'; '.join(item.locator for item in ruling.also)}."] if ruling.also else []
        for words in wanted:
            at = text.find(squash(words), start)
            assert at >= 0, (entry.id, words)
            start = at + len(squash(words))


def test_what_the_rulebook_does_not_speak_of_is_left_out(pages: list[str], shipped: Catalogue) -> None:
    text = "".join(pages)
    others = [entry for entry in shipped.entries if not entry.rulings_under("on-s1")]
    assert len(others) >= 100
    for entry in others:
        assert squash(f"{entry.component.name['en']}: {entry.condition['en']}") + "Do" not in text, entry.id


def test_several_entries_stand_on_a_page_in_legible_type(
    printed: dict[str, Printed], entry_pages: dict[str, list[int]], spoken_of: list[Entry]
) -> None:
    used = {found[0] for found in entry_pages.values()}
    assert len(spoken_of) / len(used) >= 4.5
    page = letters(printed["manual"].path)[sorted(used)[5] - 1]
    text = "".join(letter.text for letter in page)
    start = text.index("Howtocheck:")
    assert min(letter.size for letter in page[start : start + 60]) >= BODY_TYPE


def test_the_figures_of_the_rulebook_come_before_those_of_others(
    pages: list[str], shipped: Catalogue
) -> None:
    text = "".join(pages)
    for limit in shipped.limits:
        own = [row for row in limit.rows if row.rulebook == "on-s1"]
        others = [row for row in limit.rows if row.rulebook != "on-s1"]
        if not (own and others):
            continue
        start = text.index(squash(limit.quantity["en"] + limit.method["en"]))
        divide = text.index(squash(shipped.words["print-another-authority"]["en"]), start)
        for row in own:
            assert start < text.index(squash(row.label["en"] + row.printed["en"]), start) < divide
        for row in others:
            assert text.index(squash(f"{row.label['en']}, {row.printed['en']}"), divide) > divide


def test_what_was_left_out_is_told(shipped: Catalogue, tmp_path: Path) -> None:
    made = render_manual(shipped, "us-fmcsr", "en", tmp_path / "us.pdf")
    text = "".join(squashed_pages(made.path))
    rulebook = next(rulebook for rulebook in shipped.rulebooks if rulebook.id == "us-fmcsr")
    assert rulebook.left_out
    for left in rulebook.left_out:
        assert squash(f"{left.locator}: {left.what['en']}. {left.why['en']}") in text
    deadlines = [severity.deadline["en"] for severity in rulebook.severities if severity.deadline]
    assert deadlines
    for deadline in deadlines:
        assert squash(f"Deadline for the repair: {deadline}.") in text


def test_every_item_of_the_schedule_is_listed(pages: list[str], shipped: Catalogue) -> None:
    text = "".join(pages)
    items = [
        item for schedule in shipped.rulebooks[0].schedules for part in schedule.parts for item in part.items
    ]
    assert len(items) == 76
    for item in items:
        assert squash(f"({item.letter}) {item.text['en']}") in text, item.id


def test_lists_name_the_page_an_entry_stands_on(
    pages: list[str], entry_pages: dict[str, list[int]], spoken_of: list[Entry]
) -> None:
    start = next(
        n for n, text in enumerate(pages) if squash("Every item of the schedule in our own words.") in text
    )
    listed = "".join(re.sub(r"Chockandsecure.*?Uncontrolledwhenprinted", "", text) for text in pages[start:])
    for entry in spoken_of:
        condition = re.escape(squash(entry.condition["en"]))
        numbers = re.findall(r"[:;]" + condition + r"(?:\(Applies[^)]*\))?(\d+)", listed)
        assert numbers, entry.id
        assert set(entry_pages[entry.id]) & {int(number) for number in numbers}, entry.id


def test_the_index_finds_a_part_by_a_plain_word(
    pages: list[str], entry_pages: dict[str, list[int]], spoken_of: list[Entry]
) -> None:
    index = "".join(pages[next(n for n, t in enumerate(pages) if squash("Each word leads to") in t) :])
    belt = re.search(r"belt((?:[A-Z][^;\d]*\d+(?:,\d+)*;?)+)", index[index.index("B") :])
    assert belt
    numbers = {int(n) for n in re.findall(r"\d+", belt[1])}
    seat_belt = {entry_pages[e.id][0] for e in spoken_of if e.component.id == "seat-belt"}
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
        edge = [x for x in page if (x.left > (210 - 15) * MM if odd else x.right < 15 * MM)]
        marks: dict[float, str] = {}
        for letter in edge:
            marks[round(letter.baseline)] = marks.get(round(letter.baseline), "") + letter.text
        for place, text in marks.items():
            seen.setdefault(int(text), set()).add(place)
    assert sorted(seen) == list(range(1, len(shipped.systems) + 1))
    assert all(len(places) == 1 for places in seen.values())
    heights = [min(seen[number]) for number in sorted(seen)]
    assert heights == sorted(heights)
