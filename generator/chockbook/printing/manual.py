"""The printed manual: what its template is given, its contents and its running heads."""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path
from typing import Any

from ..catalogue import Catalogue
from ..views.manual import ManualView, view_manual
from ..views.wording import fixed_word
from .document_data import document_data
from .page_guess import guess_pages
from .places import Place, set_with_places
from .printed import Printed

USE_PARAGRAPHS = ("print-use-find", "print-use-read", "print-use-basis", "print-use-examiner")
SECTIONS = (
    "cautions", "how-to-use", "duties", "schedule", "entries", "by-severity", "by-action", "figures", "route",
    "sources", "index",
)  # fmt: skip
"""Sections as they are printed; the title of each is the fixed word "print-" with its name."""


def render_manual(catalogue: Catalogue, rulebook_id: str, language: str, out_path: Path) -> Printed:
    """Write the manual of one rulebook, on a page that prints unscaled on letter and on A4.

    Args:
        catalogue: the checked catalogue.
        rulebook_id: the rulebook it is about.
        language: code of its language.
        out_path: the PDF to write.

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
        MissingWording: a text has not been written in the language.
        SettingFailed: the compiler objects.
    """
    view = view_manual(catalogue, rulebook_id, language)
    titles = {key: fixed_word(catalogue, f"print-{key}", language) for key in ("contents", *SECTIONS)}
    data = document_data("manual", catalogue, rulebook_id, language) | {
        "view": asdict(view),
        "how_to_use": [fixed_word(catalogue, key, language) for key in USE_PARAGRAPHS],
        "systems": len(catalogue.systems),
        "contents": _contents(view, titles),
    }
    in_entry = _names(view)

    def heads(places: list[Place], pages: int) -> list[dict[str, Any]]:
        return _heads(places, pages, in_entry, titles)

    guess = guess_pages(view)
    pages = set_with_places("manual.typ", data, catalogue.edition.date, out_path, heads=heads, guess=guess)
    return Printed(path=out_path, pages=pages, cards=0)


def _contents(view: ManualView, titles: dict[str, str]) -> list[dict[str, Any]]:
    """The lines of the table of contents: every section, and what stands in it."""
    inside: dict[str, list[tuple[str, str]]] = {
        "schedule": [(f"part {part.id}", f"{part.name}. {part.title}") for part in view.parts],
        "entries": [(f"system {system.id}", f"{system.number} {system.name}") for system in view.systems],
        "by-severity": [(f"severity {s.id}", f"{s.name}: {s.outcome}") for s in view.severity_lists],
        "by-action": [(f"action {action.id}", action.text) for action in view.action_lists],
    }
    lines: list[dict[str, Any]] = []
    for key in SECTIONS:
        lines.append({"level": 1, "place": f"section {key}", "title": titles[key]})
        lines += [{"level": 2, "place": place, "title": title} for place, title in inside.get(key, [])]
    return lines


def _names(view: ManualView) -> dict[str, tuple[int, str, str]]:
    """By the key of an entry's place: number and name of its system, and its component."""
    return {
        f"entry {entry.view.id}": (system.number, system.name, entry.view.component_name)
        for system in view.systems
        for entry in system.entries
    }


def _heads(
    places: list[Place], pages: int, in_entry: dict[str, tuple[int, str, str]], titles: dict[str, str]
) -> list[dict[str, Any]]:
    """For each page its thumb marks and its running head: systems and first to last component, or the section."""
    entries: dict[int, list[tuple[int, str, str]]] = {}
    section_from: dict[int, str] = {}
    for key, page, _ in places:
        kind, _, name = key.partition(" ")
        if kind == "entry":
            entries.setdefault(page, []).append(in_entry[key])
        elif kind == "section":
            section_from[page] = titles[name]
    heads = []
    section = ""
    for page in range(1, pages + 1):
        section = section_from.get(page, section)
        here = entries.get(page, [])
        systems = dict.fromkeys((number, name) for number, name, _ in here)
        components = dict.fromkeys((here[0][2], here[-1][2])) if here else {}
        heads.append(
            {
                "marks": [number for number, _ in systems],
                "bold": ", ".join(f"{number} {name}" for number, name in systems) or section,
                "plain": " – ".join(components) if len(systems) == 1 else "",
            }
        )
    return heads
