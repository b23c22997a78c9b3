"""Which fixed words the pages place: read from the templates, so that none is forgotten."""

from __future__ import annotations

import re
from typing import get_args

from ..catalogue import (
    ActionRecord,
    CautionRecord,
    DutyRecord,
    LimitRecord,
    RulingRecord,
    SourceRecord,
    StationRecord,
    StepRecord,
)
from ..catalogue.jurisdiction import Topic
from ..catalogue.measure import State, Unfitness
from ..catalogue.quantity import Malformation
from ..catalogue.record import Basis, Equipment, Vehicle
from ..catalogue.units import UNITS_OF_MEASURE
from ..editions import KINDS, READERS
from ..resources import templates
from ..views.border_news import NEWS
from ..drill.bank import KINDS
from ..views.measure import OTHER_WORDS, SCRIPT_WORDS
from ..views.practice import PRACTICE_WORDS
from ..views.walk import UNITS_TO_WALK
from ..views.walk_page import WALK_WORDS, WHOLE

_PLACED = re.compile(r"""\b(?:word|label|flag)\("([a-z0-9-]+)"\)""")


def _choices(record: type, field: str) -> tuple[str, ...]:
    return get_args(record.model_fields[field].annotation)


def words_used() -> frozenset[str]:
    """Keys of words.yaml that the pages place.

    Raises:
        FileNotFoundError: the templates are not there.
    """
    named = {
        "basis": get_args(Basis),
        "vehicle": get_args(Vehicle),
        "fitted": get_args(Equipment),
        "fit": _choices(RulingRecord, "fit"),
        "compare": _choices(LimitRecord, "compare"),
        "kind": _choices(ActionRecord, "kind"),
        "by": _choices(ActionRecord, "by"),
        "topic": _choices(DutyRecord, "topic"),
        "source": _choices(SourceRecord, "kind"),
        "stage": _choices(StationRecord, "stage"),
        "act": _choices(StepRecord, "act"),
        "signal": _choices(CautionRecord, "level"),
        "measure-unit": tuple(UNITS_OF_MEASURE),
        "measure-state": get_args(State),
        "measure-error": (*get_args(Malformation), *get_args(Unfitness)),
        "across": (*NEWS, "absent"),
        "province": get_args(Topic),
        "change": KINDS,
        "change-about": ("entry", "figure", "severity", "action", "item", "duty", "report", "station", "step", "caution",
                         "component", "system", "source", "rulebook", "province", "word", "language"),
        "change-drive": ("yes", "once-reported", "if-safe", "no"),
        "reader": (*READERS, *(f"{reader}-says" for reader in READERS)),
        "card": ("current", "stale", "same"),
        "standing": ("by-system", "by-severity"),
        "checker": get_args(get_args(SourceRecord.model_fields["checked_by"].annotation)[0]),
        "fact": ("ruling", "severity", "action", "item", "duty", "report", "figure"),
    }
    keys = {f"{prefix}-{choice}" for prefix, choices in named.items() for choice in choices}
    keys.update((*OTHER_WORDS, *SCRIPT_WORDS, "web-part"))
    for template in templates("web").rglob("*.j2"):
        keys.update(_PLACED.findall(template.read_text(encoding="utf-8")))
    return frozenset(keys)
