"""What the changelog says of the newest edition of the data is what the tables hold, counted here."""

from __future__ import annotations

import re
from pathlib import Path

import yaml
from projects import SHIPPED

CHANGELOG = Path(__file__).parents[2] / "CHANGELOG.md"


def table(name: str) -> dict:
    return yaml.load((SHIPPED / name).read_text("utf-8"), Loader=yaml.CSafeLoader)


def test_the_counts_of_the_newest_edition_are_those_of_the_tables():
    newest = CHANGELOG.read_text("utf-8").partition("## Data")[2].split("\n### ")[1]
    defects = table("catalogue.yaml")["defects"]
    rulings = sum(len(one["rulings"]) for one in defects)
    assert re.search(r"(\d+) defects with (\d+) rulings", newest).groups() == (str(len(defects)), str(rulings))
    items = [sum(len(part["items"]) for schedule in book["schedules"] for part in schedule["parts"])
             for book in table("rulebooks.yaml")["rulebooks"]]  # fmt: skip
    assert [int(one) for one in re.findall(r"(\d+)\s+items", newest)] == items
