"""What a page says from first word to last, put together again from the catalogue alone.

Where a page has a recital, nothing on it can change without an objection: its text is compared as a whole, and so is
every link. A recital knows the order of a page and nothing of how it is marked up.
"""

from __future__ import annotations

import posixpath
from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Any

from ..catalogue import ActionRecord, Catalogue, Entry, LimitRow, RulebookRecord, Ruling, SeverityRecord
from ..catalogue.locator import locator_in
from ..catalogue.wording import in_language
from .facts import Reader
from .objection import Objection
from .reading import squash

AROUND = 40
"""Characters shown on each side of a place where a page departs from its recital."""
MARK = "\u25c6"
"""Stands in a recital for the mark beside an answer: its shape tells what a driver may do."""

PLACE = "\u25c7"
"""Stands in a recital for a place that a script fills: no two of them can change places with each other or a text."""
FILLED_BY_SCRIPT = ("practice-", "measure-", "set-", "walk-")
"""How the ids of such places begin."""


class Recital:
    """The words and links of one page, in order."""

    def __init__(self, reader: Reader, rulebook_id: str, page: str) -> None:
        self.reader, self.page = reader, page
        self.catalogue: Catalogue = reader.catalogue
        self.language = reader.language
        self.rulebook: RulebookRecord = reader.catalogue.rulebook[rulebook_id]
        self.told: list[str] = []
        self.links: list[tuple[str, str]] = []
        self.open_at: tuple[int, int] | None = None
        """How many texts and links were told before a stretch that is proved elsewhere."""

    def say(self, *texts: str) -> None:
        """Texts that come next."""
        self.told += texts

    def gap(self) -> None:
        """From here to the foot something else proves the page."""
        self.open_at = len(self.told), len(self.links)

    def word(self, key: str, **values: object) -> None:
        """A fixed word, with what stands in its places."""
        self.say(self.filled(key, **values))

    def place(self, *ids: str) -> None:
        """Places that a script fills, by their ids."""
        self.say(*(PLACE + one for one in ids))

    def filled(self, key: str, **values: object) -> str:
        """A fixed word with its places filled."""
        text = self.reader.word(key)
        for name, value in values.items():
            text = text.replace("{" + name + "}", str(value))
        return text

    def text(self, text: Mapping[str, str] | None) -> str:
        """A text of the tables in the recital's language; nothing where there is none."""
        return in_language(text, self.language) if text else ""

    def link(self, text: str, target: str) -> None:
        """A link: its words, and the page of the book that it leads to, with the anchor."""
        self.say(text)
        self.links.append((target, squash(text)))

    def locator(self, locator: str) -> str:
        """A place in a source, in the recital's language."""
        return locator_in(self.catalogue, locator, self.language)

    def source(self, source_id: str) -> None:
        """A link to a source."""
        self.link(self.text(self.catalogue.source[source_id].title), f"sources.html#{source_id}")

    def entry(self, entry: Entry, ruling: Ruling | None = None) -> None:
        """A link to an entry with its component, and what its ruling adds to it."""
        self.link(self.reader.heading(entry), f"components/{entry.component.id}.html#{entry.slug}")
        if ruling:
            self.say(self.text(ruling.applies_when))
            self.unsure(ruling.item.basis)

    def unsure(self, basis: str | None, key: str = "not-confirmed") -> None:
        """That something is not confirmed, where it stands from memory."""
        if basis == "from-memory":
            self.word(key)

    def names(self, prefix: str, keys: Iterable[str]) -> str:
        """Fixed words such as those of vehicles, with commas between."""
        return ", ".join(self.reader.word(f"{prefix}-{key}") for key in keys)

    def mark(self, severity: SeverityRecord) -> None:
        """The mark beside an answer."""
        self.say(MARK + severity.may_drive)

    def figure(self, compare: str, row: LimitRow) -> None:
        """A figure as it is printed, with how it compares."""
        if compare != "between":
            self.word(f"compare-{compare}")
        self.say(self.text(row.printed))

    def stated(self, record: Any) -> None:
        """Where a fact stands: source, place, standing, remark."""
        self.word("source")
        self.source(record.source)
        self.say(",", self.locator(record.locator), ".", self.reader.word(f"basis-{record.basis}"), ".")
        self.remark(record.remark)

    def remark(self, *texts: Mapping[str, str] | None) -> None:
        """A remark under its label, where there is one."""
        if any(texts):
            self.word("web-remark")
            self.say(*(self.text(text) for text in texts))

    def outcome(self, severity: SeverityRecord, when: Mapping[str, str] | None = None, basis: str | None = None,
                otherwise: str | None = None) -> None:  # fmt: skip
        """The answer, the severity, when it applies and what holds otherwise."""
        self.mark(severity)
        self.say(self.text(severity.outcome), self.reader.word("web-severity"), self.text(severity.name))
        if when:
            self.say(self.reader.word("applies"), self.text(when))
        if otherwise:
            self.say(self.reader.word("lookup-otherwise"), otherwise)
        self.unsure(basis)

    def action(self, action: ActionRecord, to: str | None = None) -> None:
        """An action and who does it; a link to its page stands on the text or on the mark of what is not confirmed."""
        if to:
            self.link(self.text(action.text), to)
        else:
            self.say(self.text(action.text))
        self.word(f"by-{action.by}")

    def spoken_of(self) -> list[Entry]:
        """Entries that the rulebook speaks of, by system and component, worst first."""
        return self.once("spoken of", self._spoken_of)

    def once(self, what: str, work: Callable[[], Any]) -> Any:
        """What is the same on every page of the book, worked out for the first of them."""
        return self.reader.once((what, self.rulebook.id), work)

    def _spoken_of(self) -> list[Entry]:
        systems = {one.id: place for place, one in enumerate(self.catalogue.systems)}
        components = {one.id: place for place, one in enumerate(self.catalogue.components)}
        ranks = {severity.id: -place for place, severity in enumerate(self.rulebook.severities)}
        found = [entry for entry in self.catalogue.entries if entry.rulings_under(self.rulebook.id)]
        return sorted(found, key=lambda e: (systems[e.system.id], components[e.component.id],
                                            ranks[e.rulings_under(self.rulebook.id)[0].item.severity]))  # fmt: skip

    def objections(self, article: Any, output: str) -> Iterator[Objection]:
        """Where a page departs from this recital."""
        found = squash(said(article))
        before, after = self.open_at or (len(self.told), len(self.links))
        top, foot = squash("".join(self.told[:before])), squash("".join(self.told[before:]))
        if self.open_at:
            at = max(len(found) - len(foot), len(top))
            yield from unlike(found[: len(top)], top, output)
            yield from unlike(found[at:], foot, output)
        else:
            yield from unlike(found, top, output)
        links = [(led_to(self.page, link.get("href")), squash(said(link))) for link in article.iter("a")]
        if self.open_at:
            links = links[:after] + links[max(len(links) - len(self.links) + after, after) :]
        yield from self._links(links, output)

    def _links(self, found: list[tuple[str, str]], output: str) -> Iterator[Objection]:
        if found != self.links:
            at = next((n for n, pair in enumerate(zip(found, self.links, strict=False)) if pair[0] != pair[1]), None)
            if at is None:
                yield Objection(output, "links", f"are {len(found)}, and belong here {len(self.links)}")
            else:
                yield Objection(output, "link", f"{found[at][1]!r} leads to {found[at][0]}, not {self.links[at]}")


def unlike(found: str, wanted: str, output: str) -> Iterator[Objection]:
    """Where a text departs from what it is to be."""
    if wanted != found:
        at = next((n for n, pair in enumerate(zip(wanted, found, strict=False)) if pair[0] != pair[1]),
                  min(len(wanted), len(found)))  # fmt: skip
        begin = max(at - AROUND, 0)
        yield Objection(output, "text", f"says …{found[begin : at + AROUND]}… and not …{wanted[begin : at + AROUND]}…")


def said(element: Any, marks: bool = True) -> str:
    """The text of an element without scripts, styles and comments; with the marks beside answers and the
    places that a script fills, if wanted."""
    parts = []
    for one in element.iter():
        if isinstance(one.tag, str) and one.tag not in ("script", "style"):
            parts.append(one.text or "")
            kind = one.get("class") or ""
            if marks and kind.startswith("mark "):
                parts.append(kind.replace("mark mark--", MARK, 1))
            if marks and one.tag in ("p", "div", "ol", "h2") and not len(one) and not (one.text or "").strip():
                parts.append(PLACE + one.get("id", "") if one.get("id", "").startswith(FILLED_BY_SCRIPT) else "")
        if one is not element:
            parts.append(one.tail or "")
    return "".join(parts)


def led_to(page: str, address: str | None) -> str:
    """Where a link of a page leads: an address of the book, or as it stands where it leads elsewhere."""
    if address is None:
        return "nowhere"
    if ":" in address.split("/")[0]:
        return address
    path, sign, anchor = address.partition("#")
    whole = posixpath.normpath(posixpath.join(posixpath.dirname(page), path)) if path else page
    return whole + sign + anchor
