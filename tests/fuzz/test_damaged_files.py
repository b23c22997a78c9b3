"""Damaged settings and keys give one clear answer; long runs: tests/fuzz/run.py."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from fuzz.files_of_commands import OTHERS

CORPUS = Path(__file__).with_name("corpus")


@pytest.mark.parametrize("name", sorted(OTHERS))
def test_damage_gives_one_clear_answer(name):
    target, chance = OTHERS[name](), random.Random(5)
    kept = [path.read_bytes() for path in sorted((CORPUS / name).glob("*"))]
    try:
        for raw in [*kept, *(chance.randbytes(chance.randrange(3, 60)) for _ in range(target.in_a_test))]:
            target.run(raw)
    finally:
        target.close()
