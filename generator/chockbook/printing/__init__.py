"""Printed outputs: views handed as JSON to Typst templates, set in-process as tagged PDF."""

from .compile import SettingFailed
from .documents import Printed, render_cards, render_checklist, render_manual
from .overflow import CardOverflow

__all__ = ["CardOverflow", "Printed", "SettingFailed", "render_cards", "render_checklist", "render_manual"]
