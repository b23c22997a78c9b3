"""The whole-route checklist against the route: every step with its answer, in order, and what the report holds."""

from __future__ import annotations

from collections.abc import Iterator

from ..catalogue import Catalogue
from ..catalogue.wording import in_language
from .facts import reader_of
from .manual import page_furniture
from .objection import Objection
from .read_pdf import PdfReading
from .reading import squash

LONGEST_BETWEEN = 80
"""Characters."""


def prove_whole_route(catalogue: Catalogue, reading: PdfReading, name: str, rulebook_id: str,
                      language: str) -> Iterator[Objection]:  # fmt: skip
    """Objections to the checklist of the whole route, which is the same under every rulebook."""
    reader = reader_of(catalogue, language)
    yield from page_furniture(reader, reading, name)
    at = 0
    for station in catalogue.stations:
        for step in station.steps:
            line = squash(in_language(step.item, language)), squash(in_language(step.want, language))
            found = reading.text.find(line[0], at)
            answer = reading.text.find(line[1], found)
            # Between a step and its answer stand at most a leader of dots and the vehicles it is for.
            between = reading.text[found + len(line[0]) : answer].strip(".·… ") if found >= 0 <= answer else None
            if between is None or len(between) > LONGEST_BETWEEN:
                yield Objection(name, step.id, f"does not say, in its place: {step.item} {step.want}")
            else:
                at = answer


def prove_sheet(catalogue: Catalogue, reading: PdfReading, name: str, rulebook_id: str,
                language: str) -> Iterator[Objection]:  # fmt: skip
    """Objections to a checklist or report form: its furniture, and every field that the report has to hold."""
    reader = reader_of(catalogue, language)
    yield from page_furniture(reader, reading, name)
    rulebook = catalogue.rulebook[rulebook_id]
    for field in rulebook.report:
        if squash(in_language(field.name, language)) not in reading.text:
            yield Objection(name, field.id, f"does not say: {in_language(field.name, language)}")
