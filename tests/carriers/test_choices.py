"""Choices of a carrier's file stand in one place each, or the same in all."""

from __future__ import annotations

import re
from pathlib import Path
from typing import get_args

import pytest

from chockbook.catalogue.card_kinds import CARD_KINDS
from chockbook.catalogue.carrier import CardFormat, ContactRecord, DocumentRecord
from chockbook.catalogue.record import Equipment, Vehicle
from chockbook.checks.carriers import assemble_carriers
from chockbook.printing.card_formats import FORMATS

README = Path(__file__).parents[2] / "README.md"


def test_a_carrier_can_ask_for_every_card_format_and_for_no_other():
    assert get_args(CardFormat) == tuple(CARD_KINDS) == tuple(FORMATS)


@pytest.mark.parametrize("name", CARD_KINDS)
def test_a_bulletin_has_a_name_for_every_card_format(name, shipped):
    assert {"en", "fr"} <= set(shipped.words[f"bulletin-format-{name}"])


def test_the_readme_names_every_choice_of_a_carriers_file():
    table = README.read_text(encoding="utf-8").split("<!-- carrier choices -->")[1].split("<!-- end -->")[0]
    rows = re.findall(r"(?m)^\| `([^`]+)` \| (.*) \|$", table)
    told = {key: tuple(re.findall(r"`([^`]+)`", choices)) for key, choices in rows}
    expected = {f"documents: {key}": get_args(field.annotation) for key, field in DocumentRecord.model_fields.items()}
    expected["contacts: role"] = get_args(ContactRecord.model_fields["role"].annotation)
    expected["units: vehicles"], expected["units: equipment"] = get_args(Vehicle), get_args(Equipment)
    assert told == expected


@pytest.mark.parametrize(
    ("choice", "room"),
    [
        ("side-by-side", lambda kind: kind.columns_for_two),
        ("front-and-back", lambda kind: kind.face_for_each),
        ("punch", lambda kind: kind.on_ring),
    ],
)
def test_the_readme_says_which_formats_a_choice_goes_with(choice, room):
    text = " ".join(README.read_text(encoding="utf-8").split("<!-- carrier choices -->")[1].split("<!-- end -->")[1].split())
    told = re.search(rf"{choice}`(?: goes)? with(?: the formats)? ((?:`\w+`(?:, )?)+)", text)[1]
    assert re.findall(r"`(\w+)`", told) == [name for name, kind in CARD_KINDS.items() if room(kind)]


def test_the_carrier_that_the_readme_starts_from_has_no_fault(shipped, tmp_path):
    example = README.read_text(encoding="utf-8").split("<!-- carrier example -->")[1].split("<!-- end -->")[0]
    folder = tmp_path / "source_tables" / "carriers"
    folder.mkdir(parents=True)
    (folder / "tern-point-freight.yaml").write_text(example.replace("```yaml", "").replace("```", ""), encoding="utf-8")
    found = assemble_carriers(folder, shipped)
    assert found.faults == []
    assert [len(one.units) for one in found.carriers] == [1]
