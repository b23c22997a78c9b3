"""Editions side by side: what an edition says as plain data, what changed to the next, which prints went stale."""

from .as_data import catalogue_as_data
from .change import KINDS, READERS, Change, Difference
from .compare import compare
from .plain import EditionUnreadable, Kept, read_edition
from .since import differences
from .stale import Judged, Unit, carries, judge_prints

__all__ = [
    "KINDS",
    "READERS",
    "Change",
    "Difference",
    "EditionUnreadable",
    "Judged",
    "Kept",
    "Unit",
    "carries",
    "catalogue_as_data",
    "compare",
    "differences",
    "judge_prints",
    "read_edition",
]
