"""Single changes to a printed document: to the glyphs of a run of text, to a run as a whole, or to a page.

Every run of these documents is drawn by itself (BT Tr Tf Tm TJ ET), so that a change of its operands is a change of
what a reader sees: glyphs of the same font that stand for other letters, a run left out or moved off the paper.
"""

from __future__ import annotations

import random
import re
from collections.abc import Callable
from functools import cached_property
from pathlib import Path

import pikepdf
from changes_of_pages import NoPlace

INVISIBLE = ("mode 3", "white", "no size", "off the page")
OF_PAGES = ("page missing", "page duplicated", "pages swapped")
_BFCHAR = re.compile(rb"<([0-9A-Fa-f]{4})>\s*<([0-9A-Fa-f]{4,})>")


class Print:
    """A printed document that single pages are changed of."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.document = pikepdf.open(path)
        self.pages = len(self.document.pages)


class Page:
    """A page of which one run is changed."""

    def __init__(self, page: pikepdf.Page, rng: random.Random) -> None:
        self.page, self.rng = page, rng
        self.stream = list(pikepdf.parse_content_stream(page))
        self.note = ""
        self.runs = [at for at, one in enumerate(self.stream) if str(one.operator) == "TJ"]

    @cached_property
    def letters(self) -> dict[str, dict[bytes, str]]:
        """What the glyphs of each font stand for."""
        found = {}
        for name, font in self.page.resources.Font.items():
            table = bytes(font.ToUnicode.read_bytes())
            found[name] = {bytes.fromhex(code.decode()): bytes.fromhex(text.decode()).decode("utf-16-be")
                           for code, text in _BFCHAR.findall(table)}  # fmt: skip
        return found

    def some(self, found: list) -> object:
        if not found:
            raise NoPlace
        return self.rng.choice(found)

    def font(self, run: int) -> str:
        return str(next(one.operands[0] for one in reversed(self.stream[:run]) if str(one.operator) == "Tf"))

    def text(self, run: int) -> str:
        letters = self.letters[self.font(run)]
        return "".join(letters.get(code, "") for part in self.strings(run) for code in codes(part))

    def strings(self, run: int) -> list[bytes]:
        return [bytes(one) for one in self.stream[run].operands[0] if isinstance(one, pikepdf.String)]

    def told(self) -> list[int]:
        return [run for run in self.runs if any(map(str.isalnum, self.text(run)))]

    def put(self, run: int, array: list) -> None:
        self.stream[run] = pikepdf.ContentStreamInstruction([pikepdf.Array(array)], pikepdf.Operator("TJ"))

    def glyph(self, wanted: Callable[[str], bool]) -> None:
        """One glyph becomes another of the same font and of the same kind."""
        run = self.some([run for run in self.told() if any(map(wanted, self.text(run)))])
        letters = self.letters[self.font(run)]
        array = list(self.stream[run].operands[0])
        places = [(n, at) for n, one in enumerate(array) if isinstance(one, pikepdf.String)
                  for at, code in enumerate(codes(bytes(one))) if wanted(letters.get(code, ""))]  # fmt: skip
        n, at = self.some(places)
        old = codes(bytes(array[n]))
        new = self.some([code for code, text in sorted(letters.items()) if wanted(text) and text != letters[old[at]]])
        array[n] = pikepdf.String(b"".join([*old[:at], new, *old[at + 1 :]]))
        self.put(run, array)
        self.note = f"in {self.text(run)}"

    def digit(self) -> None:
        self.glyph(lambda text: text.isdigit())

    def letter(self) -> None:
        self.glyph(lambda text: len(text) == 1 and text.isalpha())

    def missing(self) -> None:
        del self.stream[self.some(self.told())]

    def other(self, run: int) -> int:
        return self.some([one for one in self.told() if self.font(one) == self.font(run)
                          and re.sub(r"\W", "", self.text(one)) != re.sub(r"\W", "", self.text(run))])  # fmt: skip

    def of_another(self) -> None:
        run = self.some(self.told())
        self.put(run, list(self.stream[self.other(run)].operands[0]))

    def swapped(self) -> None:
        run = self.some(self.told())
        other = self.other(run)
        one, two = list(self.stream[run].operands[0]), list(self.stream[other].operands[0])
        self.put(run, two)
        self.put(other, one)

    def duplicated(self) -> None:
        run = self.some(self.told())
        place = next(at for at in range(run, 0, -1) if str(self.stream[at].operator) == "Tm")
        self.note = self.text(run)
        lower = pikepdf.ContentStreamInstruction([1, 0, 0, -1, 0, 9], pikepdf.Operator("Tm"))
        assert place < run
        self.stream[run + 1 : run + 1] = [lower, self.stream[run]]

    def hidden(self) -> None:
        run = self.some(self.told())
        begin = next(at for at in range(run, 0, -1) if str(self.stream[at].operator) == "BT")
        way = self.rng.choice(INVISIBLE)
        self.note = f"{way}: {self.text(run)}"
        for at in range(begin, run):
            operator = str(self.stream[at].operator)
            if operator == "Tr" and way == "mode 3":
                self.stream[at] = pikepdf.ContentStreamInstruction([3], pikepdf.Operator("Tr"))
            elif operator == "Tm" and way in ("no size", "off the page"):
                size, away = (0.01, 0) if way == "no size" else (1, 5000)
                self.stream[at] = pikepdf.ContentStreamInstruction([size, 0, 0, -size, away, 0], pikepdf.Operator("Tm"))
        if way == "white":
            self.stream.insert(begin + 1, pikepdf.ContentStreamInstruction([1, 1, 1], pikepdf.Operator("rg")))

    def source(self) -> bytes:
        return pikepdf.unparse_content_stream(self.stream)


def codes(text: bytes) -> list[bytes]:
    """The glyphs of a string, two bytes each."""
    return [text[at : at + 2] for at in range(0, len(text), 2)]


KINDS: dict[str, Callable[[Page], None]] = {
    "digit": Page.digit, "letter": Page.letter, "missing row": Page.missing, "run of another": Page.of_another,
    "swapped": Page.swapped, "duplicated": Page.duplicated, "hidden": Page.hidden,
}  # fmt: skip


def change_one_page(document: Print, kind: str, out: Path, rng: random.Random) -> tuple[int, str]:
    """Write a document of one page that was changed; gives which page it is, counted from 0, and what was done."""
    number = rng.randrange(document.pages)
    new = pikepdf.new()
    new.pages.append(document.document.pages[number])
    page = Page(new.pages[0], rng)
    KINDS[kind](page)
    new.pages[0].Contents = new.make_stream(page.source())
    new.save(out)
    return number, page.note


def change_pages(document: Print, kind: str, out: Path, rng: random.Random) -> None:
    """Write the document with a page left out, twice, or in the place of another."""
    with pikepdf.open(document.path) as new:
        if document.pages < 2:
            raise NoPlace
        one, other = rng.sample(range(document.pages), 2)
        if kind == "page missing":
            del new.pages[one]
        elif kind == "page duplicated":
            new.pages.insert(one + 1, new.pages[one])
        else:
            if one > other:
                one, other = other, one
            first, second = new.pages[one], new.pages[other]
            if first.Contents.read_bytes() == second.Contents.read_bytes():
                raise NoPlace
            del new.pages[other]
            del new.pages[one]
            new.pages.insert(one, second)
            new.pages.insert(other, first)
        new.save(out)
