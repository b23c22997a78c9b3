"""words.yaml holds every fixed word that the outputs use."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from ..faults import Fault, quoted
from .walk import Tables

RULE = "missing-word"


def find(tables: Tables, needed: Iterable[str]) -> Iterator[Fault]:
    """A fault for each fixed word that is needed and not there.

    Args:
        needed: keys that the outputs use; those of the shipped words.yaml.
    """
    table = tables["words.yaml"]
    words = table.data.get("words") if isinstance(table.data, dict) else None
    if not isinstance(words, dict):
        return
    for key in sorted(set(needed) - set(words)):
        yield Fault(table.place(("words",)), RULE, f"the word {quoted(key)} is missing",
                    "an output would have a gap where it stands",
                    f"add {key}: with its wording in each language, as in the shipped words.yaml")  # fmt: skip
