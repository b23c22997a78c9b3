"""What is wrong with a table, and where: places, faults, and how they are printed."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Literal

Level = Literal["error", "warning"]
MOST_WARNINGS = 3
"""Of one rule in one file that are shown whole: sources that are known to be weak would hide what somebody just wrote."""
MOST_LINES = 10
"""Lines of a file that are named where warnings are folded: a new language has some thousands of texts to write."""


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """A position in a table. Line and column count from 1; the column counts characters."""

    file: str
    line: int = 1
    column: int = 1

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing that is wrong: where, what, why it matters and how to mend it."""

    place: Place
    rule: str
    what: str
    why: str
    mend: str
    level: Level = "error"
    subject: str = field(default="", compare=False)
    """The id that the fault is about, where it may only follow from another fault."""
    touches: tuple[str, ...] = field(default=(), compare=False)
    """Ids that the fault explains: what is missing there only follows from it."""

    def __str__(self) -> str:
        head = f"{self.place}: {self.level}[{self.rule}]: {self.what}"
        return f"{printable(head)}\n    why: {printable(self.why)}\n    mend: {printable(self.mend)}"


def in_order(faults: Iterable[Fault]) -> list[Fault]:
    """Faults by file, line and column, each once."""
    unique = dict.fromkeys(faults)
    return sorted(unique, key=lambda fault: (fault.place, fault.rule, fault.what))


def without_echoes(faults: Iterable[Fault]) -> list[Fault]:
    """Faults without those that only follow from another one of them, an error.

    Where two ids were exchanged, each of the faults would explain the other: both stay.
    """
    faults = list(faults)
    touched = {name for fault in faults if fault.level == "error" for name in fault.touches}
    followed = [fault for fault in faults if fault.subject and fault.subject in touched]
    if not followed:
        return faults
    roots = [fault for fault in faults if not fault.subject or fault.subject not in touched]
    explained, fresh = set[str](), _touched_by(roots)
    while fresh:
        explained |= fresh
        fresh = _touched_by(fault for fault in followed if fault.subject in fresh) - explained
    circular = [fault for fault in followed if fault.subject not in explained]
    while circular:
        subjects = {fault.subject for fault in circular}
        leading = [fault for fault in circular if not subjects.isdisjoint(fault.touches)]
        if len(leading) == len(circular):
            break
        circular = leading
    kept = {id(fault) for fault in (*roots, *circular)}
    return [fault for fault in faults if id(fault) in kept]


def _touched_by(faults: Iterable[Fault]) -> set[str]:
    return {name for fault in faults if fault.level == "error" for name in fault.touches}


def errors(faults: Iterable[Fault]) -> list[Fault]:
    """The faults that stop a build."""
    return [fault for fault in faults if fault.level == "error"]


def errors_last(faults: Iterable[Fault]) -> list[Fault]:
    """Warnings, then the faults that stop a build: those stand right above where whoever mends them types next."""
    return sorted(faults, key=lambda fault: fault.level == "error")


def shown(faults: Iterable[Fault], most: int = MOST_WARNINGS) -> list[str]:
    """Faults as a person reads them: warnings, those of one kind folded where they are many, then every error whole.

    Args:
        faults: in the order in which they are printed.
        most: how many warnings of one rule in one file are shown whole; of more, the first one is, and the lines of the
            others are named.
    """
    kinds: dict[tuple[str, ...], list[Fault]] = {}
    for number, fault in enumerate(errors_last(faults)):
        key = (str(number),) if fault.level == "error" else (fault.place.file, fault.rule)
        kinds.setdefault(key, []).append(fault)
    lines: list[str] = []
    for alike in kinds.values():
        if len(alike) <= most:
            lines += map(str, alike)
        else:
            lines += [str(alike[0]), _folded(alike[1:])]
    return lines


def _folded(alike: list[Fault]) -> str:
    first = alike[0]
    at = ", ".join(str(fault.place.line) for fault in alike[:MOST_LINES]) + (", …" if len(alike) > MOST_LINES else "")
    where = "line" if len(alike) == 1 else "lines"
    return f"{first.place.file}: {counted(len(alike), 'more warning')} [{first.rule}], on {where} {at}; each whole: chockbook check --all"


def summary(faults: Iterable[Fault]) -> str:
    """The closing line: "7 faults in 2 files, 1 warning; nothing was written"."""
    faults = list(faults)
    wrong = errors(faults)
    files = {fault.place.file for fault in wrong}
    warnings = len(faults) - len(wrong)
    text = f"{counted(len(wrong), 'fault')} in {counted(len(files), 'file')}"
    if warnings:
        text += f", {counted(warnings, 'warning')}"
    return f"{text}; nothing was written" if wrong else text


def quoted(text: object, longest: int = 60) -> str:
    """A value as it stands in a message: in quotes, on one line, cut when it is very long."""
    plain = printable(str(text))
    if len(plain) > longest:
        plain = plain[: longest - 1] + "…"
    return f'"{plain}"'


def printable(text: str) -> str:
    """Text that cannot disturb a terminal: control and direction marks are shown by their code."""
    return "".join(
        character if character.isprintable() or character in " \u00a0\u202f" else f"\\u{ord(character):04x}"
        for character in text
    )


def counted(number: int, noun: str) -> str:
    """A number with its noun: 1 carrier, 2 carriers."""
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"
