"""How sure the content is: how many facts of each kind stand on what, and which are not confirmed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import get_args

from ..catalogue import Catalogue
from ..catalogue.locator import locator_in
from ..catalogue.record import Basis
from .facts import facts_of
from .grouping import EntryRow, entries_under
from .wording import fixed_word, in_language


@dataclass(frozen=True, slots=True)
class BasisCount:
    """How many facts of one kind stand on one basis."""

    basis: str
    basis_name: str
    count: int


@dataclass(frozen=True, slots=True)
class KindCounts:
    """The facts of one kind, by basis."""

    kind: str
    kind_name: str
    total: int
    counts: tuple[BasisCount, ...]


@dataclass(frozen=True, slots=True)
class UnconfirmedView:
    """A fact from memory."""

    kind_name: str
    label: str
    page: str
    anchor: str | None
    source_title: str
    locator: str
    remark: str | None


@dataclass(frozen=True, slots=True)
class StandingView:
    """How sure the content is."""

    kinds: tuple[KindCounts, ...]
    n_entries: int
    n_entries_confirmed: int
    """Entries of which every ruling is confirmed."""
    n_letters: int
    n_letters_confirmed: int
    n_named: int
    """Rulings whose item names the fault itself."""
    n_general: int
    """Rulings placed under a wider item by its plain meaning."""
    unconfirmed: tuple[UnconfirmedView, ...]
    unconfirmed_entries: tuple[EntryRow, ...]


def view_standing(catalogue: Catalogue, rulebook_id: str, language: str) -> StandingView:
    """The standing of everything that the pages of a rulebook show.

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
        MissingWording: a text has not been written in the language.
    """
    facts = list(facts_of(catalogue, rulebook_id, language))
    entries = entries_under(catalogue, rulebook_id, language)
    rulings = [(entry, ruling) for entry in entries for ruling in entry.rulings]

    def counts(kind: str, bases: list[str]) -> KindCounts:
        return KindCounts(
            kind=kind,
            kind_name=fixed_word(catalogue, f"fact-{kind}", language),
            total=len(bases),
            counts=tuple(
                BasisCount(basis, fixed_word(catalogue, f"basis-{basis}", language), bases.count(basis))
                for basis in get_args(Basis)
            ),
        )

    kinds = [counts("ruling", [ruling.basis for _, ruling in rulings])]
    for kind in dict.fromkeys(fact.kind for fact in facts):
        kinds.append(counts(kind, [fact.standing.basis for fact in facts if fact.kind == kind]))
    items = [fact for fact in facts if fact.kind == "item"]
    doubtful = [(entry, r) for entry, r in rulings if not r.confirmed]
    return StandingView(
        kinds=tuple(kinds),
        n_entries=len(entries),
        n_entries_confirmed=len(entries) - len({entry.id for entry, _ in doubtful}),
        n_letters=len(items),
        n_letters_confirmed=sum(fact.locator_confirmed for fact in items),
        n_named=sum(ruling.fit == "named" for _, ruling in rulings),
        n_general=sum(ruling.fit == "general" for _, ruling in rulings),
        unconfirmed=tuple(
            UnconfirmedView(
                kind_name=fixed_word(catalogue, f"fact-{fact.kind}", language),
                label=fact.label,
                page=fact.page,
                anchor=fact.anchor,
                source_title=in_language(catalogue.source[fact.standing.source].title, language),
                locator=locator_in(catalogue, fact.standing.locator, language),
                remark=in_language(fact.standing.remark, language) if fact.standing.remark else None,
            )
            for fact in facts
            if not fact.standing.confirmed
        ),
        unconfirmed_entries=tuple(EntryRow(entry, ruling) for entry, ruling in doubtful),
    )
