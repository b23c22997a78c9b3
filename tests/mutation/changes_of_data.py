"""Single changes to data files: a value, a row, an order. Every value of a data file is seen by some reader."""

from __future__ import annotations

import csv
import io
import json
import random
from collections.abc import Callable, Iterator
from typing import Any

from changes_of_pages import NoPlace

Place = tuple[Any, Any]
"""A list or mapping, and the place in it."""


def places(value: Any) -> Iterator[Place]:
    """Every place of some data."""
    items = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, inner in items:
        yield value, key
        yield from places(inner)


class Data:
    """Data that is being changed."""

    def __init__(self, value: Any, rng: random.Random) -> None:
        self.value, self.rng = value, rng
        self.places = list(places(value))

    def some(self, found: list[Any]) -> Any:
        if not found:
            raise NoPlace
        return self.rng.choice(found)

    def held(self, kinds: type | tuple[type, ...], wanted: Callable[[Any], bool] = lambda value: True) -> Place:
        return self.some([p for p in self.places if isinstance(p[0][p[1]], kinds) and wanted(p[0][p[1]])])

    def digit(self) -> None:
        where, key = self.held((str, int), lambda v: any(c.isdigit() for c in str(v)) and not isinstance(v, bool))
        text = str(where[key])
        at = self.some([n for n, sign in enumerate(text) if sign.isdigit()])
        new = text[:at] + self.some([d for d in "123456789" if d != text[at]]) + text[at + 1 :]
        where[key] = new if isinstance(where[key], str) else int(new)

    def word(self) -> None:
        where, key = self.held(str, lambda v: any(c.isalpha() for c in v))
        words = where[key].split(" ")
        at = self.rng.randrange(len(words))
        words[at] = self.some([w for w in ("not", "major", "b", "left", "oil", "") if w != words[at]])
        where[key] = " ".join(words)

    def value_of_another(self) -> None:
        where, key = self.held(str)
        others = [p[0][p[1]] for p in self.places if isinstance(p[0][p[1]], str) and p[0][p[1]] != where[key]]
        where[key] = self.some(others)

    def missing(self) -> None:
        where, key = self.some([p for p in self.places if p[0][p[1]] not in (None, "")])
        del where[key]

    def duplicated(self) -> None:
        where, key = self.some([p for p in self.places if isinstance(p[0], list)])
        where.insert(key, where[key])

    def swapped(self) -> None:
        where, key = self.some([p for p in self.places if isinstance(p[0], list) and len(p[0]) > 1])
        other = self.some([n for n, v in enumerate(where) if v != where[key]])
        where[key], where[other] = where[other], where[key]

    def added(self) -> None:
        where, key = self.some([p for p in self.places if isinstance(p[0], list)])
        where.insert(key, "It is safe to drive.")


KINDS: dict[str, Callable[[Data], None]] = {
    "digit": Data.digit, "word": Data.word, "value of another": Data.value_of_another, "missing row": Data.missing,
    "duplicated": Data.duplicated, "swapped": Data.swapped, "text added": Data.added,
}  # fmt: skip


def change_json(text: str, kind: str, rng: random.Random) -> str:
    """JSON with one change, between whatever stands before and after it.

    Raises:
        NoPlace: there is no place for it.
    """
    begin, end = text.index("{"), text.rindex("}") + 1
    data = Data(json.loads(text[begin:end]), rng)
    KINDS[kind](data)
    return text[:begin] + json.dumps(data.value, ensure_ascii=False) + text[end:]


def change_csv(text: str, kind: str, rng: random.Random) -> str:
    """A CSV file with one change to its rows or a cell."""
    rows = list(csv.reader(io.StringIO(text, newline="")))
    head, body = rows[0], rows[1:]
    data = Data([*body], rng)
    data.places = [(row, n) for row in body for n in range(len(row))] if kind in ("digit", "word", "value of another") else [
        (data.value, n) for n in range(len(data.value))]  # fmt: skip
    if kind == "text added":
        data.value.append(["It is safe to drive."] * len(head))
    else:
        KINDS[kind](data)
    out = io.StringIO(newline="")
    csv.writer(out, lineterminator="\r\n").writerows([head, *data.value])
    return out.getvalue()


def without_order_of_choices(bank: str) -> str:
    """A bank of questions without the order in which the defects of wrong choices are named: no reader sees it."""
    data = json.loads(bank[bank.index("{") : bank.rindex("}") + 1])
    for one in data.get("questions", []):
        if isinstance(one, dict) and one.get("kind") in ("which", "stops") and isinstance(one.get("entries"), list):
            one["entries"] = [*one["entries"][:1], *sorted(map(str, one["entries"][1:]))]
    return json.dumps(data)
