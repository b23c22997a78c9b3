"""No file of tests is passed over: by itself, the test runner enters no folder named build, dist or venv."""

from __future__ import annotations

from fnmatch import fnmatch
from pathlib import Path

TESTS = Path(__file__).parents[1]


def test_every_folder_with_tests_is_entered(pytestconfig):
    folders = {path.parent.relative_to(TESTS) for path in TESTS.rglob("test_*.py")}
    assert len(folders) > 10
    passed_over = pytestconfig.getini("norecursedirs")
    assert [str(one) for one in folders if any(fnmatch(part, name) for part in one.parts for name in passed_over)] == []
