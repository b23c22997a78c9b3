"""Texts that look like Typst code are printed as they are written, in every document that the program prints."""

from __future__ import annotations

import json
from dataclasses import replace
from functools import partial
from pathlib import Path

import pypdfium2
import pytest
from spoiling import spoil

from chockbook import printing
from chockbook.catalogue.carrier import CarrierRecord
from chockbook.catalogue.usual_units import USUAL_UNITS
from chockbook.catalogue.words import LanguageRecord
from chockbook.drill.sheets import Setting, make_sheets
from chockbook.editions import catalogue_as_data, compare
from chockbook.printing.carriers import print_carrier

CODE = '#eval("1")$x$*b*@r<l>'
SITE = Path(printing.__file__).parents[3] / "site_templates" / "print"


def flat(path: Path) -> str:
    """All letters of a document, without blanks and line ends."""
    document = pypdfium2.PdfDocument(path)
    return "".join("".join(page.get_textpage().get_text_range().split()) for page in document).replace("\u2019", "'")


@pytest.fixture(scope="module")
def hostile(tiny, shipped):
    """The tiny catalogue with code around every text of its records; the fixed words stay, so that cards hold them."""
    return replace(spoil(tiny, CODE), words=shipped.words)


RENDER = {
    "manual": printing.render_manual,
    "cards": printing.render_fitting_cards,
    "checklist": printing.render_checklist,
    "report": printing.render_report_form,
    "walk": partial(printing.render_walk_sheet, unit=USUAL_UNITS["truck"], vehicle=CODE),
    "score": partial(printing.render_score_sheet, unit=USUAL_UNITS["truck"], vehicle=CODE),
}


@pytest.mark.parametrize("name", RENDER)
def test_code_in_a_document_is_text(hostile, name, tmp_path):
    RENDER[name](hostile, "demo", "en", out_path=tmp_path / f"{name}.pdf")
    assert flat(tmp_path / f"{name}.pdf").count(CODE) >= 3


def test_code_in_a_sheet_of_questions_and_its_key_is_text(hostile, tmp_path):
    made = make_sheets(hostile, Setting("demo", "en", sheets=2, questions=2, unconfirmed=True, seed=CODE))
    printing.render_sheets(hostile, made, tmp_path / "sheets.pdf")
    printing.render_key(hostile, made, tmp_path / "key.pdf")
    assert flat(tmp_path / "sheets.pdf").count(CODE) >= 3
    assert flat(tmp_path / "key.pdf").count(CODE) >= 3


def test_code_in_a_bulletin_is_text(hostile, tmp_path):
    new = json.loads(json.dumps(catalogue_as_data(hostile)))
    old = json.loads(json.dumps(new))
    old["edition"]["code"] = "0123abcd"
    for entry in old["entries"]:
        entry["condition"]["en"] = f"Before {CODE}"
    difference = compare(old, new)
    assert difference.changes
    printing.render_bulletin(hostile, difference, ["demo"], "en", tmp_path / "bulletin.pdf")
    assert flat(tmp_path / "bulletin.pdf").count(CODE) >= 2


def test_code_in_a_carriers_documents_is_text(hostile, tmp_path):
    carrier = CarrierRecord.model_validate({
        "id": "carrier-a", "name": CODE,
        "contacts": [{"role": "dispatch", "name": CODE, "phone": "555-0100", "hours": CODE}],
        "rulebooks": ["demo"], "languages": ["en"], "base_address": "https://carrier.example/",
        "documents": [{"what": "deck", "format": "a6"}, {"what": "checklist"}, {"what": "report"}],
        "units": [{"id": "truck-1", "name": CODE, "vehicles": ["truck"]}],
    })  # fmt: skip
    made = print_carrier(hostile, carrier, tmp_path / "carrier-a")
    assert len(made["rows"]) == 3
    for row in made["rows"]:
        assert flat(tmp_path / row["path"]).count(CODE) >= 3, row["path"]


def test_code_on_a_card_in_two_languages_is_text(hostile, tmp_path):
    both = replace(hostile, languages=(*hostile.languages, LanguageRecord(code="fr", name="Français")))
    printing.render_bilingual_cards(both, "demo", ("en", "fr"), "side-by-side", tmp_path / "cards.pdf",
                                    printing.CardSetting(format="wall"))  # fmt: skip
    assert flat(tmp_path / "cards.pdf").count(CODE) >= 3


def test_no_template_runs_or_reads_what_it_is_given():
    templates = sorted(SITE.rglob("*.typ"))
    assert len(templates) >= 8
    for path in templates:
        text = path.read_text(encoding="utf-8")
        assert "eval(" not in text, path
        assert "plugin(" not in text, path
