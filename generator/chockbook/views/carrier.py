"""What a carrier's documents say of it: contacts, unit and the address of the deck's page, in one language."""

from __future__ import annotations

from dataclasses import dataclass

from ..catalogue import Catalogue
from ..catalogue.carrier import CarrierRecord, UnitRecord
from .books import view_books
from .wording import fixed_word, in_language


@dataclass(frozen=True, slots=True)
class ContactView:
    """Someone to call."""

    role: str
    name: str | None
    phone: str
    hours: str

    @property
    def line(self) -> str:
        """Role, number and hours, for where there is room for one line."""
        return f"{self.role} {self.phone} · {self.hours}"


@dataclass(frozen=True, slots=True)
class CarrierView:
    """A carrier and one of its units, as a reader of one language sees them."""

    carrier: str
    unit: str
    rulebook: str
    """Its short name: what the deck holds the unit to."""
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
        carrier=carrier.name,
        unit=f"{word('print-unit')} {unit.name}",
        rulebook=in_language(catalogue.rulebook[rulebook_id].short_name, language),
        vehicles=tuple(word(f"vehicle-{kind}") for kind in unit.vehicles),
        equipment=tuple(word(f"fitted-{part}") for part in unit.equipment),
        contacts=tuple(
            ContactView(word(f"role-{one.role}"), one.name_in(language), one.phone, one.hours_in(language))
            for one in carrier.contacts
        ),
        address=deck_address(catalogue, carrier, rulebook_id, language),
        demo=carrier.demo,
    )


def deck_address(catalogue: Catalogue, carrier: CarrierRecord, rulebook_id: str, language: str) -> str | None:
    """Permanent address of the page that a deck is about: the first page of its book."""
    base = carrier.base_address or catalogue.publisher.base_address
    if base is None:
        return None
    books = {(book.rulebook_id, book.language): book for book in view_books(catalogue)}
    return base + books[rulebook_id, language].prefix
