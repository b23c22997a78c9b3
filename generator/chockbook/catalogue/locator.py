"""The place of a fact in its source, in the reader's language.

A locator is written once, in the first language of the project: "Schedule 1, Part 2, major defect (a)". Numbers
and letters are the source's and stay; the fixed words around them are ours and stand in words.yaml under
`locators`, so that a French reader finds "Annexe 1, partie 2, défectuosité majeure (a)".
"""

from __future__ import annotations

import re
from functools import lru_cache

from .remembered import remembered
from .whole import Catalogue


@remembered  # the same places stand on many pages
def locator_in(catalogue: Catalogue, locator: str, language: str) -> str:
    """A locator in a language. Words that the table does not have stay as they are written.

    Of several wordings that fit at a place the longest is taken. Where the locator begins with a capital, so
    does what takes its place.
    """
    pairs = catalogue.locator_words.get(language, ())
    return _translated(locator, pairs) if pairs else locator


def _translated(locator: str, pairs: tuple[tuple[str, str], ...]) -> str:
    words, fixed = _reader(pairs)
    text = fixed.sub(lambda found: words[found.group()], locator)
    return text[:1].upper() + text[1:] if locator[:1].isupper() else text


@lru_cache(maxsize=16)
def _reader(pairs: tuple[tuple[str, str], ...]) -> tuple[dict[str, str], re.Pattern[str]]:
    words = dict(pairs)
    long_first = sorted(words, key=lambda wording: (-len(wording), wording))
    return words, re.compile(r"(?<!\w)(?:" + "|".join(map(re.escape, long_first)) + r")(?!\w)")
