"""What changed between editions, in one language: for the terminal, the site, the bulletin and the changelog."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

from ..catalogue import Catalogue
from ..catalogue.locator import locator_in
from ..editions import KINDS, OF_PARTS, READERS, Change, Difference, carries, differences, parts_of
from .wording import fixed_word, in_language, joined

LONGEST = 160
"""Letters of a text in a line of the terminal or the changelog."""


@dataclass(frozen=True, slots=True)
class ChangeView:
    """One change as a reader sees it."""

    key: str
    """Kind, what it is about, id and field, by which the proof knows it."""
    id: str
    """Empty for a language, which is known by its name."""
    about: str
    about_name: str
    name: str
    before: str
    after: str
    n_entries: int
    """Entries that rest on it; 0 where it is about one entry, or none."""
    page: str | None
    """Page of the entry in the present edition, with its anchor; none where the rulebook does not speak of it."""


@dataclass(frozen=True, slots=True)
class KindView:
    """The changes of one kind."""

    kind: str
    name: str
    changes: tuple[ChangeView, ...]


@dataclass(frozen=True, slots=True)
class ReaderView:
    """What a kind of reader acts on."""

    reader: str
    name: str
    says: str
    counts: tuple[tuple[str, int], ...]
    """Names of the kinds, with the number of changes."""


@dataclass(frozen=True, slots=True)
class DifferenceView:
    """Everything that changed for a reader of one rulebook in one language."""

    old: str
    old_date: str
    new: str
    new_date: str
    number: int
    kinds: tuple[KindView, ...]
    readers: tuple[ReaderView, ...]
    unknown: tuple[str, ...]


def view_difference(catalogue: Catalogue, difference: Difference, rulebook_id: str | None, language: str) -> DifferenceView:
    """A difference in one language; under one rulebook, or under all where none is named."""
    changes = difference.changes if rulebook_id is None else difference.under(rulebook_id, language)
    kinds = tuple(
        KindView(kind, fixed_word(catalogue, f"change-{kind}", language),
                 tuple(view_change(catalogue, one, language, rulebook_id) for one in changes if one.kind == kind))
        for kind in KINDS if any(one.kind == kind for one in changes)
    )  # fmt: skip
    counts = {kind.kind: (kind.name, len(kind.changes)) for kind in kinds}
    readers = tuple(
        ReaderView(reader, fixed_word(catalogue, f"reader-{reader}", language),
                   fixed_word(catalogue, f"reader-{reader}-says", language),
                   tuple(counts[kind] for kind in acted_on if kind in counts))
        for reader, acted_on in READERS.items()
    )  # fmt: skip
    old, new = difference.old, difference.new
    return DifferenceView(old["code"], old["date"], new["code"], new["date"], len(changes), kinds, readers,
                          tuple(not_compared(catalogue, difference, language)))  # fmt: skip


NOT_COMPARED = {"stations": "station", "cautions": "caution", "jurisdictions": "province", "words": "word",
                "components": "component"}  # fmt: skip
"""What parts of a catalogue.json hold, as changes call it."""


def not_compared(catalogue: Catalogue, difference: Difference, language: str) -> Iterator[str]:
    """What was not compared, as a reader calls it."""
    for part in difference.unknown:
        if part in NOT_COMPARED:
            yield fixed_word(catalogue, f"change-about-{NOT_COMPARED[part]}", language)
    if any(part not in NOT_COMPARED for part in difference.unknown):
        yield fixed_word(catalogue, "changes-unknown-steps", language)


def view_change(catalogue: Catalogue, change: Change, language: str, rulebook_id: str | None = None) -> ChangeView:
    """One change in one language, for readers of one rulebook where one is named."""
    entry = catalogue.entry.get(change.id) if change.about == "entry" else None
    whole = change.field == "whole"
    has_page = entry is not None and (rulebook_id is None or entry.rulings_under(rulebook_id))
    return ChangeView(
        key=f"{change.kind} {change.about} {change.id} {change.field}",
        id="" if change.about in ("language", "word") else change.id,  # keys of words are for those who write them
        about=change.about,
        about_name=fixed_word(catalogue, f"change-about-{change.about}", language),
        name=_said(catalogue, change, change.after or change.before, language) if change.about == "language"
        else in_language(change.name, language) if change.name else change.id,
        before="" if whole else _said(catalogue, change, change.before, language),
        after="" if whole else _said(catalogue, change, change.after, language),
        n_entries=0 if change.about == "entry" else len(change.entries),
        page=f"components/{entry.component.id}.md#{entry.slug}" if entry and has_page else None,
    )


NOTHING = {"card": "change-no-card", "row": "change-no-figure", "applies_when": "change-always", "fitted": "change-any-unit",
           "vehicles": "change-any-unit"}  # fmt: skip
"""What it means that a field is empty, by the fixed word that says so; other fields have nothing there."""
LED_BY = {"card": "change-on-cards", "fitted": "change-units-with"}
"""Fields whose values say little alone, and the fixed words before them."""


def _said(catalogue: Catalogue, change: Change, value: Any, language: str) -> str:
    """A value in words: a text in the language, a choice by its name, several values in a row."""
    nothing = fixed_word(catalogue, NOTHING.get(change.field, "change-nothing"), language)
    if value is None:
        return nothing
    if isinstance(value, bool):
        # The only mark of this kind is that of a step which is not to be missed.
        return joined(catalogue, fixed_word(catalogue, "walk-must", language),
                      fixed_word(catalogue, "lookup-yes" if value else "lookup-no", language), language)  # fmt: skip
    if isinstance(value, dict):
        texts = {code: text for code, text in value.items() if text is not None}
        if language in value and language not in texts:
            return nothing
        return _said(catalogue, change, in_language(texts, language), language) if texts else nothing
    if isinstance(value, list):
        # Sentences follow each other; anything else has a semicolon between.
        listed = "; ".join(_said(catalogue, change, one, language) for one in value).replace(".; ", ". ")
        if listed and change.field in LED_BY:
            return joined(catalogue, fixed_word(catalogue, LED_BY[change.field], language), listed, language)
        return listed or nothing
    if change.field in ("locator", "item") and isinstance(value, str):
        return locator_in(catalogue, value, language)
    if change.about == "language":
        return next((one.name for one in catalogue.languages if one.code == value), str(value))
    prefix = {"basis": "basis", "fit": "fit", "may_drive": "change-drive", "vehicles": "vehicle", "fitted": "fitted",
              "by": "by", "compare": "compare", "act": "act"}  # fmt: skip
    key = f"{prefix.get(change.field, '')}-{value}"
    return fixed_word(catalogue, key, language) if key in catalogue.words else str(value)


CARD_ANSWERS = ("current", "current-past", "same", "same-past", "stale", "look", "all", "unknown", "short", "kept")
"""What the page of cards can answer of a code, as its fixed words call it; its script picks one by the reader's clock."""


@dataclass(frozen=True, slots=True)
class CardEdition:
    """An edition that a card may be of, and what became of such a card."""

    code: str
    date: str
    check_by: str
    """The day until which what such a card says holds unasked: its own, or that of the edition in force where that is earlier."""
    state: str
    """current, stale or same."""
    kinds: tuple[KindView, ...] = ()
    """What changed on the cards of the rulebook, in the language."""
    parts: tuple[str, ...] = ()
    """Components whose cards changed: a deck without them may be as it was."""
    widely: tuple[str, ...] = ()
    """What changed on every card that says it, such as a severity."""


def view_card_editions(catalogue: Catalogue, rulebook_id: str, language: str) -> tuple[CardEdition, ...]:
    """Every edition that is known here: the one in force, then the former ones, the latest first."""
    check_by = catalogue.edition.check_by.isoformat()
    found = [CardEdition(catalogue.edition.code, catalogue.edition.date.isoformat(), check_by, "current")]
    for difference in differences(catalogue):
        carried = tuple(one for one in difference.under(rulebook_id, language) if carries("deck", one, rulebook_id))
        kinds = view_difference(catalogue, replace(difference, changes=carried), rulebook_id, language).kinds
        changed = {part for one in carried if one.about in OF_PARTS for part in parts_of(one, rulebook_id)}
        parts = tuple(in_language(name, language) for part, name in difference.components.items() if part in changed)
        wide = (view_change(catalogue, one, language) for one in carried if one.about not in OF_PARTS)
        widely = tuple(dict.fromkeys(joined(catalogue, one.about_name, one.name, language) for one in wide))
        own = min(difference.old.get("check_by") or check_by, check_by)
        state = "stale" if carried else "same"
        found.append(CardEdition(difference.old["code"], difference.old["date"], own, state, kinds, parts, widely))
    return tuple(found)


def view_differences(catalogue: Catalogue, rulebook_id: str, language: str) -> tuple[DifferenceView, ...]:
    """What changed since each former edition under one rulebook, for readers of one language."""
    return tuple(view_difference(catalogue, one, rulebook_id, language) for one in differences(catalogue))


def changed_entries(catalogue: Catalogue, rulebook_id: str, language: str) -> dict[str, tuple[str, ...]]:
    """Ids of the entries that changed since the last kept edition, each with the kinds of change in words.

    An entry changed where its own record did, under the rulebook and in the language, or where a record that it
    rests on was reworded or means something else.
    """
    found: dict[str, dict[str, None]] = {}
    for difference in differences(catalogue)[:1]:
        for change in difference.under(rulebook_id, language):
            if change.kind == "renamed" or change.about in ("language", "word"):
                continue
            for entry in change.entries:
                found.setdefault(entry, {})[fixed_word(catalogue, f"change-{change.kind}", language)] = None
    return {entry: tuple(kinds) for entry, kinds in found.items() if entry in catalogue.entry}


def difference_lines(catalogue: Catalogue, view: DifferenceView, language: str, own: Sequence[str] = ()) -> Iterator[str]:
    """A difference as lines of plain text, kind by kind.

    Args:
        catalogue: whose words are used.
        view: the difference.
        language: code.
        own: a line for each change in carriers' own files, which are a carrier's business too.
    """

    def word(key: str) -> str:
        return fixed_word(catalogue, key, language)

    yield heading(catalogue, view, language)
    yield word("changes-count").replace("{number}", str(view.number + len(own)))
    if view.unknown:
        yield f"{word('changes-unknown')} {', '.join(view.unknown)}"
    for kind in view.kinds:
        yield ""
        yield joined(catalogue, kind.name, len(kind.changes), language)
        for change in kind.changes:
            yield f"  {change_line(change)}"
    if own:
        yield ""
        yield joined(catalogue, word("own-changes"), len(own), language)
        yield from (f"  {line}" for line in own)
    for reader in view.readers:
        more = [(word("own-changes"), len(own))] if own and reader.reader == "carrier" else []
        counts = [*reader.counts, *more]
        yield ""
        yield joined(catalogue, reader.name, reader.says if counts else word("reader-nothing"), language)
        yield from (f"  {joined(catalogue, name, number, language)}" for name, number in counts)


def heading(catalogue: Catalogue, view: DifferenceView, language: str) -> str:
    """From which edition to which; of one and the same edition that it is in force."""
    text = fixed_word(catalogue, "changes-from-to" if view.old != view.new else "changes-same-edition", language)
    for place, value in (("old", view.old), ("old_date", view.old_date), ("new", view.new), ("new_date", view.new_date)):
        text = text.replace("{" + place + "}", value)
    return text


def change_line(change: ChangeView) -> str:
    """A change on one line: what it is about, its id, from what to what."""
    turn = f": {cut(change.before)} → {cut(change.after)}" if change.before or change.after else ""
    return f"{change.about_name} {change.id}{f' ({cut(change.name)})' if change.name != change.id else ''}{turn}"


def cut(text: str) -> str:
    """A text that is not longer than a line."""
    line = " ".join(text.split())
    return line if len(line) <= LONGEST else line[: LONGEST - 1] + "…"


def only(changes: Iterable[Change], reader: str) -> tuple[Change, ...]:
    """The changes that a kind of reader acts on, what matters most first."""
    order = {kind: place for place, kind in enumerate(READERS[reader])}
    return tuple(sorted((one for one in changes if one.kind in order), key=lambda one: order[one.kind]))
