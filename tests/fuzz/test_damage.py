"""Damaged tables and carriers give clear faults or a right result; long runs: tests/fuzz/run.py."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from fuzz.targets import TARGETS

CORPUS = Path(__file__).with_name("corpus")


@pytest.mark.parametrize("name", sorted(TARGETS))
def test_damage_gives_clear_faults_or_a_right_result(name):
    target, chance = TARGETS[name](), random.Random(5)
    kept = [path.read_bytes() for path in sorted((CORPUS / name).glob("*"))]
    try:
        for raw in [*kept, *(chance.randbytes(chance.randrange(3, 60)) for _ in range(150))]:
            target.run(raw)
    finally:
        target.close()
