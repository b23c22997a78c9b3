"""catalogue.csv: one row a ruling, for spreadsheets.

Rows end with CRLF and fields are quoted as RFC 4180 has it. A text that a spreadsheet would take for a
formula (it begins with = + - @, a tab or a carriage return) gets an apostrophe in front.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from pathlib import Path

from ..catalogue import Catalogue, Entry, Ruling

BASE_COLUMNS = (
    "edition", "id", "system", "component", "vehicles", "rulebook", "schedule", "part", "item", "item_id", "severity",
    "actions", "source", "locator", "basis", "fit",
)  # fmt: skip
TEXT_COLUMNS = ("system_name", "component_name", "condition", "check", "aliases", "applies_when", "severity_name",
                "outcome", "action_texts")  # fmt: skip


def write_catalogue_csv(catalogue: Catalogue, path: Path) -> None:
    """Write one row for each ruling of each entry, in UTF-8 with a byte order mark for spreadsheets."""
    languages = [language.code for language in catalogue.languages]
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow([*BASE_COLUMNS, *(f"{column}_{code}" for code in languages for column in TEXT_COLUMNS)])
    for row in _rows(catalogue, languages):
        writer.writerow([inert(value) for value in row])
    path.write_bytes(out.getvalue().encode("utf-8-sig"))


def inert(value: str) -> str:
    """A text that no spreadsheet takes for a formula."""
    return "'" + value if value[:1] in ("=", "+", "-", "@", "\t", "\r") else value


def _rows(catalogue: Catalogue, languages: list[str]) -> Iterator[list[str]]:
    for entry in catalogue.entries:
        for ruling in entry.rulings:
            yield [*_base(catalogue, entry, ruling), *(t for code in languages for t in _texts(entry, ruling, code))]


def _base(catalogue: Catalogue, entry: Entry, ruling: Ruling) -> list[str]:
    return [
        catalogue.edition.code, entry.id, entry.system.id, entry.component.id, " ".join(entry.vehicles),
        ruling.rulebook.id, ruling.schedule.id, ruling.part.part, ruling.item.letter,
        ruling.item.id, ruling.severity.id,
        " ".join(action.id for action in ruling.actions), ruling.source.id, ruling.locator, ruling.basis, ruling.fit,
    ]  # fmt: skip


def _texts(entry: Entry, ruling: Ruling, code: str) -> list[str]:
    return [
        entry.system.name.get(code, ""), entry.component.name.get(code, ""), entry.condition.get(code, ""),
        entry.check.get(code, ""), "; ".join(entry.aliases.get(code, ())), (ruling.applies_when or {}).get(code, ""),
        ruling.severity.name.get(code, ""), ruling.severity.outcome.get(code, ""),
        " ".join(action.text.get(code, "") for action in ruling.actions),
    ]  # fmt: skip
