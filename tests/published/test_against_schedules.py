"""The items of every schedule against the lists typed from published copies: none missing, none invented."""

from __future__ import annotations

import re
from collections import Counter

import pytest
from records import items, published, rulebook, seen

from chockbook.catalogue import Catalogue


def test_ontario_schedule_1_item_by_item(shipped: Catalogue) -> None:
    source = published("ontario_schedule_1")
    wanted = {(r["part"], r["column"], r["letter"]): r for r in source["items"]}
    assert len(wanted) == source["counts"]["items"]
    held = {}
    for part, item in items(rulebook(shipped, "on-s1")):
        held[(part, item.severity, item.letter)] = item
    assert set(held) == set(wanted)
    for key, item in held.items():
        assert seen(item.basis) == wanted[key]["standing"], key
        assert item.locator == wanted[key]["locator"], key
    columns = Counter(column for _, column, _ in held)
    assert (columns["minor"], columns["major"]) == (source["counts"]["minor"], source["counts"]["major"])
    parts = {part.part for part in rulebook(shipped, "on-s1").schedules[0].parts}
    assert parts == {one["part"] for one in source["parts"]}


LINE_NAMES = {"1.a wedge data": "1.a, wedge brake data"}
"""The one line of the appendix that has no number in the source: our records and the tables each describe it."""


def test_us_appendix_a_line_by_line(shipped: Catalogue) -> None:
    source = published("us_appendix_a")
    wanted = {LINE_NAMES.get(r["id"], r["id"]): r for r in source["items"] if r["kind"] == "item"}
    assert len(wanted) == source["counts"]["item"]
    book = rulebook(shipped, "us-fmcsr")
    held = {item.letter: item for _, item in items(book, "us-appendix-a")}
    assert set(held) == set(wanted)
    for line, item in held.items():
        if line not in LINE_NAMES.values():
            assert item.locator == "49 CFR " + wanted[line]["locator"], line
        assert seen(item.basis) == wanted[line]["standing"], line


def test_every_line_of_appendix_a_that_is_left_out_is_named(shipped: Catalogue) -> None:
    left_out = " ".join(one.locator for one in rulebook(shipped, "us-fmcsr").left_out)
    others = [r["id"] for r in published("us_appendix_a")["items"] if r["kind"] != "item"]
    assert others
    for line in others:
        assert re.search(rf"(?<![\w.]){re.escape(line)}(?![\w(])", left_out), line


def test_us_part_393_section_by_section(shipped: Catalogue) -> None:
    source = published("us_part_393")
    book = rulebook(shipped, "us-fmcsr")
    sections = {section(item.locator) for _, item in items(book, "us-393")}
    told = " ".join(
        [
            *(one.locator for one in book.left_out),
            *(row.locator for limit in shipped.limits for row in limit.rows),
        ]
    )
    for record in source["facts"]:
        if record["driver_sees"]:
            here = section(record["locator"])
            assert here in sections or here in told, record["locator"]
    known = {section(record["locator"]) for record in source["facts"]}
    assert sections <= known


def section(locator: str) -> str:
    """The section of a place such as "49 CFR 393.11, Table 1, head lamps" or "393.25(e)-(f)"."""
    found = re.search(r"393\.\d+", locator)
    assert found, locator
    return found[0]


def test_us_report_parts(shipped: Catalogue) -> None:
    source = published("us_report")
    held = {item.letter: item for _, item in items(rulebook(shipped, "us-fmcsr"), "us-396-11")}
    wanted = {record["letter"]: record for record in source["parts"]}
    assert set(held) == set(wanted)
    for letter, item in held.items():
        assert item.locator == "49 CFR " + wanted[letter]["locator"]
        assert seen(item.basis) == wanted[letter]["standing"]


def test_quebec_list_1_item_by_item(shipped: Catalogue) -> None:
    source = published("quebec_list_1")
    assert len(source["items"]) == source["counts"]["items"]
    held = items(rulebook(shipped, "qc-list-1"))
    assert len(held) == len(source["items"])
    for (part, item), record in zip(held, source["items"], strict=True):
        assert (part, item.severity) == (record["part"], record["column"]), item.id
        assert seen(item.basis) == ("seen" if record["standing"] == "seen" else "memory"), item.id
        if record["letter"]:
            assert item.letter == record["letter"], item.id
            assert item.locator.endswith(f"item {record['letter']}"), item.id
        else:
            assert "item not read" in item.locator, item.id
        if record["section"]:
            assert item.locator.startswith(f"s. {record['section']};"), item.id
    columns = Counter(item.severity for _, item in held)
    assert columns == {key: source["counts"][key] for key in ("minor", "major")}


def test_quebec_items_that_hold_only_while_coupled_say_so(shipped: Catalogue) -> None:
    coupled = published("quebec_list_1")["coupled_only"]
    held = {item.letter: item for _, item in items(rulebook(shipped, "qc-list-1"))}
    for letter in coupled:
        applies = held[letter].applies_when
        assert applies is not None, letter
        assert "coupled" in applies["en"], letter


@pytest.mark.parametrize("rulebook_id", ["on-s1", "us-fmcsr", "qc-list-1"])
def test_every_item_is_covered_by_an_entry(rulebook_id: str, shipped: Catalogue) -> None:
    rulings = [ruling for entry in shipped.entries for ruling in entry.rulings_under(rulebook_id)]
    covered = {item.id for ruling in rulings for item in (ruling.item, *ruling.also)}
    assert covered == {item.id for _, item in items(rulebook(shipped, rulebook_id))}
