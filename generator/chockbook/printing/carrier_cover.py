"""The first card of a carrier's deck: whose it is, whom to call, and the code that leads to the newest edition."""

from __future__ import annotations

import io
from functools import lru_cache

import segno

from ..catalogue.carrier import CLOCK
from ..views.carrier import CarrierView, ContactView
from .card_formats import CardFormat
from .card_heights import Part
from .card_setting import Cover
from .long_words import breakable

MODULE = 0.7
"""Side of a dot of the code, millimetres: a phone reads it at 200 mm through film."""
QUIET = 4
"""White dots around the code, as ISO/IEC 18004 asks."""
LARGEST = 3
"""Version of the code with the most dots that is still wanted: 29 a side."""


def cover_of(view: CarrierView, words: dict[str, str], card: CardFormat) -> Cover:
    """The cover of a deck.

    Args:
        view: the carrier and its unit.
        words: the fixed words of the deck's language.
        card: the format; a wallet card has no room for a code.
    """
    # The head of a card with a cover names the rulebook; that of a sheet with columns names systems.
    book: list[Part] = [{"kind": "title", "level": 2, "text": view.rulebook}] if card.columns > 1 else []
    parts: list[Part] = [
        *book,
        {"kind": "title", "level": 2, "text": breakable(f"{view.carrier} · {view.unit}")},
        {"kind": "note", "text": f"{words['print-unit-made-up']}: {' + '.join(view.vehicles)}"},
    ]
    if view.equipment:
        parts.append({"kind": "note", "text": f"{words['print-unit-fitted']}: {', '.join(view.equipment)}"})
    parts.append({"kind": "title", "level": 2, "text": words["print-contacts"]})
    parts += [contact_part(one) for one in view.contacts]
    if view.address and not card.kind.is_index:
        parts.append(code_part(view.address, words))
    if view.demo:
        parts.append({"kind": "note", "text": words["print-demo-carrier"]})
    first = view.contacts[0]
    short = f"{words['print-call']}: {first.role} {first.phone}"
    # Beside the steps stands a second number where the first is not answered at every hour.
    lines = f"{first.asked} {first.phone} · {first.hours}"
    for other in view.contacts[1:2] if CLOCK.search(first.hours) else ():
        lines += f"; {other.asked} {other.phone}"
    return Cover(breakable(view.carrier), breakable(view.unit), breakable(f"{words['print-call']}: {lines}"), short,
                 tuple(parts))


def contact_part(one: ContactView) -> Part:
    """Whom to call: whom one asks for, the number, the hours, and the name where it is another."""
    name = breakable(one.name_beside) if one.name_beside else None
    return {"kind": "contact", "role": breakable(one.asked), "phone": one.phone, "hours": breakable(one.hours), "name": name}


def code_part(address: str, words: dict[str, str]) -> Part:
    """A QR code and the address in letters beside it. Correction level Q where the code stays small, else M."""
    svg, side = _drawn(address)
    return {
        "kind": "code",
        "svg": svg,
        "width": round(side * MODULE, 2),
        "alt": f"{words['print-code-alt']} {address}",
        "caption": words["print-code-caption"],
        "address": address,
    }


@lru_cache(maxsize=256)
def _drawn(address: str) -> tuple[str, int]:
    """The code as SVG, and dots on a side with the quiet zone. All units of a carrier share an address."""
    code = segno.make(address, error="q", boost_error=False, micro=False)
    if code.version > LARGEST:
        code = segno.make(address, error="m", boost_error=False, micro=False)
    svg = io.BytesIO()
    code.save(svg, kind="svg", border=QUIET, xmldecl=False, svgns=True, nl=False, omitsize=True)
    return svg.getvalue().decode(), code.symbol_size(border=QUIET)[0]
