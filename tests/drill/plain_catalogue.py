"""What the exported data says, read without the code that makes the questions: texts, rulings, figures."""

from __future__ import annotations

import re
import unicodedata
from fractions import Fraction
from typing import Any

INCH, PSI = Fraction(254, 10), Fraction("6.894757293168")
MM_OF_MERCURY = Fraction("0.133322387415")
"""Kilopascals, as tables of conventional millimetres of mercury print it."""
UNITS = {
    "mm": INCH / INCH, "in": INCH, "po": INCH, "ft": 12 * INCH, "pi": 12 * INCH, "m": Fraction(1000),
    "kPa": Fraction(1), "psi": PSI, "lb/po²": PSI, "s": Fraction(1), "min": Fraction(60),
    "degrees": Fraction(1), "degrés": Fraction(1), "%": Fraction(1, 100), "": Fraction(1), "B:C": Fraction(1),
    "mm of mercury": MM_OF_MERCURY, "mm de mercure": MM_OF_MERCURY,
    "in of mercury": MM_OF_MERCURY * INCH, "po de mercure": MM_OF_MERCURY * INCH,
}  # fmt: skip
TABLE = {"mm": 1, "m": 1000, "kPa": 1, "kPa/min": 1, "s": 1, "degree": 1, "percent": Fraction(1, 100), "fraction": 1,
         "count": 1, "rating": 1}  # fmt: skip


def words_of(text: str) -> str:
    """Lower-case words without accents, with a space at both ends."""
    bare = "".join(c for c in unicodedata.normalize("NFKD", text.lower()) if not unicodedata.combining(c))
    return " " + " ".join(re.findall(r"[0-9a-z/.,]*[0-9a-z/]", bare)) + " "


def find_defect(data: dict[str, Any], said: str, language: str) -> dict[str, Any]:
    """The one entry whose component and condition stand in a text."""
    found = []
    for entry in data["entries"]:
        component, condition = entry["component"]["name"][language], entry["condition"][language]
        if re.search(re.escape(component) + r"\s?: " + re.escape(condition) + r"(?=$|[.;]|, )", said):
            found.append(entry)
    # A condition can begin with the whole of another one: the longest is meant.
    found.sort(key=lambda entry: -len(entry["component"]["name"][language] + entry["condition"][language]))
    assert found, said
    assert all(entry["condition"][language] in found[0]["condition"][language]
               or entry["component"]["name"][language] in found[0]["component"]["name"][language]
               for entry in found), said  # fmt: skip
    return found[0]


def rulings(entry: dict[str, Any], rulebook: str, said: str | None, language: str) -> list[dict[str, Any]]:
    """The rulings of a rulebook that can hold where a text says what it says of the circumstances."""
    own = [ruling for ruling in entry["rulings"] if ruling["rulebook"] == rulebook]
    stated = [r for r in own if said and r["applies_when"] and f", {r['applies_when'][language]}" in said]
    if stated:
        longest = max(len(r["applies_when"][language]) for r in stated)
        return [r for r in stated if len(r["applies_when"][language]) == longest]
    return own


def measured(text: str) -> Fraction:
    """A value with its unit in base units: "2 5/8 in" is 66.675."""
    found = re.fullmatch(r"(?:(\d+) )?(\d+)/(\d+)[ \u00a0](\S+)", text)
    if found:
        return (int(found[1] or 0) + Fraction(int(found[2]), int(found[3]))) * UNITS[found[4]]
    found = re.fullmatch(r"([\d.,]+)[ \u00a0]?(.*)", text)
    assert found, text
    return Fraction(found[1].replace(",", ".")) * UNITS[found[2]]


def printed_bounds(limit: dict[str, Any], row: dict[str, Any], unit: str) -> list[Fraction]:
    """The figures of a row in base units, as the source prints them in the unit measured in."""
    line = row["printed"]["en"].replace("\u00a0", " ")
    spelled = {"po": "in", "pi": "ft", "lb/po²": "psi", "degrés": "degrees",
               "mm of mercury": "mm", "mm de mercure": "mm",
               "in of mercury": "in", "po de mercure": "in"}.get(unit, unit)  # fmt: skip
    number = r"(\d+ \d+/\d+|\d+/\d+|\d+(?:\.\d+)?)"
    bounds = []
    for value in (row["value"], row["upper"]):
        if value is None:
            continue
        base = Fraction(value) * TABLE[limit["unit"]]
        near = []
        for digits in re.findall(number + r"(?= (?:to \d+ )?" + re.escape(spelled) + r"(?![a-z0-9]))", line):
            told = sum((Fraction(part) for part in digits.split()), Fraction(0)) * UNITS[unit]
            near.append(told)
        fitting = [told for told in near if abs(told - base) <= base * Fraction(6, 100)]
        bounds.append(min(fitting, key=lambda told: abs(told - base)) if fitting else base)
    return bounds


def passes(limit: dict[str, Any], bounds: list[Fraction], value: Fraction) -> bool:
    """Whether a value is what the figure asks for."""
    low = bounds[0]
    if limit["compare"] == "between":
        return low <= value <= bounds[1]
    return {"at-most": value <= low, "less-than": value < low, "at-least": value >= low,
            "more-than": value > low}[limit["compare"]]  # fmt: skip
