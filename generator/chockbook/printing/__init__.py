"""Printed outputs: views handed as JSON to Typst templates, set in-process as tagged PDF."""

from .bilingual import NoRoomForTwo, render_bilingual_cards
from .bulletin import render_bulletin
from .card_setting import CardSetting, Cover
from .cards import render_cards, render_fitting_cards
from .carriers import CarrierPrint, cards_for_carriers
from .checklist import WHOLE_ROUTE, UnknownVariant, render_checklist
from .comparison import render_comparison
from .compile import SettingFailed
from .drill import render_key, render_sheets
from .manual import render_manual
from .overflow import CardOverflow
from .pairs import render_pairs
from .printed import Printed
from .register import RegisterUnreadable, note_proved, read_register, take_off
from .report_form import render_report_form
from .results import render_results
from .walk import render_score_sheet, render_walk_sheet

__all__ = [
    "WHOLE_ROUTE",
    "CardOverflow",
    "CardSetting",
    "CarrierPrint",
    "Cover",
    "NoRoomForTwo",
    "Printed",
    "RegisterUnreadable",
    "SettingFailed",
    "UnknownVariant",
    "cards_for_carriers",
    "note_proved",
    "read_register",
    "render_bilingual_cards",
    "render_bulletin",
    "render_cards",
    "render_checklist",
    "render_comparison",
    "render_fitting_cards",
    "render_key",
    "render_manual",
    "render_pairs",
    "render_report_form",
    "render_results",
    "render_score_sheet",
    "render_sheets",
    "render_walk_sheet",
    "take_off",
]
