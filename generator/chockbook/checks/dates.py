"""The edition's dates make sense, and the law has been looked at lately."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from ..faults import Fault
from .walk import Tables


def find(tables: Tables, today: date | None = None) -> Iterator[Fault]:
    """A fault where check_by does not follow the date; a warning where check_by has passed.

    Args:
        today: the day to judge by; the machine's day where it is left out.
    """
    table = tables["catalogue.yaml"]
    edition = table.data.get("edition") if isinstance(table.data, dict) else None
    if not isinstance(edition, dict):
        return
    issued, check_by = (day_of(edition.get(key)) for key in ("date", "check_by"))
    if issued and check_by and check_by <= issued:
        yield Fault(table.place(("edition", "check_by")), "edition-dates",
                    f"check_by {check_by} does not come after the date {issued}",
                    "cards would be out of date on the day they are printed",
                    "write a later check_by")  # fmt: skip
    elif check_by and check_by < (today or date.today()):
        yield Fault(table.place(("edition", "check_by")), "review-due", f"the check was due by {check_by}",
                    "the law may have changed since", "check the rulings against the law in force, then move the date",
                    "warning")  # fmt: skip


def day_of(text: object) -> date | None:
    """A day as written; None where it is none."""
    try:
        return date.fromisoformat(str(text))
    except ValueError:
        return None
