"""What a person is told where a table is not YAML: what stands there, and what to do about it.

The parser's own sentences speak of tokens and mappings. Whoever keeps a list of trucks is told of tabs, columns, colons
and quotes.
"""

from __future__ import annotations

COLUMN = "begin this line in the same column as the other lines of its list or record"
QUOTES = 'put quotes around a text that holds ": ", such as "Tern: Freight"'
_HINTS = {
    "mapping values are not allowed in this context": (
        "a second colon stands on this line, or the line begins too far to the right", f"{QUOTES}; else {COLUMN}",
    ),
    "mapping values are not allowed here": (
        "a second colon stands on this line, or the line begins too far to the right", f"{QUOTES}; else {COLUMN}",
    ),
    "did not find expected key": ("this line does not begin where its neighbours do", COLUMN),
    "did not find expected '-' indicator": ("this line does not begin where its neighbours do", COLUMN),
    "found unexpected ':'": (
        "a key has nothing after its colon", 'write the value, as in "phone: 555-0101", or take the key away',
    ),
    "could not find expected ':'": (
        "a key here, or on the line above, has no colon with a space after it", 'write the key as in "name: Tern Freight"',
    ),
    "did not find expected ',' or ']'": (
        "a list is not closed, or two of its values have no comma between them", 'close it with "]", or write the comma',
    ),
    "did not find expected ',' or '}'": (
        "a bracket { is not closed, or a text in it holds a colon", f'close it with "}}", or write the comma; {QUOTES}',
    ),
}  # fmt: skip
"""By what PyYAML's parsers say is the matter."""
_FORBIDDEN_FIRST = {
    "\t": ("a tab stands here", "put spaces in its place: tables are indented with spaces only"),
    "@": ('a text begins with "@"', "put quotes around the text"),
    "`": ('a text begins with "`"', "put quotes around the text"),
    "%": ('a line begins with "%"', "put quotes around the text"),
}


def hint(problem: str, character: str) -> tuple[str, str]:
    """What is the matter and how to mend it.

    Args:
        problem: the parser's sentence.
        character: the one at the place it names; empty at the end of the text.
    """
    if "cannot start any token" in problem and character in _FORBIDDEN_FIRST:
        return _FORBIDDEN_FIRST[character]
    return _HINTS.get(problem, (problem, "mend the indentation, quotes or brackets here or on the line above"))
