"""Reading YAML so that every value knows its place.

Every scalar is taken as text: YAML's own guesses (`NO` as false, `1.10` as 1.1, `12:30` as 750) would
change what a person wrote. The shapes in `catalogue` turn text into numbers and dates.
"""

from __future__ import annotations

import os
import re
import stat
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import yaml

from ..faults import Fault, Place, quoted
from .syntax_hints import hint

Loader: type = getattr(yaml, "CSafeLoader", yaml.SafeLoader)

Steps = tuple[str | int, ...]
"""The way to a value: keys of mappings and positions in lists."""

DEEPEST = 40
"""Nesting beyond this is a mistake, and would exhaust the parser."""
LARGEST = 64 * 1024 * 1024
"""Bytes; a table beyond this is not a table."""
MOST_MARKS = 4_000_000
"""Commas, colons and line ends; a table of 20,000 entries has some 2.5 million, and each takes about 500 bytes."""
_UNSEEN = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028-\u202e\u2066-\u2069\ufeff\ufff9-\ufffb\ufffe\uffff\ud800-\udfff]"
)
"""Control characters, and marks that turn the order of the letters around them: never part of a text."""
_NOTHING = {"", "~", "null", "Null", "NULL"}
_STANDARD_TAGS = {
    "tag:yaml.org,2002:" + name
    for name in ("str", "int", "float", "bool", "null", "timestamp", "map", "seq", "merge", "value")
}


@dataclass
class Table:
    """A table as read: plain data, the place of every value and key, and what was wrong."""

    name: str
    """The file as it is named in messages."""
    data: Any = None
    values: dict[Steps, Place] = field(default_factory=dict)
    keys: dict[Steps, Place] = field(default_factory=dict)
    faults: list[Fault] = field(default_factory=list)

    def place(self, steps: Steps) -> Place:
        """The place of a value, or of the nearest thing around it that exists."""
        while steps not in self.values and steps:
            steps = steps[:-1]
        return self.values.get(steps, Place(self.name))

    def key_place(self, steps: Steps) -> Place:
        """The place of the key under which a value stands."""
        return self.keys.get(steps) or self.place(steps)


def read_table(path: Path, name: str) -> Table:
    """Read one table. What cannot be read is in its `faults`; nothing is raised for a bad file."""
    table = Table(name)
    text = _read_text(path, table)
    if text is None:
        return table
    if not text.strip("\ufeff \t\r\n"):
        _no_records(table, "the table is empty")
        return table
    for marks, what in ((",:\n", "commas, colons and lines"), ("[{", "opening brackets")):
        if sum(map(text.count, marks)) > MOST_MARKS:
            _too_large(table, f"the table holds more than {MOST_MARKS:,} {what}")
            return table
    if not _shallow(text, table):
        return table
    try:
        root = yaml.compose(text, Loader=Loader)
    except yaml.MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        place = Place(name, mark.line + 1, mark.column + 1) if mark else Place(name)
        what, mend = hint(str(error.problem or error), _character_at(text, mark))
        _fault(table, place, "yaml-syntax", f"this is not YAML: {what}",
               "the rest of the table cannot be read past this place", mend)  # fmt: skip
        return table
    except (yaml.YAMLError, ValueError, RecursionError) as error:
        place = _place_in(text, name, getattr(error, "position", None))
        _fault(table, place, "yaml-syntax", f"this is not YAML: {getattr(error, 'reason', error)}",
               "the rest of the table cannot be read past this place",
               "remove the character, or write the table again from here")  # fmt: skip
        return table
    if root is None:
        _no_records(table, "the table holds only comments")
        return table
    _Walk(table).take(root, (), Place(name))
    if table.data is None and not table.faults:
        _no_records(table, "the table holds nothing")
    return table


def _no_records(table: Table, what: str) -> None:
    _fault(table, Place(table.name), "empty-table", what,
           "every table has to hold its records, or nothing can be built from it",
           "write the table, or copy it from a starter project")  # fmt: skip


def _too_large(table: Table, what: str) -> None:
    _fault(table, Place(table.name), "too-large", what, "such a file is not a table and would exhaust memory",
           "check that this is the right file")  # fmt: skip


def _read_text(path: Path, table: Table) -> str | None:
    try:
        kind = path.stat()
    except (FileNotFoundError, NotADirectoryError):
        _fault(table, Place(table.name), "missing-table", f"there is no table {quoted(table.name)}",
               "the catalogue is made from all of its tables",
               "write the table, or copy it from a starter project")  # fmt: skip
        return None
    except OSError as error:
        return _unreadable(table, str(error.strerror), "mend the link, or the permissions of its folder")
    if not stat.S_ISREG(kind.st_mode):
        return _unreadable(table, "it is a folder or a device, not a file", "put a file in its place")
    if leads_out(path, table.name):
        return _unreadable(table, "it is a link that leads out of the project",
                           "put the file itself in the link's place")  # fmt: skip
    if kind.st_size > LARGEST:
        _too_large(table, "the table is larger than 64 MiB")
        return None
    try:
        raw = path.read_bytes()
    except OSError as error:
        return _unreadable(table, str(error.strerror), "mend the file's permissions")
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        before = raw[: error.start]
        line = before.count(b"\n") + 1
        start = before.rfind(b"\n") + 1
        column = len(raw[start : error.start].decode("utf-8", "replace")) + 1
        _fault(table, Place(table.name, line, column), "encoding",
               f"byte 0x{raw[error.start]:02x} is not UTF-8",
               "in another encoding, accents and fractions turn into other characters",
               "save the table as UTF-8")  # fmt: skip
        return None


def leads_out(path: Path, name: str) -> bool:
    """Whether a link leads to a file that is neither in the project nor in its folder of tables.

    Whoever checks tables that others send in would be shown a file of their own machine.
    """
    around = list(path.absolute().parents)[: name.count("/") + 1][-2:]
    real = Path(os.path.realpath(path))
    return not any(real.is_relative_to(os.path.realpath(folder)) for folder in around)


def _unreadable(table: Table, reason: str, mend: str) -> None:
    _fault(table, Place(table.name), "unreadable", f"the table cannot be read: {reason}",
           "the catalogue is made from all of its tables", mend)  # fmt: skip


_BRACKET = re.compile(r"[\[{\]}]")


def _shallow(text: str, table: Table) -> bool:
    """Whether the text cannot nest deeper than the parser bears. Judged before parsing it."""
    for number, line in enumerate(text.split("\n"), 1):
        indent = len(line) - len(line.lstrip(" "))
        dashes = line.count("-", 0, len(line) - len(line.lstrip(" -")))
        if max(indent // 2, dashes, _nested(line)) > DEEPEST * 4:
            _fault(table, Place(table.name, number), "too-deep", "this line nests too deep",
                   "no table needs that, and it would exhaust the parser",
                   "write the value on its own, with less nesting")  # fmt: skip
            return False
    return True


def _nested(line: str) -> int:
    """How deep the brackets of a line stand in each other at most; 0 where they are too few to matter."""
    if line.count("[") + line.count("{") <= DEEPEST * 4:
        return 0
    deepest = depth = 0
    for bracket in _BRACKET.finditer(line):
        depth += 1 if bracket.group() in "[{" else -1
        deepest = max(deepest, depth)
    return deepest


class _Walk:
    """Turns nodes into plain data, noting the place of each."""

    def __init__(self, table: Table) -> None:
        self.table = table
        self.seen: set[int] = set()

    def take(self, node: yaml.Node, steps: Steps, near: Place) -> None:
        self.table.data = self._value(node, steps, near)

    def _at(self, node: yaml.Node) -> Place:
        return Place(self.table.name, node.start_mark.line + 1, node.start_mark.column + 1)

    def _value(self, node: yaml.Node, steps: Steps, near: Place) -> Any:
        place = self._at(node)
        self.table.values[steps] = place
        if len(steps) > DEEPEST:
            _fault(self.table, place, "too-deep", "this value nests too deep",
                   "no table needs that", "write the value with less nesting")  # fmt: skip
            return None
        if not isinstance(node, yaml.ScalarNode):
            if id(node) in self.seen:
                self.table.values[steps] = near
                _fault(self.table, near, "yaml-alias", "an alias (*) repeats a value from elsewhere",
                       "an entry has to stand by itself: a change at one place would change others unseen",
                       "write the value out here")  # fmt: skip
                return None
            self.seen.add(id(node))
        if node.tag not in _STANDARD_TAGS:
            _fault(self.table, place, "yaml-tag", f"the tag {quoted(node.tag)} is not used in tables",
                   "a tag can make a value mean something else than it says", "remove the tag")  # fmt: skip
            return None
        if isinstance(node, yaml.ScalarNode):
            if found := _UNSEEN.search(node.value):
                _fault(self.table, place, "unseen-character",
                       f"the text holds the character U+{ord(found.group()):04X}, which nobody sees",
                       "it can make a text read otherwise than it is written, and no output can show it",
                       "remove the character")  # fmt: skip
                return None
            return None if not node.style and node.value in _NOTHING else node.value
        if isinstance(node, yaml.SequenceNode):
            return [self._value(child, (*steps, at), place) for at, child in enumerate(node.value)]
        return self._mapping(node, steps)

    def _mapping(self, node: yaml.MappingNode, steps: Steps) -> dict[str, Any]:
        found: dict[str, Any] = {}
        for key_node, value_node in node.value:
            place = self._at(key_node)
            if not isinstance(key_node, yaml.ScalarNode):
                _fault(self.table, place, "bad-key", "a key of a mapping is a list or a mapping",
                       "a key names a field, so it is one word", "write a word before the colon")  # fmt: skip
                continue
            key = key_node.value
            inner = (*steps, key)
            if key in found:
                _fault(self.table, place, "duplicate-key",
                       f"{quoted(key)} stands here a second time, first at {self.table.keys[inner]}",
                       "only one of the two could count, and nobody could tell which",
                       "keep one of the two")  # fmt: skip
                continue
            self.table.keys[inner] = place
            found[key] = self._value(value_node, inner, place)
        return found


def _character_at(text: str, mark: yaml.Mark | None) -> str:
    """The character at a mark of the parser; empty at the end of a line or of the text."""
    lines = text.splitlines()
    line = lines[mark.line] if mark and mark.line < len(lines) else ""
    return line[mark.column : mark.column + 1] if mark else ""


def _place_in(text: str, name: str, position: int | None) -> Place:
    if not isinstance(position, int):
        control = re.search(r"[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]", text)
        position = control.start() if control else 0
    before = text[:position]
    return Place(name, before.count("\n") + 1, position - before.rfind("\n"))


def _fault(table: Table, place: Place, rule: str, what: str, why: str, mend: str) -> None:
    table.faults.append(Fault(place, rule, what, why, mend, touches=(f"value at {place}",)))
