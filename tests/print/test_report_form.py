"""The report form has a place for everything that the report holds, and rows for every system of the schedule."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from print_reading import squash, squashed_pages

from chockbook.catalogue import Catalogue
from chockbook.catalogue.carrier import CarrierRecord
from chockbook.catalogue.rulebook import ReportFieldRecord
from chockbook.printing import Printed, render_report_form

RULEBOOKS = ("on-s1", "us-fmcsr", "qc-list-1")
LISTED_BY_396_11 = 11
"""Parts that 49 CFR 396.11(a)(1) lists for the driver's report, (i) to (xi)."""


@pytest.fixture(scope="module")
def forms(shipped: Catalogue, tmp_path_factory: pytest.TempPathFactory) -> dict[str, Printed]:
    folder = tmp_path_factory.mktemp("report")
    return {name: render_report_form(shipped, name, "en", folder / f"{name}.pdf") for name in RULEBOOKS}


@pytest.mark.parametrize("name", RULEBOOKS)
def test_every_field_of_the_report_has_its_place(
    name: str, forms: dict[str, Printed], shipped: Catalogue
) -> None:
    text = "".join(squashed_pages(forms[name].path))
    rulebook = next(rulebook for rulebook in shipped.rulebooks if rulebook.id == name)
    assert rulebook.report
    for field in rulebook.report:
        mark = "" if field.confirmed else "*"
        assert squash(field.name["en"]) + mark in text, field.id
    assert (squash(shipped.words["print-report-star"]["en"]) in text) == any(
        not field.confirmed for field in rulebook.report
    )


@pytest.mark.parametrize("name", RULEBOOKS)
def test_it_is_one_sheet_with_room_for_several_trailers(name: str, forms: dict[str, Printed]) -> None:
    assert forms[name].pages <= 2
    front = squashed_pages(forms[name].path)[0]
    assert "TruckortractorTrailer1ConverterdollyTrailer2Trailer3" in front


def test_every_system_of_the_schedule_has_a_row(forms: dict[str, Printed], shipped: Catalogue) -> None:
    front = squashed_pages(forms["on-s1"].path)[0]
    parts = shipped.rulebooks[0].schedules[0].parts
    assert len(parts) == 23
    for number, part in enumerate(parts, start=1):
        assert squash(f"{number}{part.title['en']}") in front


def test_the_united_states_form_lists_what_396_11_lists(
    forms: dict[str, Printed], shipped: Catalogue
) -> None:
    front = squashed_pages(forms["us-fmcsr"].path)[0]
    rulebook = next(rulebook for rulebook in shipped.rulebooks if rulebook.id == "us-fmcsr")
    listed = [i for s in rulebook.schedules if s.id == "us-396-11" for part in s.parts for i in part.items]
    assert len(listed) == LISTED_BY_396_11
    for number, item in enumerate(listed, start=1):
        assert squash(f"{number}{item.text['en']}") in front


def test_every_severity_can_be_ticked(forms: dict[str, Printed], shipped: Catalogue) -> None:
    for rulebook in shipped.rulebooks:
        front = squashed_pages(forms[rulebook.id].path)[0]
        for severity in rulebook.severities:
            assert squash(f"{severity.name['en']}: {severity.outcome['en']}") in front


def test_a_carrier_stands_on_its_own_form_only(
    forms: dict[str, Printed], shipped: Catalogue, tmp_path: Path
) -> None:
    carrier = CarrierRecord(
        id="larch",
        name="Larch Hollow Haulage",
        demo=True,
        contacts=[{"role": "dispatch", "phone": "555-0142", "hours": "24 h"}],
        languages=["en"],
        rulebooks=["on-s1"],
        units=[{"id": "u", "name": "1", "vehicles": ["truck"]}],
        documents=[{"what": "report"}],
    )
    made = render_report_form(shipped, "on-s1", "en", tmp_path / "larch.pdf", carrier)
    assert made.pages <= 2
    front = squashed_pages(made.path)[0]
    for wanted in (carrier.name, "555-0142", "24 h"):
        assert squash(wanted) in front
        assert squash(wanted) not in "".join(squashed_pages(forms["on-s1"].path))


UNITS = "TruckortractorTrailer1ConverterdollyTrailer2Trailer3"
PEN = "NameincapitalsSignatureDateandtime"


@pytest.mark.parametrize(
    ("place", "wanted"),
    [
        ("vehicles", f"Howthecabismarked{UNITS}"),
        ("head", "HowthecabismarkedWhatwasinspected"),
        ("operator", "HowthecabismarkedLarchHollowHaulage"),
        ("defects", "HowthecabismarkedNodefectfound"),
        ("inspector", f"Wholooked·Howthecabismarked{PEN}"),
        ("signed", f"Wholooked{PEN}Howthecabismarked{PEN}"),
        ("repaired", f"Howthecabismarked{PEN}Astudy"),
    ],
)
def test_a_field_stands_where_its_table_says_whatever_its_id(
    place: str, wanted: str, shipped: Catalogue, tmp_path: Path
) -> None:
    standing = {"source": "on-reg-199-07", "locator": "s. 7", "basis": "common-practice"}
    fields = [
        ReportFieldRecord(id="x1", name={"en": "Who looked"}, on_form="inspector", **standing),
        ReportFieldRecord(id="x2", name={"en": "How the cab is marked"}, on_form=place, **standing),
    ]
    rulebook = shipped.rulebook["on-s1"].model_copy(update={"report": fields})
    one = replace(shipped, rulebooks=(rulebook,))
    carrier = carrier_of("on-s1", "en") if place == "operator" else None
    made = render_report_form(one, "on-s1", "en", tmp_path / "form.pdf", carrier)
    assert wanted in "".join(squashed_pages(made.path))


SIGNED_ON_THE_BACK = {"repair-certificate", "next-driver-signature"}
"""By whoever repairs, and by the next driver: 49 CFR 396.11(a)(3)(ii) and 396.13(c)."""
THREE = [
    {"role": "dispatch", "name": "Night desk", "phone": "555-0101", "hours": "day and night"},
    {"role": "maintenance", "name": "Rosa Tamm", "phone": "555-0102", "hours": "06:00-22:00"},
    {"role": "safety", "name": "Ivo Brandt", "phone": "555-0103", "hours": "08:00-17:00"},
]


@pytest.mark.parametrize("language", ["en", "fr"])
@pytest.mark.parametrize("name", RULEBOOKS)
def test_what_the_driver_signs_stands_on_the_front(name: str, language: str, shipped: Catalogue, tmp_path: Path) -> None:
    """In both languages, with the contacts of a carrier; the front has a line for a defect above it at least."""
    form = render_report_form(shipped, name, language, tmp_path / "form.pdf", carrier_of(name, language))
    assert form.pages == 2
    pen = squash("".join(shipped.words[f"print-{key}"][language] for key in ("report-name", "signature", "report-when")))
    signed = {field.id: squash(field.name[language]) for field in shipped.rulebook[name].report
              if field.id not in {"vehicle", "operator", "date-time", "place", "odometer", "defects"}}  # fmt: skip
    for key, text in signed.items():
        longer = [one for one in signed.values() if text in one and text != one]
        front, back = (squash_out(side, longer) for side in squashed_pages(form.path))
        assert (text in back) == (key in SIGNED_ON_THE_BACK), key
        assert (text in front) == (key not in SIGNED_ON_THE_BACK), key
    front, back = squashed_pages(form.path)
    as_one = {"inspector", "statement"} <= set(signed)
    assert (front + back).count(pen) == len(signed) - as_one  # who inspected writes the name and signs once
    assert squash(shipped.words["print-report-statement"][language].split("{law}")[0]) in front


@pytest.mark.parametrize("name", RULEBOOKS)
def test_every_defect_has_room_for_its_repair(name: str, forms: dict[str, Printed], shipped: Catalogue) -> None:
    heads = squash("Told whom and when") + squash("Repaired by and when")
    front, back = squashed_pages(forms[name].path)
    assert front.count(heads) == back.count(heads) == 1
    boxes = "ForbiddenDefectordeficiency" if name == "us-fmcsr" else "MajorMinor"
    assert front.count(boxes) >= 3
    assert back.count(boxes) >= (10 if name == "us-fmcsr" else 14), "two long names stand one below the other"


def carrier_of(name: str, language: str) -> CarrierRecord:
    return CarrierRecord(
        id="larch", name="Larch Hollow Haulage", contacts=THREE, languages=[language], rulebooks=[name],
        units=[{"id": "u", "name": "1", "vehicles": ["truck"]}], documents=[{"what": "report"}],
    )  # fmt: skip


def squash_out(text: str, parts: list[str]) -> str:
    """The text without some parts of it, which begin as a shorter one does."""
    for part in parts:
        text = text.replace(part, "")
    return text
