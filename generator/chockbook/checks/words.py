"""words.yaml holds every fixed word that the outputs use, and what the lookup knows of each language."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from ..faults import Fault, quoted
from .walk import Tables, records, said

RULE = "missing-word"


def find(tables: Tables, needed: Iterable[str]) -> Iterator[Fault]:
    """A fault for each fixed word that is needed and not there, and for each language without its search words.

    Args:
        needed: keys that the outputs use; those of the shipped words.yaml.
    """
    needed = set(needed)
    if needed:
        yield from _search_words(tables)
    table = tables["words.yaml"]
    words = table.data.get("words") if isinstance(table.data, dict) else None
    if not isinstance(words, dict):
        return
    for key in sorted(needed - set(words)):
        yield Fault(table.place(("words",)), RULE, f"the word {quoted(key)} is missing",
                    "an output would have a gap where it stands",
                    f"add {key}: with its wording in each language, as in the shipped words.yaml")  # fmt: skip


def _search_words(tables: Tables) -> Iterator[Fault]:
    known = {said(record, "language") for _, record in records(tables, "words.yaml", "search")}
    for at, language in records(tables, "words.yaml", "languages"):
        code = language.get("code")
        if isinstance(code, str) and code not in known:
            yield Fault(tables["words.yaml"].place((*at, "code")), "missing-search-words",
                        f"the language {quoted(code)} has no record under `search`",
                        "the lookup could find nothing in that language",
                        f"add `- {{language: {code}, apostrophe: joins}}` under `search`; its `drop`, `endings` and "
                        "`same` make the lookup better, and can follow")  # fmt: skip
