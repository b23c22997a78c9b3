"""Editions side by side: what an edition says as plain data, what changed to the next, which prints went stale."""

from .as_data import catalogue_as_data
from .change import KINDS, READERS, Change, Difference
from .compare import compare
from .own_file import GONE, OF_A_UNIT, OwnChange
from .plain import EditionUnreadable, Kept, read_edition
from .since import differences
from .stale import OF_PARTS, Judged, Pile, carries, judge_prints, parts_of

__all__ = [
    "GONE",
    "KINDS",
    "OF_A_UNIT",
    "OF_PARTS",
    "READERS",
    "Change",
    "Difference",
    "EditionUnreadable",
    "Judged",
    "Kept",
    "OwnChange",
    "Pile",
    "carries",
    "catalogue_as_data",
    "compare",
    "differences",
    "judge_prints",
    "parts_of",
    "read_edition",
]
