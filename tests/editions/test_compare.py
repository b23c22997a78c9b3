"""What changed between two editions: forty changes whose meaning was written by hand, and layouts that change nothing."""

from __future__ import annotations

import random
from pathlib import Path

import pytest
import yaml
from tables_of_tests import BEFORE, changed, data_of

from chockbook.editions import compare

CASES = yaml.safe_load((Path(__file__).parent / "forty_changes.yaml").read_text(encoding="utf-8"))


def _changes(case: dict) -> list[tuple[str, str, str]]:
    if "cut" in case:  # a line that moves to the end of its file
        text = (BEFORE / case["file"]).read_text(encoding="utf-8")
        last = text.splitlines(keepends=True)[-1]
        return [(case["file"], case["cut"], ""), (case["file"], last, last + case["cut"])]
    return [(case["file"], case["find"], case["put"]), *(tuple(one) for one in case.get("also", []))]


def _told(tables: Path) -> list:
    difference = compare(data_of(BEFORE), data_of(tables))
    return [[c.kind, c.about, c.id, c.rulebook, c.before, c.after] for c in difference.changes]


def _in_order(told: list) -> list[str]:
    return sorted(map(repr, told))


def test_there_are_forty_changes_of_every_kind():
    assert len(CASES) >= 40
    kinds = {change[0] for case in CASES for change in case["told"]}
    assert kinds == {"severity-up", "severity-down", "new", "gone", "renamed", "actions", "circumstance", "figures", "wording",
                     "source", "standing", "translation", "route", "duties", "words", "applies-to"}  # fmt: skip


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["name"])
def test_each_change_is_told_and_nothing_else(case, tmp_path):
    assert _in_order(_told(changed(tmp_path, *_changes(case)))) == _in_order(case["told"])


def test_changes_made_together_are_told_together(tmp_path):
    together = [case for case in CASES if not case.get("alone") and "also" not in case and "cut" not in case]
    assert len(together) >= 30
    tables = changed(tmp_path, *(change for case in together for change in _changes(case)))
    assert _in_order(_told(tables)) == _in_order([one for case in together for one in case["told"]])


def test_what_went_comes_back_the_other_way(tmp_path):
    tables = changed(tmp_path, ("rulebooks.yaml", "{id: 2-minor-c, severity: minor,", "{id: 2-minor-c, severity: major,"))
    back = compare(data_of(tables), data_of(BEFORE))
    assert [(c.kind, c.id) for c in back.changes] == [("severity-down", "wheel.cracked")]


def test_two_entries_that_say_the_same_are_never_called_renamed(tmp_path):
    tables = changed(
        tmp_path,
        ("catalogue.yaml", "- id: wheel.loose", "- id: wheel.wobbles"),
        ("catalogue.yaml", "Push each wheel. It stays still.", "Push each wheel hard. It stays still."),
        ("route.yaml", "wheel.loose", "wheel.wobbles"),
    )
    told = {(change[0], change[2]) for change in _told(tables)}
    assert {("gone", "wheel.loose"), ("new", "wheel.wobbles")} <= told
    assert "renamed" not in {kind for kind, _ in told}


def test_tables_written_in_another_layout_are_the_same_edition(tmp_path):
    tables = changed(tmp_path)
    for number, path in enumerate(sorted(tables.glob("*.yaml"))):
        data = yaml.load(path.read_text(encoding="utf-8"), yaml.BaseLoader)
        text = yaml.safe_dump(_shuffled(data, random.Random(number)), indent=4, width=60, default_flow_style=number % 2 == 0,
                              default_style='"' if number % 3 else None, sort_keys=False, allow_unicode=True)  # fmt: skip
        path.write_text("# another hand\n" + text, encoding="utf-8")
    before, after = data_of(BEFORE), data_of(tables)
    assert compare(before, after).changes == ()
    assert before["edition"]["code"] == after["edition"]["code"]


def _shuffled(value, chance: random.Random):
    """Keys in another order; lists of ids and choices in another order where it means nothing."""
    if isinstance(value, dict):
        keys = list(value)
        chance.shuffle(keys)
        made = {key: _shuffled(value[key], chance) for key in keys}
        for key in ("vehicles", "fitted", "read_in", "finds", "limits", "sources"):
            if isinstance(made.get(key), list) and all(isinstance(one, str) for one in made[key]):
                chance.shuffle(made[key])
        return made
    return [_shuffled(one, chance) for one in value] if isinstance(value, list) else value
