"""What a carrier's documents say of it: contacts, unit and the address of the deck's page, in one language."""

from __future__ import annotations

from dataclasses import dataclass

from ..catalogue import Catalogue
from ..catalogue.carrier import CarrierRecord, UnitRecord
from .books import view_books
from .grouping import rulebook_named
from .wording import fixed_word, in_language


@dataclass(frozen=True, slots=True)
class ContactView:
    """Someone to call."""

    role: str
    name: str | None
    phone: str
    hours: str
    asked: str
    """Whom one asks for: the role, or the name of someone whose role is none of those that have a word."""

    @property
    def name_beside(self) -> str | None:
        """The name, where it is not what one asks for."""
        return self.name if self.name != self.asked else None


@dataclass(frozen=True, slots=True)
class CarrierView:
    """A carrier and one of its units, as a reader of one language sees them."""

    rulebook: str
    """Short name of the rulebook that its documents are about."""
    carrier: str
    unit: str
    vehicles: tuple[str, ...]
    """Names of the vehicles from front to back."""
    equipment: tuple[str, ...]
    contacts: tuple[ContactView, ...]
    """The one to call first comes first."""
    address: str | None
    """Of the deck's page; None where no site is named."""
    demo: bool


def view_carrier(
    catalogue: Catalogue, carrier: CarrierRecord, unit: UnitRecord, rulebook_id: str, language: str
) -> CarrierView:
    """A carrier's unit in one language under one rulebook.

    Raises:
        MissingWording: a fixed word is missing.
    """

    def word(key: str) -> str:
        return fixed_word(catalogue, key, language)

    return CarrierView(
        rulebook=in_language(rulebook_named(catalogue, rulebook_id).short_name, language),
        carrier=carrier.name,
        unit=f"{word('print-unit')} {unit.name}",
        vehicles=tuple(word(f"vehicle-{kind}") for kind in unit.vehicles),
        equipment=tuple(word(f"fitted-{part}") for part in unit.equipment),
        contacts=view_contacts(catalogue, carrier, language),
        address=deck_address(catalogue, carrier, rulebook_id, language),
        demo=carrier.demo,
    )


def view_contacts(catalogue: Catalogue, carrier: CarrierRecord, language: str) -> tuple[ContactView, ...]:
    """Whom the carrier's drivers call, the first one first.

    Raises:
        MissingWording: a role has no word.
    """
    return tuple(
        ContactView(role, name, one.phone, one.hours_in(language), name if name and one.role == "other" else role)
        for one in carrier.contacts
        for role, name in [(fixed_word(catalogue, f"role-{one.role}", language), one.name_in(language))]
    )


def deck_address(catalogue: Catalogue, carrier: CarrierRecord, rulebook_id: str, language: str) -> str | None:
    """Permanent address that a deck's code leads to: the page of its book that says whether this edition is current.

    The edition stands behind "#", which no server sees: the page answers from what the phone keeps, too.
    """
    base = carrier.base_address or catalogue.publisher.base_address
    if base is None:
        return None
    books = {(book.rulebook_id, book.language): book for book in view_books(catalogue)}
    return f"{base}{books[rulebook_id, language].prefix}card.html#{catalogue.edition.code}"
