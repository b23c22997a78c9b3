"""Editions side by side: what an edition says as plain data, what changed to the next, which prints went stale."""

from .as_data import catalogue_as_data
from .change import KINDS, READERS, Change, Difference
from .compare import compare
from .plain import EditionUnreadable, Kept, read_edition
from .stale import Unit, judge_prints

__all__ = [
    "KINDS",
    "READERS",
    "Change",
    "Difference",
    "EditionUnreadable",
    "Kept",
    "Unit",
    "catalogue_as_data",
    "compare",
    "judge_prints",
    "read_edition",
]
