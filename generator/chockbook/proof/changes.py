"""The pages that tell what changed: every change since each kept edition, and every edition that a card may be of."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from typing import Any

from ..catalogue import Catalogue
from ..catalogue.wording import in_language
from ..editions import Change, carries, differences
from .objection import Objection
from .reading import squash

TOLD_OF_CHANGES = ("changes.html", "card.html")
"""Pages on which words of former editions may stand."""


def prove_changes(catalogue: Catalogue, trees: dict[str, Any], rulebook_id: str, language: str,
                  name: str) -> Iterator[Objection]:  # fmt: skip
    """Objections to the pages that tell what changed, and to the marks beside changed entries."""
    for page in TOLD_OF_CHANGES:
        if page not in trees:
            yield Objection(f"{name}/{page}", "page", "is missing")
            return
    since = differences(catalogue)
    told = {block.get("data-since"): block for block in trees["changes.html"].iterfind(".//*[@data-since]")}
    cards = {block.get("data-edition"): block for block in trees["card.html"].iterfind(".//*[@data-edition]")}
    for page, found in (("changes.html", told), ("card.html", cards)):
        for code in found.keys() - {one.old["code"] for one in since} - {catalogue.edition.code}:
            yield Objection(f"{name}/{page}", str(code), "is no edition that is kept")
    yield from _answers(catalogue, trees["card.html"], language, f"{name}/card.html")
    now = catalogue.edition.check_by.isoformat()
    states = {catalogue.edition.code: ("current", now)}
    for difference in since:
        code = difference.old["code"]
        changes = difference.under(rulebook_id, language)
        carried = [change for change in changes if carries("deck", change, rulebook_id)]
        states[code] = "stale" if carried else "same", min(difference.old.get("check_by") or now, now)
        for page, found, wanted in (("changes.html", told, list(changes)), ("card.html", cards, carried)):
            if code not in found:
                yield Objection(f"{name}/{page}", code, "is not told of")
            elif page == "changes.html" or len(wanted) <= 200:
                yield from _listed(found[code], wanted, language, f"{name}/{page}")
    for code, (state, check_by) in states.items():
        block = cards.get(code)
        said = in_language(catalogue.words[f"card-list-{state}"], language)
        if block is None or block.get("data-state") != state or squash(said) not in squash(" ".join(block.itertext())):
            yield Objection(f"{name}/card.html", code, f"is not said to be {state}")
        elif block.get("data-check-by") != check_by:
            yield Objection(f"{name}/card.html", code, f"is not to be checked by {check_by}")
    yield from _marks(catalogue, trees, rulebook_id, language, name)


def _answers(catalogue: Catalogue, tree: Any, language: str, output: str) -> Iterator[Objection]:
    """What the page answers of a code, by what it knows of it, by the reader's clock, and by where the page came from."""
    form = tree.find(".//form[@id='card-check']")
    for about in ("current", "current-past", "same", "same-past", "stale", "look", "all", "unknown", "short", "kept"):
        said = catalogue.words[f"card-{about}"]
        if form is None or squash(form.get(f"data-{about}", "")) != squash(in_language(said, language)):
            yield Objection(output, about, f"is not said as: {in_language(said, language)}")


def _listed(block: Any, wanted: list[Change], language: str, output: str) -> Iterator[Objection]:
    """Each change stands once, with what was and what is."""
    keys = Counter(f"{one.kind} {one.about} {one.id} {one.field}" for one in wanted)
    lines = list(block.iterfind(".//*[@data-change]"))
    found = Counter(line.get("data-change") for line in lines)
    for key in (keys - found).elements():
        yield Objection(output, key, "is missing from the changes")
    for key in (found - keys).elements():
        yield Objection(output, str(key), "did not change")
    texts: dict[str, str] = {}
    for line in lines:
        key = line.get("data-change")
        texts[key] = texts.get(key, "") + squash(" ".join(line.itertext()))
    for one in wanted:
        text = texts.get(f"{one.kind} {one.about} {one.id} {one.field}", "")
        for value in (one.before, one.after) if one.field != "whole" else ():
            said = value.get(language) if isinstance(value, dict) else None
            if isinstance(said, str) and squash(said) not in text:
                yield Objection(output, one.id, f"does not say: {said}")


def _marks(catalogue: Catalogue, trees: dict[str, Any], rulebook_id: str, language: str, name: str) -> Iterator[Objection]:
    """The mark stands beside the entries that changed since the last kept edition, and beside no other."""
    latest = differences(catalogue)[:1]
    wanted = {entry for one in latest for change in one.under(rulebook_id, language)
              if change.kind != "renamed" and change.about not in ("language", "word") for entry in change.entries}  # fmt: skip
    for page, tree in trees.items():
        if page.startswith("components/"):
            for block in tree.iterfind(".//*[@data-entry]"):
                marked = block.find(".//*[@class='changed']") is not None
                if marked != (block.get("data-entry") in wanted):
                    yield Objection(f"{name}/{page}", block.get("data-entry"),
                                    "is marked as changed, and is not" if marked else "changed, and is not marked so")  # fmt: skip
