"""What an entry has to say in an output, taken from the catalogue and from nothing else."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from ..catalogue import Catalogue, Entry, LimitRecord, Ruling
from ..catalogue.locator import locator_in
from ..catalogue.remembered import remembered
from ..catalogue.wording import in_language
from .reading import Vocabulary
from .texts import all_texts

VALUE_WORDS = ("basis-", "fit-", "vehicle-", "by-", "compare-", "not-confirmed", "letter-not-confirmed", "fitted-",
               "lookup-unsettled", "lookup-always")
"""Fixed words that state a fact about an entry: allowed only where the catalogue has the fact."""


@dataclass(frozen=True)
class Reader:
    """A catalogue in one language: its texts, and the words that may stand anywhere."""

    catalogue: Catalogue
    language: str
    _kept: dict[tuple[str, ...], Any] = field(default_factory=dict, init=False, repr=False, compare=False)

    def once(self, key: tuple[str, ...], work: Callable[[], Any]) -> Any:
        """What every page of a book asks for, worked out when the first page asks.

        Args:
            key: what it is, and of which rulebook.
            work: gives it.
        """
        if key not in self._kept:
            self._kept[key] = work()
        return self._kept[key]

    def word(self, key: str) -> str:
        """A fixed word."""
        return in_language(self.catalogue.words[key], self.language)

    @cached_property
    def every_text(self) -> Vocabulary:
        """Everything that an output may say."""
        return Vocabulary(all_texts(self.catalogue, self.language))

    @cached_property
    def every_text_told(self) -> Vocabulary:
        """The same with what former editions said, for where changes are told."""
        if not self.catalogue.former:
            return self.every_text
        return Vocabulary(all_texts(self.catalogue, self.language, former=True))

    @cached_property
    def neutral_words(self) -> Vocabulary:
        """Fixed words that state no fact of an entry: labels, headings, cautions and the like."""
        return Vocabulary(in_language(text, self.language) for key, text in self.catalogue.words.items()
                          if not key.startswith(VALUE_WORDS))  # fmt: skip

    def heading(self, entry: Entry) -> str:
        """Component and condition, as every output leads with."""
        return f"{in_language(entry.component.name, self.language)}: {in_language(entry.condition, self.language)}"

    def outcome(self, ruling: Ruling) -> Iterator[str]:
        """The answer, the severity's name and when it applies."""
        yield in_language(ruling.severity.outcome, self.language)
        yield in_language(ruling.severity.name, self.language)
        if ruling.applies_when:
            yield in_language(ruling.applies_when, self.language)

    def otherwise(self, rulings: Sequence[Ruling]) -> str | None:
        """What is said of all other circumstances where a rulebook has one ruling, and that for some only."""
        when = in_language(rulings[0].applies_when, self.language) if rulings[0].applies_when else ""
        said_of_some = len(rulings) == 1 and when not in ("", self.word("lookup-always"))
        return self.word("lookup-unsettled") if said_of_some else None

    def actions(self, ruling: Ruling) -> Iterator[str]:
        """The text of each action, and that it is not confirmed where it is not."""
        for action in ruling.actions:
            yield in_language(action.text, self.language)
            if action.basis == "from-memory":
                yield self.word("not-confirmed")

    def source(self, ruling: Ruling) -> Iterator[str]:
        """Title, locator, standing and fit of a ruling, with its remarks and the law's own wording."""
        item = ruling.item
        yield in_language(ruling.source.title, self.language)
        yield from (locator_in(self.catalogue, one.locator, self.language) for one in (item, *ruling.also))
        yield self.word(f"basis-{item.basis}")
        yield self.word(f"fit-{ruling.fit}")
        for text in (item.remark, ruling.remark, ruling.law_text):
            if text:
                yield in_language(text, self.language)

    def vehicles(self, entry: Entry) -> Iterator[str]:
        """The names of the vehicles."""
        for vehicle in entry.vehicles:
            yield self.word(f"vehicle-{vehicle}")

    def figures(self, limit: LimitRecord) -> Iterator[str]:
        """Each figure of a limit as printed, where it holds, and how it compares."""
        yield in_language(limit.quantity, self.language)
        for row in limit.rows:
            yield in_language(row.label, self.language)
            yield in_language(row.printed, self.language)
            if limit.compare != "between":
                yield self.word(f"compare-{limit.compare}")
            if row.basis == "from-memory":
                yield self.word("not-confirmed")


@remembered
def reader_of(catalogue: Catalogue, language: str) -> Reader:
    """The reader of a language, one for all outputs of a catalogue: what is worked out for one serves the next."""
    return Reader(catalogue, language)
