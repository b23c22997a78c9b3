"""Every rule has a smallest bad table, and its message is right to the last word.

The cases stand in tests/fault_cases, one file a rule. The expected text is reviewed by hand: it is the
message that a person reads.
"""

from __future__ import annotations

import ast
from pathlib import Path

import pytest
import yaml
from projects import TESTS, assemble, tiny_tables

from chockbook.faults import summary

CASES = TESTS / "fault_cases"
PACKAGE = TESTS.parent / "generator" / "chockbook"
TOLD_ELSEWHERE = {
    "encoding": "needs bytes: tests/tables/test_reading.py",
    "missing-table": "needs a missing file: tests/tables/test_reading.py",
    "too-large": "needs a large file: tests/tables/test_reading.py",
    "unreadable": "needs a file that cannot be opened: tests/tables/test_reading.py",
    "missing-translation": "one message for each text: tests/checks/test_translations.py",
    "carrier-file": "needs a folder of carriers: tests/carriers/test_faults.py",
    "bad-phone": "needs a carrier: tests/carriers/test_faults.py",
    "contact-language": "needs a carrier: tests/carriers/test_contacts.py",
    "plain-http": "needs a carrier: tests/carriers/test_faults.py",
    "without-effect": "needs a carrier: tests/carriers/test_faults.py",
    "same-document": "needs a carrier: tests/carriers/test_faults.py",
    "punch": "needs a carrier: tests/carriers/test_faults.py",
    "unit-first": "needs a carrier: tests/carriers/test_faults.py",
    "unit-brakes": "needs a carrier: tests/carriers/test_faults.py",
    "unit-coupling": "needs a carrier: tests/carriers/test_faults.py",
    "same-name": "needs a carrier: tests/carriers/test_faults.py",
    "same-phone": "needs a carrier: tests/carriers/test_faults.py",
    "two-languages": "needs a carrier: tests/carriers/test_faults.py",
    "kept-edition": "needs a kept edition: tests/editions/test_kept.py",
    "bad-settings": "needs a mkdocs.yml: tests/checks/test_settings.py",
    "missing-word": "needs a list of words: tests/checks/test_words.py",
    "missing-search-words": "needs a project: tests/checks/test_words.py",
    "bad-value": "catches kinds of mistakes that no shape of ours can make today",
}


def _cases() -> list:
    found = []
    for path in sorted(CASES.glob("*.yaml")):
        for case in yaml.safe_load(path.read_text(encoding="utf-8")):
            found.append(pytest.param(path.stem, case, id=f"{path.stem}: {case['name']}"))
    return found


@pytest.mark.parametrize("rule, case", _cases())
def test_a_bad_table_gives_its_message(rule, case, tmp_path):
    tables = tiny_tables(tmp_path, *((c["file"], c["find"], c["put"]) for c in case["changes"]))
    faults = assemble(tables).faults
    text = "\n".join([*map(str, faults), summary(faults)]) + "\n"
    assert text == case["expected"]
    assert rule in {fault.rule for fault in faults}


def test_every_rule_has_a_case():
    rules = _rules_in_code()
    assert rules, "no rule was found in the code"
    assert rules == {path.stem for path in CASES.glob("*.yaml")} | set(TOLD_ELSEWHERE)


def _rules_in_code() -> set[str]:
    """Rule codes in calls of Fault and of the reader's _fault, and the RULE of a module."""
    found = set()
    for path in [*(PACKAGE / "tables").glob("*.py"), *(PACKAGE / "checks").glob("*.py")]:
        tree = ast.parse(path.read_text(encoding="utf-8"))
        for node in ast.walk(tree):
            if isinstance(node, ast.Assign) and getattr(node.targets[0], "id", "") == "RULE":
                found.add(ast.literal_eval(node.value))
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
                at = {"Fault": 1, "_fault": 2}.get(node.func.id)
                if at is not None and len(node.args) > at and isinstance(node.args[at], ast.Constant):
                    found.add(node.args[at].value)
    return found


def test_the_tiny_tables_have_no_fault(tmp_path: Path):
    assert assemble(tiny_tables(tmp_path)).faults == []


def test_all_faults_of_all_tables_come_in_one_run(tmp_path):
    tables = tiny_tables(
        tmp_path,
        ("catalogue.yaml", "limits: [tread]", "limits: [tred]"),
        ("rulebooks.yaml", "actions: [stop, record]", "actions: [halt, record]"),
        ("route.yaml", "seconds: 10", "seconds: ten"),
        ("words.yaml", "level: warning", "level: alarm"),
        ("publisher.yaml", "demo: true", "demmo: true"),
    )
    assembly = assemble(tables)
    assert assembly.catalogue is None
    assert [str(fault.place) for fault in assembly.faults] == [
        "tables/catalogue.yaml:35:14",
        "tables/publisher.yaml:3:1",
        "tables/route.yaml:15:196",
        "tables/rulebooks.yaml:10:128",
        "tables/words.yaml:4:26",
    ]
