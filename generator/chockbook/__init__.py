"""Chockbook: one catalogue of vehicle defects in; web reference, manual, cards and checklist out."""

__version__ = "0.1.0"
