"""25 faults of different kinds, planted together in a copy of the shipped tables: 25 messages, each at its line."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

from projects import SHIPPED, assemble

from chockbook.faults import errors

C, R, S, L, T, W, P, J = (f"{name}.yaml" for name in (
    "catalogue", "rulebooks", "sources", "limits", "route", "words", "publisher", "jurisdictions"))  # fmt: skip

# (rule, table, record whose text is changed, what stands in it, what takes its place, what the line then holds)
PLANTED = [
    ("unknown-reference", C, "- id: wheel-seal\n", "system: wheels-and-hubs", "system: wheels-and-hub", "wheels-and-hub\n"),
    ("unknown-key", C, "- id: wheel-nut.loose\n", "    check:", "    chekc:", "chekc:"),
    ("missing-key", C, "- id: wheel-nut.missing\n", "    vehicles:", "    # vehicles:", "- id: wheel-nut.missing"),
    ("missing-key", C, "- id: rim.damaged\n", "    component:", "    # component:", "- id: rim.damaged"),
    ("duplicate-key", C, "- id: hub-oil.low\n", "    vehicles: [", "    component: hub-oil\n    vehicles: [",
     "    component: hub-oil\n    vehicles"),
    ("bad-choice", C, "- id: wheel-seal.leaks\n", "vehicles: [truck,", "vehicles: [boat,", "[boat,"),
    ("bad-choice", C, "- id: u-bolt.loose\n", "fit: named", "fit: nearly", "fit: nearly"),
    ("unknown-reference", C, "- id: u-bolt.broken\n", "item: 20-major-d", "item: 20-major-z", "20-major-z"),
    ("unknown-reference", C, "- id: tire-tread.worn-steer\n", "limits: [tread-depth", "limits: [tread-dept", "tread-dept]"),
    ("bad-id", C, "- id: tire-tread.cords\n", "- id: tire-tread.cords", "- id: Tire-Tread.cords", "Tire-Tread.cords"),
    ("plain-language", C, "- id: seat-belt.missing\n", 'en: "Look for', 'en: "Look; it must show. Look for', "Look; it must show"),
    ("same-alias", C, "- id: seat-belt.webbing-cut\n", 'en: ["', 'en: ["cut belt twice", "cut belt twice", "', "cut belt twice"),
    ("missing-key", R, "- id: 7-minor-a\n", "source:", "# source:", "- id: 7-minor-a"),
    ("missing-key", R, "- id: 7-major-a\n", "locator:", "# locator:", "- id: 7-major-a"),
    ("unknown-reference", R, "- id: 16-minor-a\n", "severity: minor", "severity: mild", "severity: mild"),
    ("standing", R, "- id: 12-major-a\n", "  basis: from-memory", "  basis: published", "  basis: published"),
    ("bad-choice", R, "- id: 12-major-b\n", "basis: from-memory", "basis: hearsay", "hearsay"),
    ("bad-address", S, "- id: on-truck-handbook\n", "url: \"https://", "url: \"ftp://", "ftp://"),
    ("wrong-kind", S, "- id: s1-copy-a\n", "read_on: 2026-11-25", "read_on: last week", "last week"),
    ("wrong-kind", L, "- id: air-build-up\n", "value: ", "value: about ", "value: about"),
    ("unknown-reference", T, "- id: horns-city\n", "finds: [", "finds: [horn.missing, ", "horn.missing"),
    ("out-of-range", T, "- id: horns-air\n", "seconds: ", "seconds: -", "seconds: -"),
    ("bad-choice", W, "- id: rolling\n", "level: warning", "level: siren", "siren"),
    ("wrong-kind", P, "", "demo: true", "demo: perhaps", "perhaps"),
    ("unknown-key", P, "", "contact:", "kontact:", "kontact:"),
]


def plant(tables: Path) -> list[tuple[str, str, int]]:
    """Change the tables; give (rule, file, line) of each fault, found in the text and not by the checks."""
    wanted = []
    for rule, file, record, old, new, marker in PLANTED:
        path = tables / file
        text = path.read_text(encoding="utf-8")
        start = text.index(record)
        at = text.index(old, start)
        text = text[:at] + new + text[at + len(old) :]
        path.write_text(text, encoding="utf-8", newline="")
        wanted.append((rule, file, record, marker))
    found = []
    for rule, file, record, marker in wanted:
        text = (tables / file).read_text(encoding="utf-8")
        start = text.find(record)
        at = text.index(marker, max(start, 0))
        found.append((rule, f"source_tables/{file}", text.count("\n", 0, at) + 1))
    return found


def test_each_planted_fault_is_told_at_its_line(tmp_path):
    tables = Path(shutil.copytree(SHIPPED, tmp_path / "source_tables"))
    assert errors(assemble(tables).faults) == []
    wanted = plant(tables)
    assert len(wanted) == 25
    told = sorted((fault.rule, fault.place.file, fault.place.line) for fault in errors(assemble(tables).faults))
    assert told == sorted(wanted)


def test_the_kinds_differ():
    assert len({rule for rule, *_ in PLANTED}) >= 10
    assert all(re.search(r"\S", old) for _, _, _, old, _, _ in PLANTED)
