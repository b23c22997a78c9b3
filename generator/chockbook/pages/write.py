"""Views to Markdown pages with their assets: which pages there are, and which view each shows."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path, PurePosixPath

from markupsafe import Markup

from ..catalogue import Catalogue
from ..resources import templates
from ..views.bases import view_bases
from ..views.books import Book, border_sheet_name, view_ways_across
from ..views.by_action import view_by_action
from ..views.by_component import view_by_component
from ..views.by_severity import view_by_severity
from ..views.cautions import view_cautions
from ..views.changes import CARD_ANSWERS, changed_entries, view_card_editions, view_differences
from ..views.comparison import view_crossing
from ..views.coverage import view_coverage
from ..views.duties import view_duties
from ..views.figures import view_figures
from ..views.grouping import rulebook_named
from ..views.jurisdictions import view_jurisdictions
from ..views.measure import measure_data, measured_entries, view_measure
from ..views.pairs import view_pairs
from ..views.practice import practice_data
from ..views.route import view_route
from ..views.schedule import view_schedules
from ..views.sides import ComparedSystems, compare_all, other_sides
from ..views.sources import view_sources
from ..views.standing import view_standing
from ..views.walk_page import view_walk_page
from ..views.wording import colon, in_language
from .environment import template_environment, wording_in
from .escape import escape_between
from .fonts import write_fonts
from .practice import write_bank


@dataclass(frozen=True, slots=True)
class Page:
    """A page to write: its path below the pages, its template, and what the template is given."""

    path: str
    template: str
    content: dict[str, object] = field(default_factory=dict)

    @property
    def root(self) -> str:
        """Way from the page to the top of the pages: "" or some "../"."""
        return "../" * (len(PurePosixPath(self.path).parts) - 1)


def pages_of(catalogue: Catalogue, rulebook_id: str, language: str) -> Iterator[Page]:
    """Every page of a rulebook in one language but the first one, which the lookup writes.

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
        MissingWording: a text has not been written in the language.
    """
    systems = view_by_component(catalogue, rulebook_id, language)
    severities = view_by_severity(catalogue, rulebook_id, language)
    actions = view_by_action(catalogue, rulebook_id, language)
    pairs = view_pairs(catalogue, rulebook_id, language)
    yield Page("components/index.md", "components.md.j2", {"systems": systems})
    compared = compare_all(catalogue, language)
    elsewhere = other_sides(compared, rulebook_id)
    for system in systems:
        for component in system.components:
            content = {"component": component, "elsewhere": elsewhere, "language": language}
            yield Page(f"components/{component.id}.md", "component.md.j2", content)
    yield Page("severity/index.md", "severities.md.j2", {"severities": severities})
    for severity in severities:
        yield Page(f"severity/{severity.id}.md", "severity.md.j2", {"severity": severity})
    yield Page("actions/index.md", "actions.md.j2", {"actions": actions})
    for action in actions:
        yield Page(f"actions/{action.action.id}.md", "action.md.j2", {"view": action})
    schedules = view_schedules(catalogue, rulebook_id, language)
    yield Page("schedule.md", "schedule.md.j2", {"schedules": schedules})
    route = view_route(catalogue, rulebook_id, language)
    yield Page("route.md", "route.md.j2", {"route": route})
    for station in route.stations:
        yield Page(f"route/{station.id}.md", "station.md.j2", {"station": station})
    yield Page("figures.md", "figures.md.j2", {"limits": view_figures(catalogue, rulebook_id, language)})
    measure = view_measure(catalogue, rulebook_id, language)
    content = {"data": measure_data(measure), "entries": measured_entries(measure), "has_set": measure.brake_set is not None}
    yield Page("measure.md", "measure.md.j2", content)
    yield Page("walk.md", "walk.md.j2", {"page": view_walk_page(catalogue, rulebook_id, language)})
    yield Page("practice.md", "practice.md.j2", {"data": practice_data(catalogue, rulebook_id, language), "has_pairs": bool(pairs)})
    yield Page("pairs.md", "pairs.md.j2", {"systems": pairs})
    yield Page("duties.md", "duties.md.j2", {"duties": view_duties(catalogue, rulebook_id, language)})
    yield Page("how-to-use.md", "how_to_use.md.j2", {"severities": severities})
    yield Page("cautions.md", "cautions.md.j2")
    yield from _comparisons(catalogue, rulebook_id, language, compared)
    yield Page("provinces.md", "provinces.md.j2", {"provinces": view_jurisdictions(catalogue, language)})
    sources = view_sources(catalogue, rulebook_id, language)
    coverage = view_coverage(catalogue, language)
    yield Page("sources.md", "sources.md.j2", {"sources": sources, "coverage": coverage})
    yield Page("changes.md", "changes.md.j2", {"differences": view_differences(catalogue, rulebook_id, language)})
    content = {"editions": view_card_editions(catalogue, rulebook_id, language), "answers": CARD_ANSWERS}
    yield Page("card.md", "card.md.j2", content)
    standing = {"standing": view_standing(catalogue, rulebook_id, language), "bases": view_bases(catalogue, rulebook_id, language)}
    yield Page("standing.md", "standing.md.j2", standing)


def _comparisons(catalogue: Catalogue, rulebook_id: str, language: str, compared: ComparedSystems) -> Iterator[Page]:
    """The page of all rulebooks side by side, and one for each other rulebook that a driver can cross into."""
    others = [rulebook.id for rulebook in catalogue.rulebooks if rulebook.id != rulebook_id]
    crossings = [view_crossing(catalogue, rulebook_id, other, language) for other in others]
    everything = {"crossings": crossings, "systems": compared, "rulebook_id": rulebook_id}
    yield Page("compare/index.md", "compare.md.j2", everything)
    for crossing in crossings:
        content = {"crossing": crossing, "sheet": border_sheet_name(crossing.there_id)}
        yield Page(f"compare/{crossing.there_id}.md", "crossing.md.j2", content)


def write_pages(
    catalogue: Catalogue, rulebook_id: str, language: str, pages_dir: Path, books: tuple[Book, ...] = ()
) -> list[Path]:
    """Writes the pages of a rulebook with styles, scripts and fonts; gives the Markdown files written.

    Each page leads to the same page in the other books of the site, or to their first page.

    The folder is made if need be; what it held before stays where no page takes its place.

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
        MissingWording: a text has not been written in the language.
        MissingText: a template places a text that its view leaves empty.
        OSError: the folder cannot be written.
    """
    folder = templates("web")
    environment = template_environment(folder)
    rulebook = rulebook_named(catalogue, rulebook_id)
    everywhere = {
        "word": wording_in(catalogue, language),
        "colon": escape_between(colon(catalogue, language)[0]),
        "edition": catalogue.edition,
        "publisher": catalogue.publisher,
        "cautions": view_cautions(catalogue, language),
        "changed": changed_entries(catalogue, rulebook_id, language),
        "former_code": catalogue.former[-1]["edition"]["code"] if catalogue.former else "",
        "rulebook_name": in_language(rulebook.name, language),
        "rulebook_short_name": in_language(rulebook.short_name, language),
    }
    written = []
    for page in pages_of(catalogue, rulebook_id, language):
        text = environment.get_template(f"pages/{page.template}").render(
            **everywhere,
            root=Markup(page.root),
            page_path=page.path,
            books=view_ways_across(catalogue, books, rulebook_id, language, page.path),
            **page.content,
        )
        path = pages_dir / page.path
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8", newline="\n")
        written.append(path)
    shutil.copytree(folder / "assets", pages_dir / "assets", dirs_exist_ok=True)
    write_fonts(pages_dir / "assets" / "fonts")
    write_bank(catalogue, rulebook_id, language, pages_dir)
    return written
