"""A question with its choices, its answer and the reason for it."""

from __future__ import annotations

import base64
import hashlib
from dataclasses import dataclass

MOST_CHOICES = 6
ID_LETTERS = 10
"""Letters of an id after its kind: 50 bits, so that some ten thousand questions never share one by chance."""


@dataclass(frozen=True, slots=True)
class Choice:
    """One of the answers offered."""

    text: str
    right: bool


@dataclass(frozen=True, slots=True)
class Question:
    """A question of one rulebook in one language. Exactly one of its choices is right."""

    id: str
    """From the kind and the content, the same in every language; a question whose answer changes gets a new one."""
    kind: str
    entry_ids: tuple[str, ...]
    """The defects that it is about, the one that decides first; wrong choices' defects come last."""
    system_id: str
    severity_id: str
    """The severity that the answer rests on; "" where none plays a part."""
    text: str
    choices: tuple[Choice, ...]
    reason: str
    """Why the answer is right, in words of the catalogue."""
    source: str
    """Title and locator of what the answer rests on."""
    confirmed: bool
    """Whether all that the answer rests on was read in a source; False if any of it is from memory."""
    level: int = 2
    """How hard it is by its making: 1 easy, 2 middling, 3 hard."""

    @property
    def answer(self) -> Choice:
        """The right choice."""
        return next(choice for choice in self.choices if choice.right)


def question_id(kind: str, *content: object) -> str:
    """A short id from kind and content: the kind, then letters and digits, such as "severity-k3v7q2mwpa"."""
    told = "\x1f".join([kind, *map(str, content)])
    digest = hashlib.sha256(told.encode("utf-8")).digest()
    return f"{kind}-{base64.b32encode(digest).decode('ascii')[:ID_LETTERS].lower()}"


def order_by_seed(seed: object, *content: object) -> bytes:
    """A sort key that a seed decides and nothing else: the same on every machine and in every run."""
    told = "\x1f".join(map(str, (seed, *content)))
    return hashlib.sha256(told.encode("utf-8")).digest()
