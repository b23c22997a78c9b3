"""A figure and its unit stay in one line: "more than 13" at the end of a page says less than the law does."""

from __future__ import annotations

import re

_FIGURE_AND_UNIT = re.compile(
    r"(?<=[0-9]) (?=(?:mm|cm|m|km|kPa|psi|in|ft|lb|kg|N|s|h|rpm|degrees?|percent|seconds?|minutes?|months?)\b)"
)


def with_bound_figures(text: str) -> str:
    """The text with a space that does not break between each figure and the unit after it.

    French is written with such spaces in the tables; what is written without them is bound here.
    """
    return _FIGURE_AND_UNIT.sub("\u00a0", text)
