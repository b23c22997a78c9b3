"""Pairs to tell apart, on the page and on the sheet, against the rulings of the catalogue.

Which of several defects that stop the vehicle stands beside one that does not is a matter of wording and is not
judged here; that both are of one component, which answer each has, its words, and which words differ, is.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from typing import Any, NamedTuple
from unicodedata import category, normalize

from ..catalogue import Catalogue, Entry, Ruling
from ..catalogue.locator import locator_in
from ..catalogue.wording import in_language
from .facts import Reader, reader_of
from .manual import page_furniture
from .objection import Objection
from .read_pdf import PdfReading
from .reading import Vocabulary, compare, squash

SIDES = ("goes-on", "stops")
MOST_BETWEEN = 900
"""Squashed characters that figures and a locator may take between two sides of a printed pair."""


class Answer(NamedTuple):
    """A defect with one ruling of the rulebook."""

    entry: Entry
    ruling: Ruling

    @property
    def stops(self) -> bool:
        """Whether it forbids driving."""
        return self.ruling.severity.may_drive == "no"


def _answers(catalogue: Catalogue, rulebook_id: str) -> list[Answer]:
    return [Answer(entry, ruling) for entry in catalogue.entries for ruling in entry.rulings_under(rulebook_id)]


def _beside(stopping: list[Answer], one: Answer) -> list[Answer]:
    """The answers that may stand beside one that lets the vehicle go on: its own that stops it, where it has one.

    Args:
        stopping: answers for the same component that stop the vehicle.
        one: the answer that does not.
    """
    answers = [a for a in stopping if set(a.entry.vehicles) & set(one.entry.vehicles)]
    return [a for a in answers if a.entry.id == one.entry.id] or answers


def wanted_pairs(catalogue: Catalogue, rulebook_id: str) -> list[tuple[Answer, list[Answer]]]:
    """Every answer that lets the vehicle go on and has one beside it, by system, with those that may be beside it."""
    answers = _answers(catalogue, rulebook_id)
    stopping: dict[str, list[Answer]] = {}
    for one in answers:
        if one.stops:
            stopping.setdefault(one.entry.component.id, []).append(one)
    found = [(one, _beside(stopping.get(one.entry.component.id, []), one)) for one in answers if not one.stops]
    order = {system.id: place for place, system in enumerate(catalogue.systems)}
    pairs = [(one, beside) for one, beside in found if beside]
    return sorted(pairs, key=lambda pair: order[pair[0].entry.system.id])


def own_limits(entry: Entry, rulebook_id: str) -> set[str]:
    """Limits of an entry with a figure of the rulebook's own."""
    return {limit.id for limit in entry.limits if any(row.rulebook == rulebook_id for row in limit.rows)}


def difference_of(reader: Reader, one: Answer, other: Answer) -> str:
    """That the circumstances or the figure decide; nothing where the words of both sides say it."""
    if one.entry.id == other.entry.id:
        return reader.word("pairs-by-circumstance")
    rulebook_id = one.ruling.rulebook.id
    both = own_limits(one.entry, rulebook_id) & own_limits(other.entry, rulebook_id)
    return reader.word("pairs-by-figure") if both else ""


def _said(reader: Reader, answer: Answer) -> list[str]:
    """Severity's answer and name, standing, condition, and circumstances: what a side begins with, in its order."""
    language, ruling = reader.language, answer.ruling
    said = [in_language(ruling.severity.outcome, language), in_language(ruling.severity.name, language)]
    if not ruling.confirmed:
        said.append(reader.word("not-confirmed"))
    said.append(in_language(answer.entry.condition, language))
    if ruling.applies_when:
        said.append(in_language(ruling.applies_when, language))
    return said


def prove_pairs_page(reader: Reader, tree: Any, rulebook_id: str, output: str) -> Iterator[Objection]:
    """Objections to the page of pairs."""
    if tree is None:
        yield Objection(output, "page", "is missing")
        return
    catalogue = reader.catalogue
    wanted = {(one.entry.id, one.ruling.item.id): (one, beside) for one, beside in wanted_pairs(catalogue, rulebook_id)}
    known = {(a.entry.id, a.ruling.item.id): a for a in _answers(catalogue, rulebook_id)}
    seen: Counter[tuple[str, str]] = Counter()
    for block in tree.iterfind(".//div[@class='across pair']"):
        sides = {kind: block.find(f".//div[@data-{kind}]") for kind in SIDES}
        keys = [("", "") if side is None else (side.get(f"data-{kind}"), side.get("data-item"))
                for kind, side in sides.items()]  # fmt: skip
        left, right = (known.get(key) for key in keys)
        about = keys[0][0] or "a pair"
        if left is None or right is None or (left.entry.id, left.ruling.item.id) not in wanted:
            yield Objection(output, about, "is no pair of this rulebook")
            continue
        seen[left.entry.id, left.ruling.item.id] += 1
        if right not in wanted[left.entry.id, left.ruling.item.id][1]:
            yield Objection(output, about, f"stands beside {right.entry.id}, which is no other answer of its component")
            continue
        for kind, one in zip(SIDES, (left, right), strict=True):
            yield from _side(reader, sides[kind], one, rulebook_id, output)
        text = squash(" ".join(block.itertext()))
        for line in (in_language(left.entry.component.name, reader.language), difference_of(reader, left, right)):
            if squash(line) not in text:
                yield Objection(output, about, f"does not say: {line}")
        yield from _marks(sides, left.entry.id == right.entry.id, output, about, _telling_nothing(reader))
    for key in wanted:
        if seen[key] != 1:
            yield Objection(output, key[0], f"stands {seen[key]} times, and belongs here once")
    if not wanted and squash(reader.word("pairs-none")) not in squash(" ".join(tree.itertext())):
        yield Objection(output, "page", f"does not say: {reader.word('pairs-none')}")


def _side(reader: Reader, block: Any, answer: Answer, rulebook_id: str, output: str) -> Iterator[Objection]:
    required = [*_said(reader, answer), locator_in(reader.catalogue, answer.ruling.locator, reader.language)]
    figures = (text for limit in answer.entry.limits if limit.id in own_limits(answer.entry, rulebook_id)
               for text in (*reader.figures(limit), reader.word("across-more-figures")))  # fmt: skip
    result = compare(" ".join(block.itertext()), required, Vocabulary(figures))
    for text in result.missing:
        yield Objection(output, answer.entry.id, f"does not say: {text}")
    for text in result.beyond:
        yield Objection(output, answer.entry.id, f"says what the catalogue does not: {text}")


def _words(text: str) -> list[str]:
    return re.findall(r"[^\W_]+", text.casefold())


def _alike(one: str, other: str) -> bool:
    short, long = sorted((one, other), key=len)
    return short == long or (len(short) > 3 and long[: len(short)] == short and len(long) <= len(short) + 2)


def _telling_nothing(reader: Reader) -> set[str]:
    """Small words of the language, as its search words have them: no accents."""
    lists = [one for one in reader.catalogue.search if one.language == reader.language]
    return {word for one in lists for word in (*one.drop, *one.small)}


def _bare(word: str) -> str:
    return "".join(sign for sign in normalize("NFD", word) if category(sign) != "Mn").replace("œ", "oe")


def _marks(sides: dict[str, Any], same: bool, output: str, about: str, small: set[str]) -> Iterator[Objection]:
    """Marked words are those that the other side lacks; of one defect the circumstances alone are compared."""
    kinds = ("pair__when",) if same else ("pair__found", "pair__when")
    texts = {kind: [p for p in side.iterfind(".//p") if p.get("class") in kinds] for kind, side in sides.items()}
    for kind, other in (SIDES, SIDES[::-1]):
        against = _words(" ".join(" ".join(p.itertext()) for p in texts[other]))
        for paragraph in texts[kind]:
            marked = [word for mark in paragraph.iterfind(".//mark") for word in _words("".join(mark.itertext()))]
            every = _words("".join(paragraph.itertext()))
            telling = [w for w in every if not (len(w) == 1 and w.isalpha()) and _bare(w) not in small]
            differ = [w for w in telling if not any(_alike(w, a) for a in against)]
            if marked != differ:
                yield Objection(output, about, f"marks {' '.join(marked)!r} and not {' '.join(differ)!r}")


def prove_pairs_sheet(catalogue: Catalogue, reading: PdfReading, name: str, rulebook_id: str,
                      language: str) -> Iterator[Objection]:  # fmt: skip
    """Objections to the printed sheet: each pair in its place, both sides whole, and what tells them apart."""
    reader = reader_of(catalogue, language)
    yield from page_furniture(reader, reading, name)
    wanted = wanted_pairs(catalogue, rulebook_id)
    if not wanted:
        yield Objection(name, "file", "has no pair to show, and belongs not here")
    lead = reader.word("pairs-count").replace("{number}", str(len(wanted)))
    if squash(lead) not in reading.text:
        yield Objection(name, "number", f"does not say: {lead}")
    at = 0
    for one, beside in wanted:
        component = in_language(one.entry.component.name, language)
        begin = reading.text.find(_printed(reader, one, component), at)
        if begin < 0:
            yield Objection(name, one.entry.id, f"does not say, in its place: {' '.join(_said(reader, one))}")
            continue
        at = begin + 1
        rest = reading.text[begin : begin + len(_printed(reader, one, component)) + 3 * MOST_BETWEEN]
        locator = squash(locator_in(catalogue, one.ruling.locator, language))
        if not any(_whole(reader, rest, locator, one, other) for other in beside):
            yield Objection(name, one.entry.id, "has no answer that stops the vehicle, whole, beside it")


def _printed(reader: Reader, answer: Answer, component: str = "") -> str:
    outcome, *rest = _said(reader, answer)
    if not answer.ruling.confirmed:
        rest[1] = f"({rest[1]})"
    return squash("".join([component, f"{outcome}.", *rest]))


def _whole(reader: Reader, text: str, locator: str, one: Answer, other: Answer) -> bool:
    """Whether a text goes on with the locator, then the other side with its own, then what makes the difference."""
    place = squash(locator_in(reader.catalogue, other.ruling.locator, reader.language))
    at = 0
    for part in (locator, _printed(reader, other), place, squash(difference_of(reader, one, other))):
        found = text.find(part, at)
        if found < 0 or (at and found - at > MOST_BETWEEN):
            return False
        at = found + len(part)
    return True
