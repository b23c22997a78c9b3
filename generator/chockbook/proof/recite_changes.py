"""Recitals of what changed since each kept edition, and of the editions that a card may be of."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from ..catalogue.wording import in_language
from ..editions import KINDS, OF_PARTS, READERS, Change, Difference, carries, differences
from .recital import Recital

MOST_OF_A_CARD = 200
"""Changes of one kind that the page of cards names; the others are counted."""
NAMED_BY = {"basis": "basis", "fit": "fit", "may_drive": "change-drive", "vehicles": "vehicle", "fitted": "fitted", "by": "by",
            "compare": "compare", "act": "act"}  # fmt: skip
"""Fields whose values have names of their own, and the beginning of those names among the fixed words."""


def recite_changes(page: Recital) -> None:
    """Every change since each kept edition, kind by kind, and what each kind of reader has to do with it."""
    page.link(page.reader.word("web-card"), "card.html")
    since = differences(page.catalogue)
    for difference in since:
        old, new = difference.old, difference.new
        changes = difference.under(page.rulebook.id, page.language)
        page.word("changed-since", old=old["code"])
        page.word("changes-from-to", old=old["code"], old_date=old["date"], new=new["code"], new_date=new["date"])
        if difference.unknown:
            page.say(page.reader.word("changes-unknown"), ", ".join(_not_compared(page, difference.unknown)))
        if not changes:
            page.word("changes-nothing")
            continue
        for reader, kinds in READERS.items():
            counts = [(kind, sum(one.kind == kind for one in changes)) for kind in kinds]
            counts = [(kind, number) for kind, number in counts if number]
            page.say(page.reader.word(f"reader-{reader}"), page.reader.word(f"reader-{reader}-says" if counts else "reader-nothing"))
            for kind, number in counts:
                page.say(page.reader.word(f"change-{kind}"), ":", str(number))
        _by_kind(page, changes, len(changes))
    if not since:
        page.word("changes-none-kept")


def _not_compared(page: Recital, parts: Iterable[str]) -> Iterator[str]:
    """Whole parts by their names; details of steps, however many, in one."""
    whole = {"stations": "station", "cautions": "caution", "jurisdictions": "province", "words": "word", "components": "component"}
    yield from (page.reader.word(f"change-about-{whole[part]}") for part in parts if part in whole)
    if any(part.startswith("steps: ") for part in parts):
        yield page.reader.word("changes-unknown-steps")


def recite_card(page: Recital) -> None:
    """The form for an edition's code, then every edition that is known, and what became of its cards."""
    for key in ("no-script", "lead", "label", "button"):
        page.word(f"card-{key}")
    edition = page.catalogue.edition
    check_by = edition.check_by.isoformat()
    page.word("card-knows", code=edition.code, date=edition.date.isoformat(), check_by=check_by)
    page.word("card-not-checked")
    page.word("card-known")
    known: list[tuple[dict[str, str], list[Change], Difference | None]] = [
        ({"code": edition.code, "date": edition.date.isoformat()}, [], None)
    ]
    for difference in differences(page.catalogue):
        seen = difference.under(page.rulebook.id, page.language)
        known.append((difference.old, [one for one in seen if carries("deck", one, page.rulebook.id)], difference))
    for at, (old, changes, since) in enumerate(known):
        page.say(page.reader.word("edition"), old["code"], ":")
        page.word("card-list-stale" if changes else "card-list-same" if at else "card-list-current")
        page.say(page.reader.word("issued"), old["date"], "·", page.reader.word("check-by"))
        page.say(min(check_by, old.get("check_by") or check_by))
        if since and changes:
            _where_to_look(page, changes, since)
        _by_kind(page, changes, MOST_OF_A_CARD)
    page.link(page.reader.word("web-changes"), "changes.html")


def _where_to_look(page: Recital, changes: Iterable[Change], since: Difference) -> None:
    """The components whose cards changed, as the newer edition orders them, then what changed on cards of any of them."""
    on_parts = [one for one in changes if one.about in OF_PARTS]
    changed = {component for one in on_parts for rulebook, component in one.cards if rulebook == page.rulebook.id}
    if changed:
        page.word("card-parts")
        page.say(*(page.text(since.components[one]) for one in since.components if one in changed))
    elsewhere = [one for one in changes if one not in on_parts]
    if elsewhere:
        page.word("card-widely")
        said = ((page.reader.word(f"change-about-{one.about}"), name_of(page, one)) for one in elsewhere)
        for about, name in dict.fromkeys(said):
            page.say(about, ":", name)


def _by_kind(page: Recital, changes: Iterable[Change], most: int) -> None:
    for kind in KINDS:
        here = [one for one in changes if one.kind == kind]
        if not here:
            continue
        page.say(page.reader.word(f"change-{kind}"), str(len(here)))
        for one in here[:most]:
            _change(page, one)
        if len(here) > most:
            page.word("changes-more", number=len(here) - most)


def _change(page: Recital, change: Change) -> None:
    name = name_of(page, change)
    page.say(page.reader.word(f"change-about-{change.about}"), ":")
    entry = page.catalogue.entry.get(change.id) if change.about == "entry" else None
    if entry and entry.rulings_under(page.rulebook.id):
        page.link(name, f"components/{entry.component.id}.html#{entry.slug}")
    else:
        page.say(name)
    if change.field != "whole":
        page.say(page.reader.word("changes-was"), said_of(page, change, change.before))
        page.say(page.reader.word("changes-is"), said_of(page, change, change.after))
    if change.about != "entry" and len(change.entries) > 1:
        page.word("changes-entries", number=len(change.entries))


def name_of(page: Recital, change: Change) -> str:
    """What a reader knows the changed thing by: its name; of a language, which has no other, that name."""
    if change.about == "language":
        return said_of(page, change, change.after or change.before)
    return page.text(change.name) or change.id


def _nothing(page: Recital, change: Change) -> str:
    """What an empty field means for what it is a field of."""
    match change.field:
        case "card" | "row":
            return page.reader.word("change-no-card" if change.field == "card" else "change-no-figure")
        case "applies_when":
            return page.reader.word("change-always")
        case "fitted" | "vehicles":
            return page.reader.word("change-any-unit")
    return page.reader.word("change-nothing")


def said_of(page: Recital, change: Change, value: Any) -> str:
    """A value as a reader sees it: in words of the language, a choice by its name, several one after the other."""
    if isinstance(value, bool):
        return f"{page.reader.word('walk-must')}: {page.reader.word('lookup-yes' if value else 'lookup-no')}"
    if isinstance(value, dict):
        texts = {code: text for code, text in value.items() if text is not None}
        missing = not texts or value.get(page.language, "") is None
        return _nothing(page, change) if missing else said_of(page, change, in_language(texts, page.language))
    if isinstance(value, list):
        pieces = [said_of(page, change, one) for one in value]
        if not pieces:
            return _nothing(page, change)
        if change.field in ("card", "fitted"):
            pieces[0] = f"{page.reader.word('change-on-cards' if change.field == 'card' else 'change-units-with')}: {pieces[0]}"
        return "".join(f"{one} " if one.endswith(".") else f"{one}; " for one in pieces[:-1]) + pieces[-1]
    if value is None:
        return _nothing(page, change)
    if change.field in ("locator", "item"):
        return page.locator(str(value))
    if change.about == "language":
        return {one.code: one.name for one in page.catalogue.languages}.get(value, str(value))
    key = f"{NAMED_BY.get(change.field, '')}-{value}"
    return page.reader.word(key) if key in page.catalogue.words else str(value)
