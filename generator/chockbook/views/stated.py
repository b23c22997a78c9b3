"""What pages and print say of any fact: its source, the place in it, and how sure we are."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypedDict

from ..catalogue import Catalogue, Standing
from ..catalogue.locator import locator_in
from .wording import fixed_word, in_language


@dataclass(frozen=True, slots=True, kw_only=True)
class StatedView:
    """The standing of a fact; a view of a fact adds what the fact says."""

    source_id: str
    source_title: str
    locator: str
    basis_name: str
    confirmed: bool
    remark: str | None


class Stated(TypedDict):
    """The fields of a StatedView."""

    source_id: str
    source_title: str
    locator: str
    basis_name: str
    confirmed: bool
    remark: str | None


def stated(catalogue: Catalogue, record: Standing, language: str) -> Stated:
    """The standing of a record in one language, for the view of the fact.

    Raises:
        MissingWording: words.yaml lacks the name of the basis.
    """
    return Stated(
        source_id=record.source,
        source_title=in_language(catalogue.source[record.source].title, language),
        locator=locator_in(catalogue, record.locator, language),
        basis_name=fixed_word(catalogue, f"basis-{record.basis}", language),
        confirmed=record.confirmed,
        remark=in_language(record.remark, language) if record.remark else None,
    )
