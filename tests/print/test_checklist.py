"""The checklist holds every step of its unit and no other, a box for each, and what the report holds."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

import pdfplumber
import pytest
from print_reading import MM, letters, squash, squashed_pages

from chockbook.catalogue import Catalogue, StepRecord
from chockbook.printing import Printed, UnknownVariant, render_checklist

BOX_MM = 5.0
"""Least side of a box that a gloved hand can tick, millimetres: our own choice."""
BIG_PRINT = 16.0
"""Points."""
TRACTOR_TRAILER = {"tractor", "trailer"}
USUAL = {
    "air-brakes", "fifth-wheel", "air-suspension", "spring-suspension", "def-system", "sleeper", "cargo",
}  # fmt: skip
"""What the checklist says that it is for, where no unit is named."""


@dataclass(frozen=True)
class Unit:
    vehicles: list[str]
    equipment: list[str]


def steps_of(catalogue: Catalogue, vehicles: set[str], equipment: set[str]) -> list[StepRecord]:
    """The steps that a unit needs, worked out here from the table alone."""
    wanted = []
    for station in catalogue.stations:
        for step in station.steps:
            kinds = set(step.vehicles or station.vehicles) & vehicles
            found = [catalogue.entry[key] for key in step.finds]
            can_be_found = [
                entry
                for entry in found
                if set(entry.vehicles) & vehicles and set(entry.component.fitted) <= equipment
            ]
            if step.towing and not vehicles & {"trailer", "converter-dolly"}:
                continue
            if kinds and {*station.fitted, *step.fitted} <= equipment and (can_be_found or not found):
                wanted.append(step)
    return wanted


def row(number: int, step: StepRecord) -> str:
    return squash(f"{number}{step.item['en']}{step.want['en']}")


def body(path: Path, catalogue: Catalogue) -> str:
    """The text without the feet of the pages."""
    foot = squash(catalogue.words["caution-short"]["en"] + catalogue.words["aid-short"]["en"])
    return "".join(re.sub(re.escape(foot) + r".*?Page\d+of\d+", "", text) for text in squashed_pages(path))


def boxes(path: Path, least: float) -> int:
    found = 0
    with pdfplumber.open(path) as pdf:
        for page in pdf.pages:
            sides = [(r["width"] / MM, r["height"] / MM) for r in [*page.rects, *page.curves]]
            found += sum(least <= w <= least + 1 and abs(w - h) < 0.1 for w, h in sides)
    return found


@pytest.mark.parametrize("name", ["checklist", "checklist-big", "checklist-laminated"])
def test_the_usual_unit_has_its_steps_in_route_order(
    name: str, printed: dict[str, Printed], shipped: Catalogue
) -> None:
    text = body(printed[name].path, shipped)
    steps = steps_of(shipped, TRACTOR_TRAILER, USUAL)
    at = -1
    for number, step in enumerate(steps, start=1):
        after = text.find(row(number, step), at + 1)
        assert after > at, (number, step.id)
        at = after
    left_out = [step for s in shipped.stations for step in s.steps if step not in steps]
    assert len(left_out) > 20
    for step in left_out:
        assert not re.search(r"\d" + re.escape(squash(f"{step.item['en']}{step.want['en']}")), text), step.id
    assert "Tractor,trailer.Fittedwith:airbrakes,fifthwheel" in text


def test_the_whole_route_leaves_out_nothing(printed: dict[str, Printed], shipped: Catalogue) -> None:
    text = body(printed["checklist-all"].path, shipped)
    steps = [step for station in shipped.stations for step in station.steps]
    for number, step in enumerate(steps, start=1):
        assert row(number, step) in text, (number, step.id)
    for station in shipped.stations:
        assert squash(station.name["en"]) in text


def test_nothing_that_a_unit_lacks_is_printed(shipped: Catalogue, tmp_path: Path) -> None:
    unit = Unit(["truck"], ["hydraulic-brakes"])
    made = render_checklist(shipped, "on-s1", "en", tmp_path / "truck.pdf", unit)
    text = body(made.path, shipped)
    for number, step in enumerate(steps_of(shipped, {"truck"}, {"hydraulic-brakes"}), start=1):
        assert row(number, step) in text, (number, step.id)
    lacking = [s for s in shipped.stations if "air-brakes" in s.fitted or "truck" not in s.vehicles]
    assert lacking
    for station in lacking:
        assert not re.search(re.escape(squash(station.name["en"])) + r"\d+(?:1/2)?(?:s|min)", text), (
            station.id
        )
    assert "Fifthwheeljaws" not in text


def test_each_trailer_has_a_box_of_its_own(shipped: Catalogue, tmp_path: Path) -> None:
    one = Unit(["tractor", "trailer"], sorted(USUAL))
    two = Unit(["tractor", "trailer", "trailer"], sorted(USUAL))
    counts = [
        boxes(render_checklist(shipped, "on-s1", "en", tmp_path / f"{n}.pdf", unit).path, 5.0)
        for n, unit in enumerate((one, two))
    ]
    steps = steps_of(shipped, TRACTOR_TRAILER, USUAL)
    station = {step.id: s for s in shipped.stations for step in s.steps}
    for_trailers = [
        s for s in steps if set(s.vehicles or station[s.id].vehicles) <= {"trailer", "converter-dolly"}
    ]
    assert for_trailers
    assert counts == [len(steps), len(steps) + len(for_trailers)]


@pytest.mark.parametrize(
    ("name", "side"), [("checklist", 5.0), ("checklist-big", 7.5), ("checklist-laminated", 5.5)]
)
def test_there_is_a_box_for_every_step(
    name: str, side: float, printed: dict[str, Printed], shipped: Catalogue
) -> None:
    assert side >= BOX_MM
    assert boxes(printed[name].path, side) == len(steps_of(shipped, TRACTOR_TRAILER, USUAL))


def test_big_print_is_big(printed: dict[str, Printed], shipped: Catalogue) -> None:
    sizes = [
        letter.size
        for page in letters(printed["checklist-big"].path)
        for letter in page
        if letter.bottom < (279.4 - 16) * MM
    ]
    assert min(sizes) >= BIG_PRINT - 0.01


def test_a_laminated_sheet_has_nothing_to_write_in(printed: dict[str, Printed], shipped: Catalogue) -> None:
    text = body(printed["checklist-laminated"].path, shipped)
    for key in ("print-defects-found", "print-checklist-report", "print-odometer"):
        assert squash(shipped.words[key]["en"]) not in text
    assert squash(shipped.words["print-checklist-wipe"]["en"]) in text


def test_the_usual_unit_takes_two_sheets_at_most(printed: dict[str, Printed]) -> None:
    assert printed["checklist"].pages <= 4
    assert printed["checklist-laminated"].pages <= 4


def test_the_report_fields_and_the_head_are_there(printed: dict[str, Printed], shipped: Catalogue) -> None:
    pages = squashed_pages(printed["checklist"].path)
    for word in ("Unit", "Odometer", "Date", "Time", "Place", "Driver", "Signature", "Usualtime:"):
        assert word in pages[0]
    assert squash(shipped.words["print-checklist-mode"]["en"]) in pages[0]
    for field in shipped.rulebooks[0].report:
        assert squash(field.name["en"]) in pages[-1] + pages[-2]


@pytest.mark.parametrize("name", ["checklist", "checklist-all", "checklist-big"])
def test_the_last_line_says_that_it_is_complete(
    name: str, printed: dict[str, Printed], shipped: Catalogue
) -> None:
    assert body(printed[name].path, shipped).endswith(squash(shipped.words["print-complete"]["en"]))


def test_an_unknown_variant_is_refused(shipped: Catalogue, tmp_path: Path) -> None:
    with pytest.raises(UnknownVariant, match=r"tiny.*normal, big, laminated"):
        render_checklist(shipped, "on-s1", "en", tmp_path / "x.pdf", variant="tiny")
