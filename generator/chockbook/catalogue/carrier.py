"""carriers/*.yaml: whom documents are printed for, and what their units are made up of."""

from __future__ import annotations

import hashlib
import re
from typing import Annotated, Any, Literal

from pydantic import Discriminator, Field, StringConstraints, Tag

from .card_kinds import CARD_KINDS, CardKind
from .publisher import SITE_PATTERN
from .record import Equipment, Id, Language, Record, Vehicle
from .wording import in_language

PHONE_PATTERN = r"^[+() .-]*([0-9][+() .x-]*){7,25}$"
"""Seven digits at least, as in a call within one area; an extension after x."""
Phone = Annotated[str, StringConstraints(pattern=PHONE_PATTERN, max_length=30)]
ShortLine = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1, max_length=60)]
ONE_TEXT, BY_LANGUAGE = "one text", "a text by language"
"""How a text of a contact is written; pydantic puts these words into the places of its errors."""


def _way(value: Any) -> str:
    return BY_LANGUAGE if isinstance(value, dict) else ONE_TEXT


ShortText = Annotated[
    Annotated[ShortLine, Tag(ONE_TEXT)]
    | Annotated[dict[Language, ShortLine], Field(min_length=1), Tag(BY_LANGUAGE)],
    Discriminator(_way),
]
"""A short text that is the same in every language of the carrier, or one for each."""
CLOCK = re.compile(r"\d")
"""In hours that name a time of day, unlike "day and night"."""
CardFormat = Literal["id1", "a7", "card", "a6", "visor", "wall"]
"""The names of CARD_KINDS."""
Paper = Literal["letter", "a4"]
Duplex = Literal["long-edge", "short-edge", "fold", "one-sided"]
Punch = Literal["none", "top", "left"]


class ContactRecord(Record):
    """Someone whom a driver can call."""

    role: Literal["dispatch", "maintenance", "safety", "other"]
    name: ShortText | None = None
    phone: Annotated[Phone, Field(examples=["555-0101"])]
    hours: Annotated[ShortText, Field(examples=["06:00-22:00"])]
    """When the phone is answered, such as 06:00-18:00."""

    def name_in(self, language: str) -> str | None:
        """Who answers, in a language of the carrier; None where nobody is named."""
        return self.name and _in(self.name, language)

    def hours_in(self, language: str) -> str:
        """When the phone is answered, in a language of the carrier."""
        return _in(self.hours, language)


def _in(text: str | dict[str, str], language: str) -> str:
    return text if isinstance(text, str) else in_language(text, language)


class UnitRecord(Record):
    """A vehicle or combination as it leaves the yard, and what is fitted to it."""

    id: Id
    name: ShortLine
    """What is painted on it, such as 12."""
    vehicles: Annotated[list[Vehicle], Field(min_length=1, max_length=8, examples=[["tractor", "trailer"]])]
    """From front to back, such as tractor, trailer, converter-dolly, trailer."""
    equipment: list[Equipment] = []

    @property
    def make_up(self) -> str:
        """Six hexadecimal digits that units have in common where they are made up alike, and only there."""
        made_up = " ".join([*self.vehicles, "+", *self.equipment])
        return hashlib.sha256(made_up.encode()).hexdigest()[:6]


class DocumentRecord(Record):
    """Something to print for each unit, or once for the carrier where it does not depend on a unit."""

    what: Literal["deck", "checklist", "report"]
    format: CardFormat = "card"
    """Of a deck."""
    paper: Paper = "letter"
    duplex: Duplex = "long-edge"
    """Of a deck: how backs come behind fronts."""
    marks: Literal["office", "press"] = "office"
    """Of a deck: several cards on an office sheet, or one face to a page with bleed for a print shop."""
    ink: Literal["colour", "mono"] = "colour"
    punch: Punch = "none"
    """Of a deck of cards for a ring: the edge of the fronts at which a strip stays free for a hole."""
    languages: Literal["each", "side-by-side", "front-and-back"] = "each"
    """Of a deck: one for each language, or one with both of the carrier's languages on every card."""
    variant: Literal["normal", "big", "laminated"] = "normal"
    """Of a checklist."""

    @property
    def card(self) -> CardKind:
        """What cards of its format have room for; of a deck."""
        return CARD_KINDS[self.format]

    @property
    def kind(self) -> str:
        """What the register calls it, and the first part of its file's name: two documents of a carrier that differ have
        different ones."""
        if self.what != "deck":
            return f"checklist-{self.variant}" if self.what == "checklist" else "report"
        shape = [self.format, self.paper, self.duplex]
        if self.card.of_sheet == "whole":
            shape = [self.format, self.paper]
        if self.marks == "press":
            shape = [self.format, "press", self.paper]
        both = [self.languages] if self.languages != "each" else []
        hole = [f"punch-{self.punch}"] if self.punch != "none" else []
        return "-".join(["deck", *shape, *(["mono"] if self.ink == "mono" else []), *hole, *both])


class CarrierRecord(Record):
    """A carrier: contacts, languages, rulebooks, units, and what to print for them."""

    id: Id
    name: Annotated[ShortLine, Field(examples=["Tern Freight"])]
    demo: bool = False
    """True where people, places and numbers are invented."""
    contacts: Annotated[
        list[ContactRecord],
        Field(min_length=1, max_length=6, examples=[[{"role": "dispatch", "phone": "555-0101", "hours": "06:00-22:00"}]]),
    ]
    """The one to call first comes first: it stands on every card."""
    languages: Annotated[list[Language], Field(min_length=1, examples=[["en"]])]
    rulebooks: Annotated[list[Id], Field(min_length=1, examples=[["on-s1"]])]
    base_address: Annotated[str, StringConstraints(pattern=SITE_PATTERN, max_length=200)] | None = None
    """Address of the site that the codes on the cards lead to; the publisher's where it is left out."""
    units: Annotated[
        list[UnitRecord],
        Field(min_length=1, examples=[[{"id": "t-7", "name": "T-7", "vehicles": ["truck"], "equipment": ["air-brakes"]}]]),
    ]
    documents: Annotated[list[DocumentRecord], Field(min_length=1, examples=[[{"what": "deck", "format": "card"}]])]

    def asks_for(self, kind: str, rulebook: str, language: str) -> bool:
        """Whether the file asks for a document, as the register calls kind and languages, such as "fr+en"."""
        alone, together = list(self.languages), ["+".join(self.languages)]
        return rulebook in self.rulebooks and any(
            one.kind == kind and language in (alone if one.languages == "each" else together) for one in self.documents)


class CarrierTable(Record):
    """One file of source_tables/carriers: one carrier."""

    carrier: CarrierRecord
