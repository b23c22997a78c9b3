"""The last chapters of the manual, word for word: figures, route, sources, and the index of plain words."""

from __future__ import annotations

import re
import unicodedata
from typing import Any

from ..catalogue import Entry, LimitRecord
from .print_recital import figure_of, only_for, time_of
from .recite_facts import facts_of_book
from .recite_manual import Manual, component_pages
from .step_rows import MOST_FIGURES, rows_at

MOST_COMPONENTS = 8
"""A word of conditions that leads to more components than this finds nothing, and is left out of the index."""
LEAST_LETTERS = 3
"""Letters of a word in the index."""
_WORD = re.compile(r"[^\W\d_]\w*(?:['\u2019][^\W\d_]+)*")
_ELIDED = re.compile(r"(?:[cdjlmnst]|qu|jusqu|lorsqu|puisqu|quoiqu)['\u2019](?=\w)")
_POSSESSIVE = re.compile(r"['\u2019]s$")


def recite_figures(told: Manual) -> None:
    """Every limit with a figure of the rulebook's own, or that decides a defect: figures, and notes on them."""
    told.section("figures")
    deciding = {limit.id for entry in told.entries for limit in entry.limits}
    for limit in told.catalogue.limits:
        own = [row for row in limit.rows if row.rulebook == told.rulebook.id]
        if own or limit.id in deciding:
            _limit(told, limit, own, [row for row in limit.rows if row.rulebook != told.rulebook.id])


def _limit(told: Manual, limit: LimitRecord, own: list[Any], others: list[Any]) -> None:
    word = told.reader.word
    notes: dict[tuple[Any, ...], int] = {}

    def note(row: Any) -> str:
        remark = tuple(sorted((row.remark or {}).items()))
        return str(notes.setdefault((row.source, row.locator, row.basis, remark), len(notes) + 1))

    told.heading(f"limit {limit.id}", told.text(limit.quantity))
    told.say(told.text(limit.method))
    if own:
        told.say(table_head(told, limit))
    for row in own:
        told.say(told.text(row.label), told.text(row.printed), note(row))
    if others:
        told.say(word("print-another-authority"), ":")
        told.say("; ".join(f"{told.text(row.label)}, {told.text(row.printed)}({note(row)})" for row in others), ".")
    for (source, locator, basis, remark), number in notes.items():
        told.say(word("print-note"), str(number), ".", told.text(told.catalogue.source[source].title), ",")
        told.say(told.locator(locator), ".", word(f"basis-{basis}"), ".", told.text(dict(remark)))


def table_head(told: Manual, limit: LimitRecord) -> str:
    """The head of the table of a limit."""
    return "".join(told.reader.word(key) for key in ("print-where", f"compare-{limit.compare}", "print-note"))


def recite_route(told: Manual) -> None:
    """Every step of the route, and the pages of the defects that it can turn up."""
    word = told.reader.word
    told.section("route")
    number = 0
    for station in told.catalogue.stations:
        told.heading("", told.text(station.name))
        time = time_of(told.reader, sum(step.seconds for step in station.steps))
        told.say(told.text(station.begin_when), ".", word("print-usual-time"), ":", time, ".")
        only = only_for(told.reader, list(station.vehicles), list(station.fitted))
        told.say(f"{only}." if only else "")
        warned: set[str] = set()
        for step in station.steps:
            number += 1
            if step.caution and step.caution not in warned:
                warned.add(step.caution)
                caution = told.catalogue.caution[step.caution]
                told.say(word(f"signal-{caution.level}"), told.text(caution.hazard), told.text(caution.avoid))
            told.say(str(number), told.text(step.do), told.text(step.good))
            vehicles = list(step.vehicles) if set(step.vehicles) != set(station.vehicles) else []
            only = only_for(told.reader, vehicles, list(step.fitted))
            told.say(f"({only})" if only else "")
            limit = told.catalogue.limit[step.figure] if step.figure else None
            own = rows_at(told.catalogue, step, told.rulebook.id, None)
            if limit and len(own) <= MOST_FIGURES:
                told.say(*(f"{figure_of(told, limit, row)}." for row in own))
            finds = [key for key in step.finds if told.catalogue.entry[key].rulings_under(told.rulebook.id)]
            if finds:
                told.say(word("print-can-turn-up"), told.pages(*(f"entry {key}" for key in finds)), ".")


def recite_sources(told: Manual) -> None:
    """Every source that something rests on, and what of them was left out."""
    word = told.reader.word
    told.section("sources")
    facts = list(facts_of_book(told))
    for source in told.catalogue.sources:
        cited = [kind for kind, _, _, record in facts if record.source == source.id]
        read_in = sum(source.id in record.read_in for _, _, _, record in facts)
        entries = len({entry.id for entry, ruling in told.rulings if ruling.item.source == source.id})
        if not cited and not read_in and not entries:
            continue
        told.heading("", told.text(source.title))
        told.say(source.issuer, ".", word(f"source-{source.kind}"), ".")
        told.say(f"{told.text(source.edition)}." if source.edition else "", source.url or "")
        told.say(f"{word('print-read-on')}{source.read_on}." if source.read_on else "", told.text(source.how_read))
        rests = [f"{word(f'fact-{kind}')} {cited.count(kind)}" for kind in dict.fromkeys(cited)]
        rests += [f"{word('print-entries-count')} {entries}"] if entries else []
        rests += [f"{word('print-read-in')} {read_in}"] if read_in else []
        told.say(word("print-rests"), "; ".join(rests) + "." if rests else word("print-rests-nothing"))
    if told.rulebook.left_out:
        told.heading("", word("print-left-out"))
        told.word("print-left-out-lead")
    for one in told.rulebook.left_out:
        told.say(told.locator(one.locator), ":", told.text(one.what), ".", told.text(one.why))


def recite_index(told: Manual) -> None:
    """The index: each word with the components that it leads to, and the pages of their defects."""
    told.section("index")
    letter = ""
    for word, entries in index_of(told):
        first = _in_order(word)[0][0].upper()
        told.say(first if first != letter else "", word)
        letter = first
        names = sorted({entry.component.id: told.text(entry.component.name) for entry in entries}.items(), key=lambda pair: pair[1].lower())
        component_pages(told, [(name, entry) for key, name in names for entry in entries if entry.component.id == key])


def index_of(told: Manual) -> list[tuple[str, list[Entry]]]:
    """Every word of the index, in the order of the alphabet, with its defects in the order of the manual."""
    stop = set(told.reader.word("index-stop-words").split())
    of_name = {entry.component.id: _words([told.text(entry.component.name), *(entry.component.aliases or {}).get(told.language, ())])
               for entry in told.entries}  # fmt: skip
    by_name: dict[str, set[str]] = {}
    by_condition: dict[str, set[str]] = {}
    for entry in told.entries:
        named = of_name[entry.component.id]
        for word in named:
            by_name.setdefault(word, set()).add(entry.id)
        for word in _words([told.text(entry.condition), *entry.aliases.get(told.language, ())]) - named:
            by_condition.setdefault(word, set()).add(entry.id)
    every = (by_name.keys() | by_condition.keys()) - stop
    heads = {word: word[:-1] if word[-1] == "s" and word[:-1] in every else word for word in every}
    forms_of: dict[str, list[str]] = {}
    for word, head in heads.items():
        forms_of.setdefault(head, []).append(word)
    place = {entry.id: at for at, entry in enumerate(told.entries)}
    found = []
    for head in sorted((one for one in forms_of if len(one) >= LEAST_LETTERS), key=_in_order):
        forms = forms_of[head]
        leads = {key for word in forms for key in by_name.get(word, ())}
        others = {key for word in forms for key in by_condition.get(word, ())}
        if len({told.entries[place[key]].component.id for key in others}) <= MOST_COMPONENTS:
            leads |= others
        if leads:
            found.append((head, [told.entries[at] for at in sorted(place[key] for key in leads)]))
    return found


def _words(texts: list[str]) -> set[str]:
    words = (word for text in texts for word in _WORD.findall(text.lower()))
    return {_POSSESSIVE.sub("", _ELIDED.sub("", word, count=1) if _ELIDED.match(word) else word) for word in words}


def _in_order(word: str) -> tuple[str, str]:
    """By letters without their accents, then as it is written."""
    apart = unicodedata.normalize("NFD", word.lower().replace("\u0153", "oe").replace("\u00e6", "ae"))
    return "".join(sign for sign in apart if not unicodedata.combining(sign)), word
