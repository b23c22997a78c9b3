"""Everything that an output may say: the tables' texts and the fixed words."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from ..catalogue import Catalogue
from ..catalogue.locator import locator_in
from ..catalogue.units import SPELLINGS
from ..catalogue.wording import in_language


def all_texts(catalogue: Catalogue, language: str, former: bool = False) -> Iterator[str]:
    """Every string of every table in one language, with the edition and the publisher.

    Args:
        catalogue: what may be said.
        language: in which language.
        former: whether what former editions said may be said too, as where changes are told.
    """

    def strings(value: Any) -> Iterator[str]:
        if isinstance(value, str):
            yield value
        elif isinstance(value, dict):
            if value and all(isinstance(key, str) and len(key) == 2 for key in value):
                if language in value:
                    yield from strings(value[language])
                else:
                    yield in_language(value, language)
                    # What changed is told in one piece: a name, or a label with its figure. The code of the other language
                    # stands before the first text of it alone.
                    yield from strings(next(iter(value.values()))) if former else ()
            else:
                for key, inner in value.items():
                    place = key in ("locator", "part") and isinstance(inner, str)
                    yield from strings(locator_in(catalogue, inner, language) if place else inner)
        elif isinstance(value, list | tuple):
            for inner in value:
                yield from strings(inner)

    for edition in catalogue.former if former else ():
        yield from strings(edition)
    for records in (catalogue.jurisdictions, catalogue.systems, catalogue.components, catalogue.rulebooks, catalogue.sources,
                    catalogue.limits, catalogue.stations, catalogue.cautions):  # fmt: skip
        for record in records:
            yield from strings(record.model_dump(mode="json"))
    for entry in catalogue.entries:
        yield from strings([dict(entry.condition), dict(entry.check), list(entry.aliases.get(language, ()))])
        for ruling in entry.rulings:
            yield from strings([dict(t) for t in (ruling.applies_when, ruling.law_text, ruling.remark) if t])
    yield from strings([dict(text) for text in catalogue.words.values()])
    for book_language in catalogue.languages:
        yield book_language.name
        yield from (in_language(rulebook.short_name, book_language.code) for rulebook in catalogue.rulebooks)
    # A page that reads measures names the units as people write them.
    yield from SPELLINGS
    edition, publisher = catalogue.edition, catalogue.publisher
    yield from (edition.code, edition.date.isoformat(), edition.check_by.isoformat(), publisher.name)
    if publisher.contact:
        yield publisher.contact
