"""Printed outputs: views handed as JSON to Typst templates, set in-process as tagged PDF."""

from .carriers import CarrierPrint, cards_for_carriers
from .cards import CardSetting, Cover, render_cards
from .compile import SettingFailed
from .documents import render_checklist, render_manual
from .overflow import CardOverflow
from .printed import Printed

__all__ = ["CardOverflow", "CarrierPrint", "cards_for_carriers", "CardSetting", "Cover", "Printed", "SettingFailed", "render_cards", "render_checklist", "render_manual"]
