"""Single changes to a page that a reader could see: each kind finds its own place on the page, by a seed.

What counts as seen is settled here, before any proof looks: a change of text has to differ once spaces are left out,
two things that change places have to differ, a thing that is hidden has to hold words or figures.
"""

from __future__ import annotations

import copy
import random
import re
from collections.abc import Callable
from typing import Any

from lxml import html

HIDING = (
    {"style": "display:none"}, {"style": "visibility: hidden"}, {"hidden": ""}, {"style": "font-size:0"},
    {"style": "opacity:0"}, {"style": "color:#fff;background:#fff"}, {"style": "position:absolute;left:-9999px"},
    {"style": "width:0;height:0;overflow:hidden"}, {"style": "clip-path:inset(100%)"}, {"aria-hidden": "true"},
    {"class": "on-paper"}, {"class": "without-script"}, {"class": "md-hidden"}, {"inert": ""},
)  # fmt: skip
BLOCKS = ("li", "p", "tr", "h1", "h2", "section", "td", "th", "span", "b", "strong", "summary", "details", "blockquote")
STATES = ("yes", "once-reported", "if-safe", "no")
DATA = ("script", "style", "option", "template")


class NoPlace(LookupError):
    """The page has no place for a change of this kind."""


def plain(element: Any) -> str:
    """What an element says, without spaces."""
    return re.sub(r"\s+", "", "".join(element.itertext()))


class Page:
    """A page that is being changed."""

    def __init__(self, source: bytes, words: dict[str, list[str]], rng: random.Random) -> None:
        self.tree = html.fromstring(source)
        found = self.tree.find(".//article")
        self.article = self.tree.find("body") if found is None else found
        self.words, self.rng = words, rng
        self.elements = [one for one in self.article.iter() if isinstance(one.tag, str) and one.tag not in DATA]

    def some(self, found: list[Any]) -> Any:
        if not found:
            raise NoPlace
        return self.rng.choice(found)

    def texts(self, wanted: Callable[[str], bool]) -> list[tuple[Any, str, str]]:
        """Element, attribute (text or tail) and text of each text that is wanted."""
        found = []
        for one in self.elements:
            if one.text and wanted(one.text):
                found.append((one, "text", one.text))
            if one is not self.article and one.tail and wanted(one.tail):
                found.append((one, "tail", one.tail))
        return found

    def put(self, place: tuple[Any, str, str], text: str) -> None:
        if re.sub(r"\s+", "", text) == re.sub(r"\s+", "", place[2]):
            raise NoPlace
        setattr(place[0], place[1], text)

    def another(self, kind: str) -> None:
        known = self.words[kind]
        place = self.some(self.texts(lambda text: text.strip() in known))
        self.put(place, self.some([word for word in known if word != place[2].strip()]))

    def severity_word(self) -> None:
        self.another("severity")

    def action(self) -> None:
        self.another("action")

    def digit(self) -> None:
        place = self.some(self.texts(lambda text: re.search(r"\d", text) is not None))
        at = self.some([m.start() for m in re.finditer(r"\d", place[2])])
        digit = self.some([d for d in "0123456789" if d != place[2][at]])
        self.put(place, place[2][:at] + digit + place[2][at + 1 :])

    def locator(self) -> None:
        place = self.some(self.texts(lambda text: any(one in text for one in self.words["locator"])))
        one = self.some([one for one in self.words["locator"] if one in place[2]])
        self.put(place, place[2].replace(one, self.some([x for x in self.words["locator"] if x != one]), 1))

    def blocks(self) -> list[Any]:
        return [one for one in self.elements if one is not self.article and one.tag in BLOCKS and plain(one)]

    def missing(self) -> None:
        self.some(self.blocks()).drop_tree()

    def swapped(self) -> None:
        one = self.some(self.blocks())
        # A block that holds a style sheet alone shows nothing: past it nothing changes places. What has an id, scripts fill.
        others = [x for x in one.getparent() if x is not one and x.tag == one.tag and plain(x) != plain(one)
                  and (plain(x) or x.get("id") or x.find(".//*[@id]") is not None)]  # fmt: skip
        other = self.some(others)
        for x in (one, other):
            x.tail = x.tail or ""
        first, second = copy.deepcopy(one), copy.deepcopy(other)
        first.tail, second.tail = other.tail, one.tail
        parent = one.getparent()
        parent.replace(one, second)
        parent.replace(other, first)

    def duplicated(self) -> None:
        one = self.some(self.blocks())
        one.addnext(copy.deepcopy(one))

    def foot(self) -> None:
        place = self.some([(e, "text", e.text) for foot in self.article.iter() if isinstance(foot.tag, str)
                           and (foot.get("class") or "") in ("edition", "aid-line", "on-paper")
                           for e in foot.iter() if e.text and e.text.strip()])  # fmt: skip
        self.put(place, self.other_word(place[2]))

    def caution(self) -> None:
        place = self.some([(e, k, getattr(e, k)) for box in self.article.iter() if isinstance(box.tag, str)
                           and "hazard" in [*(box.get("class") or "").split(), (box.get("class") or "")[:13]]
                           for e in box.iter() for k in ("text", "tail") if (e is not box or k == "text")
                           and (getattr(e, k) or "").strip()])  # fmt: skip
        self.put(place, self.other_word(place[2]))

    def other_word(self, text: str) -> str:
        """One word of a text left out, put twice, or put in another's place."""
        words = list(re.finditer(r"\w+", text))
        if not words:
            raise NoPlace
        word = self.rng.choice(words)
        new = self.rng.choice(["", f"{word[0]} {word[0]}", self.rng.choice(self.words["any"])])
        return text[: word.start()] + new + text[word.end() :]

    def word(self) -> None:
        place = self.some(self.texts(lambda text: re.search(r"\w", text) is not None))
        self.put(place, self.other_word(place[2]))

    def hidden(self) -> None:
        one = self.some([x for x in self.blocks() if x.get("hidden") is None and "on-paper" not in (x.get("class") or "")])
        for key, value in self.rng.choice(HIDING).items():
            one.set(key, f"{one.get('class', '')} {value}".strip() if key == "class" else value)

    def link(self) -> None:
        links = [one for one in self.elements if one.tag == "a" and one.get("href") and plain(one)]
        one = self.some(links)
        targets = {x.get("href") for x in links} | {f"{one.get('href')}x", "index.html"}
        one.set("href", self.some(sorted(targets - {one.get("href")})))

    def mark(self) -> None:
        one = self.some([x for x in self.elements if (x.get("class") or "").startswith("mark ")])
        state = one.get("class").removeprefix("mark mark--")
        one.set("class", f"mark mark--{self.some([x for x in STATES if x != state])}")

    def added(self) -> None:
        one = self.some(self.blocks())
        new = html.fromstring(f"<p>{self.rng.choice(self.words['sentence'])}</p>")
        one.addnext(new)

    def added_inside(self) -> None:
        one = self.some(self.blocks())
        one.text = f"{one.text or ''} {self.rng.choice(self.words['sentence'])}"

    def source(self) -> bytes:
        return html.tostring(self.tree, encoding="utf-8", doctype="<!doctype html>")


KINDS: dict[str, Callable[[Page], None]] = {
    "severity word": Page.severity_word, "action": Page.action, "digit": Page.digit, "locator": Page.locator,
    "missing row": Page.missing, "swapped": Page.swapped, "duplicated": Page.duplicated, "contact, edition": Page.foot,
    "caution": Page.caution, "word": Page.word, "hidden": Page.hidden, "link target": Page.link, "mark": Page.mark,
    "text added": Page.added, "text added inside": Page.added_inside,
}  # fmt: skip


def change_page(source: bytes, kind: str, words: dict[str, list[str]], rng: random.Random) -> bytes:
    """A page with one change.

    Raises:
        NoPlace: the page has no place for it.
    """
    page = Page(source, words, rng)
    KINDS[kind](page)
    return page.source()
