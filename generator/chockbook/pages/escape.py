"""Text from the tables made inert: Markdown, HTML and attribute lists show it and never obey it."""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

from markupsafe import Markup

_ACTIVE = set("&<>\"'\\`*_{}[]#~^=|$@")
"""Characters that Markdown, its extensions or HTML can obey anywhere in a line."""
_OPENING_NUMBER = re.compile(r"^([0-9]+)([.)])")
_SPACES = re.compile(r"[ \t]+")
_TURNS_TEXT_ROUND = {"\u202a", "\u202b", "\u202c", "\u202d", "\u202e", "\u2066", "\u2067", "\u2068", "\u2069"}
"""Characters that reverse the order in which following text is shown, beyond the text itself."""
_FOR_A_TITLE = str.maketrans({"<": "\uff1c", ">": "\uff1e", "&": "\uff06", '"': "\u201d"})


def one_line(text: str) -> str:
    """The text on one line, without characters that a reader cannot see but a program may obey.

    Control characters go because Markdown marks its own placeholders with them; a lone half of a
    surrogate pair goes because no file can hold it.
    """
    kept = []
    for character in text:
        kind = unicodedata.category(character)
        if kind in ("Cc", "Zl", "Zp"):
            kept.append(" ")
        elif kind == "Cs":
            kept.append("\ufffd")
        elif character not in _TURNS_TEXT_ROUND:
            kept.append(character)
    return _SPACES.sub(" ", "".join(kept)).strip(" ")


@lru_cache(maxsize=65_536)  # the same texts stand on many pages
def escape(text: str) -> Markup:
    """The text as numeric character references wherever a character could be obeyed.

    The result reads as the same text in a Markdown paragraph, heading, list, table cell or link text,
    inside raw HTML, and in a quoted HTML attribute. Line breaks become spaces.
    """
    line = one_line(text)
    inert = "".join(f"&#{ord(c)};" if c in _ACTIVE else c for c in line)
    # A first character such as "-", "+", ":" or "!" opens a list, a definition or a note.
    if inert and inert[0] in "!%()+,-./:;?":
        inert = f"&#{ord(inert[0])};{inert[1:]}"
    inert = _OPENING_NUMBER.sub(lambda found: f"{found[1]}&#{ord(found[2])};", inert)
    return Markup(inert)


def escape_between(text: str) -> Markup:
    """The same for what stands between two texts: a space at its beginning or its end stays."""
    before, after = (" " if text.startswith(" ") else "", " " if text.endswith(" ") else "")
    return Markup(f"{before}{escape(text)}{after}")


def title_line(text: str) -> str:
    """The text for a page title, which the theme places in HTML without escaping it.

    The four characters that HTML could obey are replaced by their look-alikes.
    """
    return one_line(text).translate(_FOR_A_TITLE)
