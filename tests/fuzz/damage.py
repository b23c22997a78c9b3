"""Damage for the tables of a small project: what people, programs and attackers put into files.

A piece of damage is made from bytes alone, so that a run can be guided by coverage and every find repeated.
"""

from __future__ import annotations

from collections.abc import Callable

SNIPPETS = [
    text.encode("utf-8", "surrogatepass")
    for text in (
        "\0", "\ufeff", "\u202e", "\u2028", "\x85", "\x1b[31m", "\ud800", "é", "½", "𝔸", "\t", "\r", "\r\n", "\n", "\n\n", " ",
        "'", '"', "`", "\\", "|", ">", "|\n", "#", " #", ":", ": ", "?", "? ", "- ", "-", ",", "[", "]", "{", "}", "{}", "[]",
        "&a ", "*a", "&a [*a]", "<<: ", "!!python/object:os.system ", "!!binary ", "!", "%YAML 1.1\n", "---\n", "...\n", "~",
        "null", "yes", "NO", "1e999", "-0", "0x1f", "1_000", "12:30", "NaN", ".inf", "9" * 400, "1.10", "2026-02-30", "2026-13-01",
        "<script>alert(1)</script>", "{{ 7 * 7 }}", "{% raw %}", "<!--", "]]>", "&lt;", "</section>", "#eval(\"1\")", "$x$", "**", "__",
        "../../x", "/etc/passwd", "C:\\x", "CON", "nul.pdf", "aux", "a/b", ".", "..", "x" * 300, "é" * 300, "a.", "A", "-a", "a--b",
        "id: ", "en: ", "fr: ", "zz: ", "rulings: ", "limits: [x]", "severity: major", "item: ", "when: {}", "value: ", "languages: []",
    )
]  # fmt: skip
"""What is put in, in place of something or beside it."""


class Draw:
    """Numbers drawn from bytes, one after the other; when they are used up, noughts."""

    def __init__(self, raw: bytes) -> None:
        self._raw, self._at = raw, 0

    def below(self, limit: int) -> int:
        """A number from 0 to one below the limit."""
        taken = self._raw[self._at : self._at + 3]
        self._at += 3
        return int.from_bytes(taken, "little") % max(limit, 1)

    @property
    def done(self) -> bool:
        """Whether all bytes are used up."""
        return self._at >= len(self._raw)


def damage(table: bytes, draw: Draw) -> bytes:
    """One piece of damage to a table."""
    how = WAYS[draw.below(len(WAYS))]
    return how(table, draw)


def _spot(table: bytes, draw: Draw) -> int:
    return draw.below(len(table) + 1)


def _put_in(table: bytes, draw: Draw) -> bytes:
    at = _spot(table, draw)
    return table[:at] + SNIPPETS[draw.below(len(SNIPPETS))] + table[at:]


def _put_over(table: bytes, draw: Draw) -> bytes:
    at, length = _spot(table, draw), draw.below(12)
    return table[:at] + SNIPPETS[draw.below(len(SNIPPETS))] + table[at + length :]


def _put_for_word(table: bytes, draw: Draw) -> bytes:
    """A whole value or key goes: the damage that gets furthest."""
    words = table.split(b" ")
    at = draw.below(len(words))
    words[at] = SNIPPETS[draw.below(len(SNIPPETS))]
    return b" ".join(words)


def _one_byte(table: bytes, draw: Draw) -> bytes:
    at = _spot(table, draw)
    return table[:at] + bytes([draw.below(256)]) + table[at + 1 :]


def _drop_line(table: bytes, draw: Draw) -> bytes:
    lines = table.splitlines(keepends=True)
    at = draw.below(len(lines))
    del lines[at : at + 1 + draw.below(3)]
    return b"".join(lines)


def _twice(table: bytes, draw: Draw) -> bytes:
    lines = table.splitlines(keepends=True)
    if not lines:
        return table
    at = draw.below(len(lines))
    return b"".join([*lines[:at], *lines[at : at + 1] * (2 + draw.below(40)), *lines[at + 1 :]])


def _swap_lines(table: bytes, draw: Draw) -> bytes:
    lines = table.splitlines(keepends=True)
    if not lines:
        return table
    one, other = draw.below(len(lines)), draw.below(len(lines))
    lines[one], lines[other] = lines[other], lines[one]
    return b"".join(lines)


def _cut_off(table: bytes, draw: Draw) -> bytes:
    return table[: _spot(table, draw)]


def _nest(table: bytes, draw: Draw) -> bytes:
    at, depth = _spot(table, draw), draw.below(3000)
    return table[:at] + (b"[" if depth % 2 else b"{a: ") * depth + table[at:]


def _encode(table: bytes, draw: Draw) -> bytes:
    text = table.decode("utf-8", "replace")
    return text.encode(("utf-16", "utf-32", "latin-1", "cp1252", "utf-8-sig")[draw.below(5)], "replace")


WAYS: tuple[Callable[[bytes, Draw], bytes], ...] = (
    _put_in, _put_over, _put_for_word, _put_for_word, _one_byte, _drop_line, _twice, _swap_lines, _cut_off, _nest, _encode,
)  # fmt: skip
