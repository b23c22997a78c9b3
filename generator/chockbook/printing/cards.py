"""A deck of cards as a PDF: filled, placed on sheets, and set."""

from __future__ import annotations

from pathlib import Path

from ..catalogue import Catalogue
from ..output import put_whole
from ..views.carrier_unit import MadeUp
from .card_formats import FORMATS
from .card_setting import CardSetting, Cover
from .deck_maker import DeckMaker
from .overflow import CardOverflow
from .printed import Printed


def render_cards(
    catalogue: Catalogue,
    rulebook_id: str,
    language: str,
    out_path: Path,
    setting: CardSetting | None = None,
    unit: MadeUp | None = None,
    cover: Cover | None = None,
    document_id: str | None = None,
) -> Printed:
    """Write a deck of cards.

    Args:
        catalogue: the checked catalogue.
        rulebook_id: the rulebook it is about; defects that it does not speak of are left out.
        language: code of its language.
        out_path: the PDF to write; its folder is made if needed.
        setting: format, paper, duplex, marks and ink; 95 x 128 mm, four to a sheet, two-sided where left out.
        unit: leaves out what the unit cannot have; every defect where it is left out.
        cover: of a carrier's deck.
        document_id: by which the deck calls itself; made from rulebook and language where left out.

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
        CardOverflow: an entry does not fit on an empty card.
        SettingFailed: the compiler objects, as to a character that the face lacks.
    """
    setting = setting or CardSetting()
    name = document_id or f"cards.{rulebook_id}.{language}"
    maker = DeckMaker(catalogue, rulebook_id, language, setting, cover, name)
    cards = maker.filled(unit)
    pdf, pages = maker.set(cards)
    put_whole(out_path, pdf)
    return Printed(out_path, pages, len(cards), maker.notices(len(cards)))


def render_fitting_cards(catalogue: Catalogue, rulebook_id: str, language: str, out_path: Path) -> Printed:
    """Write the deck in the smallest format, from 95 x 128 mm up, whose cards hold every entry.

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
        CardOverflow: an entry does not fit on the largest card either.
        SettingFailed: the compiler objects.
    """
    name = CardSetting().format
    while True:
        try:
            return render_cards(catalogue, rulebook_id, language, out_path, CardSetting(format=name))
        except CardOverflow:
            larger = FORMATS[name].next_format
            if larger is None:
                raise
            name = larger
