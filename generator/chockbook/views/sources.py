"""The sources: what was read of each, and what rests on it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from ..catalogue import Catalogue
from .facts import Fact, facts_of
from .wording import fixed_word, in_language


@dataclass(frozen=True, slots=True)
class RestingView:
    """Facts of one kind on one page that rest on a source."""

    kind: str
    kind_name: str
    label: str | None
    """The fact itself, where it is the only one on its page and anchor."""
    page: str
    anchor: str | None
    n_facts: int


@dataclass(frozen=True, slots=True)
class SourceView:
    """A source, how it was read, and what rests on it."""

    id: str
    title: str
    issuer: str
    kind_name: str
    edition: str | None
    url: str | None
    read_on: date | None
    how_read: str
    checked_on: date | None
    """When somebody last looked at it: the day of checking, or that of reading."""
    checked_by: str | None
    """The role of whoever did."""
    review_by: date | None
    n_cited: int
    """Facts that name it as the source they belong to."""
    n_read_in: int
    """Facts of any source that were read in it."""
    n_entries: int
    """Entries that stand under an item that names it."""
    cited: tuple[RestingView, ...]
    read_in: tuple[RestingView, ...]


def resting(catalogue: Catalogue, facts: list[Fact], language: str) -> tuple[RestingView, ...]:
    """Facts gathered by kind and by the place that shows them."""
    places: dict[tuple[str, str, str | None], list[Fact]] = {}
    for fact in facts:
        places.setdefault((fact.kind, fact.page, fact.anchor), []).append(fact)
    return tuple(
        RestingView(
            kind=kind,
            kind_name=fixed_word(catalogue, f"fact-{kind}", language),
            label=here[0].label if len(here) == 1 else None,
            page=page,
            anchor=anchor,
            n_facts=len(here),
        )
        for (kind, page, anchor), here in places.items()
    )


def view_sources(catalogue: Catalogue, rulebook_id: str, language: str) -> tuple[SourceView, ...]:
    """Every source in the order of its table.

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
        MissingWording: a text has not been written in the language.
    """
    facts = list(facts_of(catalogue, rulebook_id, language))
    views = []
    for source in catalogue.sources:
        cited = [fact for fact in facts if fact.standing.source == source.id]
        read_in = [fact for fact in facts if source.id in fact.standing.read_in]
        views.append(
            SourceView(
                id=source.id,
                title=in_language(source.title, language),
                issuer=source.issuer,
                kind_name=fixed_word(catalogue, f"source-{source.kind}", language),
                edition=in_language(source.edition, language) if source.edition else None,
                url=source.url,
                read_on=source.read_on,
                how_read=in_language(source.how_read, language),
                checked_on=source.checked_on or source.read_on,
                checked_by=fixed_word(catalogue, f"checker-{source.checked_by}", language) if source.checked_by else None,
                review_by=source.review_by,
                n_cited=len(cited),
                n_read_in=len(read_in),
                n_entries=sum(
                    any(r.source.id == source.id for r in entry.rulings_under(rulebook_id))
                    for entry in catalogue.entries
                ),
                cited=resting(catalogue, cited, language),
                read_in=resting(catalogue, read_in, language),
            )
        )
    return tuple(views)
