"""What carriers' own files no longer say as their prints do, in one language."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from ..catalogue import Catalogue
from ..editions import OF_A_UNIT, Judged, OwnChange
from .wording import fixed_word, joined

NOTHING = "–"


@dataclass(frozen=True, slots=True)
class OwnChangeView:
    """One change, told once for all prints that it is on."""

    carrier: str
    """Its id."""
    units: tuple[str, ...]
    """What is painted on the units, where it is about units."""
    what: str
    """As OwnChange has it."""
    name: str
    before: str
    after: str

    def said(self, catalogue: Catalogue, language: str) -> str:
        """What it is about, with the units first."""
        if not self.units:
            return self.name
        return f"{joined(catalogue, fixed_word(catalogue, 'bulletin-units', language), ', '.join(self.units), language)} · {self.name}"


def view_own_changes(catalogue: Catalogue, judged: Iterable[Judged], names: Mapping[tuple[str, str], str],
                     language: str) -> tuple[OwnChangeView, ...]:  # fmt: skip
    """The changes of carriers' own files, in the order of the prints.

    Args:
        catalogue: whose words they are told in.
        judged: the prints of the register.
        names: what is painted on a unit, by carrier and id; a unit that is not there is named by its id.
        language: code.
    """
    found: dict[tuple[str, OwnChange], list[str]] = {}
    for one in judged:
        carrier, unit = one.row.get("carrier", ""), one.row.get("unit", "")
        for change in one.own:
            units = found.setdefault((carrier, change), [])
            if change.what in OF_A_UNIT and (name := names.get((carrier, unit), unit)) not in units:
                units.append(name)
    return tuple(OwnChangeView(carrier, tuple(units), change.what, _name(catalogue, change, language),
                               *(_said(catalogue, change.what, values, language) for values in (change.before, change.after)))
                 for (carrier, change), units in found.items())  # fmt: skip


def _name(catalogue: Catalogue, change: OwnChange, language: str) -> str:
    if change.what == "contact":
        key = f"role-{change.about}"
        return fixed_word(catalogue, key, language) if key in catalogue.words else change.about
    if change.what in ("unit-gone", "document-gone"):
        return " · ".join([fixed_word(catalogue, f"prints-{change.what}", language), *([change.about] if change.about else [])])
    return fixed_word(catalogue, f"own-{change.what}", language)


def _said(catalogue: Catalogue, what: str, values: tuple[str, ...], language: str) -> str:
    prefix = {"equipment": "fitted", "vehicles": "vehicle"}.get(what)
    if prefix:
        keys = [f"{prefix}-{value}" for value in values]
        texts = [fixed_word(catalogue, key, language) if key in catalogue.words else value
                 for key, value in zip(keys, values, strict=True)]  # fmt: skip
        return (" + " if what == "vehicles" else ", ").join(texts) or NOTHING
    if what == "demo":
        return fixed_word(catalogue, "lookup-yes" if values == ("True",) else "lookup-no", language)
    return " · ".join(values) or NOTHING
