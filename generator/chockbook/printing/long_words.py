"""Words that are too long for a line: where they may be broken, so that no name runs over the edge of a card."""

from __future__ import annotations

import re

LONGEST = 16
"""Letters of a word that is never broken; few names have a longer one without a hyphen."""
PIECE = 8
"""Letters between the places where a longer word may be broken: eight of the widest fit in half of a visor card."""
MAY_BREAK = "\u200b"
"""Has no width and is not printed: a line may end there."""

_LONG = re.compile(rf"[^\s\u00a0-]{{{LONGEST + 1},}}")


def breakable(text: str) -> str:
    """The text, with places where its overlong words may be broken; most texts come back as they are."""
    return _LONG.sub(lambda word: MAY_BREAK.join(re.findall(f".{{1,{PIECE}}}", word[0])), text)


def breakable_name(name: str) -> str:
    """The name of a document, whose parts stay whole where they are short enough: its code is never divided."""
    if len(name) <= LONGEST:
        return name
    return f".{MAY_BREAK}".join(map(breakable, name.split(".")))
