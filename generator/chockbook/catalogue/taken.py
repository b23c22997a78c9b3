"""What a print takes from its carrier's own file, and the short code of it that stands on the print.

The register keeps both: what was taken tells later what is another thing now, and the code tells two prints of the same
edition from each other in the cab.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Sequence
from typing import Any

from .carrier import CLOCK, CarrierRecord, ContactRecord, UnitRecord

Taken = dict[str, Any]
"""carrier, unit (their names), vehicles, equipment, contacts, address, demo: those of them that the kind of print says.
A contact is its role, telephone number, name and hours; texts of several languages stand in one."""
TAKES = {
    "deck": ("carrier", "unit", "vehicles", "equipment", "contacts", "address", "demo"),
    "deck-id1": ("vehicles", "equipment", "contacts"),
    "checklist": ("carrier", "unit", "vehicles", "equipment", "contacts", "demo"),
    "report": ("carrier", "contacts", "demo"),
}
"""What each kind of print says; a wallet card has no room for names, nor for the code of an address."""


def taken(carrier: CarrierRecord, unit: UnitRecord | None, kind: str, languages: Sequence[str], site: str | None) -> Taken:
    """What a print takes from the file of its carrier.

    Args:
        carrier: whose file.
        unit: that the print is for; None for what is printed once for all.
        kind: of the document, as the register calls it, such as "deck-id1-letter-long-edge".
        languages: codes, of the print.
        site: the publisher's address, for a carrier that names none of its own.
    """
    wallet = is_wallet(kind)
    values: Taken = {
        "carrier": carrier.name,
        "unit": unit and unit.name,
        "vehicles": list(unit.vehicles) if unit else [],
        "equipment": list(unit.equipment) if unit else [],
        "contacts": _on_a_wallet_card(carrier.contacts, languages) if wallet else [_said(one, languages) for one in carrier.contacts],
        "address": carrier.base_address or site,
        "demo": carrier.demo,
    }
    return {key: values[key] for key in TAKES["deck-id1" if wallet else kind.split("-", 1)[0]]}


def is_wallet(kind: str) -> bool:
    """Whether a document is a deck of wallet cards."""
    return kind.split("-")[:2] == ["deck", "id1"]


def print_code(said: Taken) -> str:
    """Six hexadecimal digits of what a print takes from its carrier's file.

    A unit's name is left out: it stands on the print large enough to be read, and units that are made up alike have
    their code in common.
    """
    meant = {key: value for key, value in said.items() if key != "unit"}
    return hashlib.sha256(json.dumps(meant, sort_keys=True).encode()).hexdigest()[:6]


def _said(one: ContactRecord, languages: Sequence[str]) -> list[str]:
    names, hours = ([text for code in languages if (text := of(code))] for of in (one.name_in, one.hours_in))
    return [one.role, one.phone, *(" / ".join(dict.fromkeys(texts)) for texts in (names, hours))]


def _on_a_wallet_card(contacts: Sequence[ContactRecord], languages: Sequence[str]) -> list[list[str]]:
    """The first contact, and the second one's number where the first is not there at every hour.

    A name stands there only where somebody is asked for by it.
    """
    first = _said(contacts[0], languages)
    second = [_said(one, languages) for one in contacts[1:2]] if CLOCK.search(first[3]) else []
    asked = [[role, phone, name if role == "other" else "", hours] for role, phone, name, hours in (first, *second)]
    return [asked[0], *([*one[:3], ""] for one in asked[1:])]
