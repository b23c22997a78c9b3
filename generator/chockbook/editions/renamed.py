"""Records that only changed their id: told where it is certain, and never guessed."""

from __future__ import annotations

import json
from collections import Counter
from typing import Any

from .plain import REFERS, Facts

ORDER = ("source", "caution", "figure", "system", "component", "action", "severity", "item", "entry", "station", "step",
         "duty", "report")  # fmt: skip
"""Kinds so that a record comes after those that it names."""


def follow_renames(old: dict[str, Facts], new: dict[str, Facts]) -> list[tuple[str, str, str]]:
    """Give the old records the ids that they have in the new edition; (kind, old id, new id) of each.

    A record is renamed where one id is gone and one is new, all else that they say is the same to the letter,
    and no other record that is gone or new says the same.
    """
    found = []
    for kind in ORDER:
        gone = {key: _said(fields) for key, fields in old[kind].items() if key not in new[kind]}
        fresh = {key: _said(fields) for key, fields in new[kind].items() if key not in old[kind]}
        once = [said for said, count in Counter(gone.values()).items() if count == 1]
        alone = [said for said, count in Counter(fresh.values()).items() if count == 1]
        by_said = {said: key for key, said in fresh.items()}
        names = {key: by_said[said] for key, said in gone.items() if said in once and said in alone}
        if names:
            old[kind] = {names.get(key, key): fields for key, fields in old[kind].items()}
            for other, facts in old.items():
                old[other] = {key: _renamed(other, fields, kind, names) for key, fields in facts.items()}
            found += [(kind, key, names[key]) for key in names]
    return found


def _said(fields: dict[str, Any]) -> str:
    return json.dumps(fields, sort_keys=True)


def _renamed(kind: str, fields: dict[str, Any], target: str, names: dict[str, str]) -> dict[str, Any]:
    changed = {}
    for key, value in fields.items():
        if kind == "entry" and key == "rulings":
            changed[key] = [_renamed("ruling", ruling, target, names) for ruling in value]
        elif kind == "figure" and key == "rows":
            changed[key] = [_renamed("row", row, target, names) for row in value]
        elif REFERS.get((kind, key)) == target or (target == "source" and key in ("source", "read_in")):
            changed[key] = [names.get(one, one) for one in value] if isinstance(value, list) else names.get(value, value)
        else:
            changed[key] = value
    for key in ("finds", "limits", "read_in", "also"):
        if isinstance(changed.get(key), list):
            changed[key].sort()
    return changed
