"""The checklist holds every step, a box for each, and what the report holds."""

from __future__ import annotations

import re

import pdfplumber
import pytest
from print_reading import MM, squash, squashed_pages

from chockbook.catalogue import Catalogue
from chockbook.printing import Printed

BOX_MM = 5.0
"""Least side of a box that a gloved hand can tick (design criteria, row K10)."""


@pytest.fixture(scope="module", params=["checklist", "checklist-a4"])
def made(request: pytest.FixtureRequest, printed: dict[str, Printed]) -> Printed:
    return printed[request.param]


def test_every_step_stands_in_route_order_with_its_number(made: Printed, shipped: Catalogue) -> None:
    text = "".join(squashed_pages(made.path))
    steps = [step for station in shipped.stations for step in station.steps]
    at = -1
    for number, step in enumerate(steps, start=1):
        wanted = squash(f"{number}{step.item['en']}{step.want['en']}")
        after = text.find(wanted, at + 1)
        assert after > at, (number, step.id)
        at = after


def test_every_station_has_its_name_time_and_trigger(made: Printed, shipped: Catalogue) -> None:
    text = "".join(squashed_pages(made.path))
    for station in shipped.stations:
        name, begin = (re.escape(squash(words["en"])) for words in (station.name, station.begin_when))
        assert re.search(rf"{name}[\d/]+(?:seconds|minutes){begin}\.", text), station.id


def test_there_is_a_box_for_every_step(printed: dict[str, Printed], shipped: Catalogue) -> None:
    boxes = 0
    with pdfplumber.open(printed["checklist"].path) as pdf:
        for page in pdf.pages:
            sides = [(r["width"] / MM, r["height"] / MM) for r in [*page.rects, *page.curves]]
            boxes += sum(BOX_MM <= w <= 6 and BOX_MM <= h <= 6 for w, h in sides)
    assert boxes == sum(len(station.steps) for station in shipped.stations)


def test_the_report_fields_and_the_head_are_there(made: Printed, shipped: Catalogue) -> None:
    pages = squashed_pages(made.path)
    for word in ("Unit", "Odometer", "Date", "Time", "Place", "Driver", "Signature"):
        assert word in pages[0]
    assert squash("Do the step, then tick the box.") in pages[0]
    for field in shipped.rulebooks[0].report:
        assert squash(field.name["en"]) in pages[-1] + pages[-2]


def test_the_last_line_says_that_it_is_complete(made: Printed, shipped: Catalogue) -> None:
    last = squashed_pages(made.path)[-1]
    body = last[: last.index(squash(shipped.words["caution-short"]["en"]))]
    assert body.endswith(squash(shipped.words["print-complete"]["en"]))
