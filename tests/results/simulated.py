"""Answers of students whose ability is known to questions whose difficulty is known, by the Rasch model (1PL)."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from chockbook.drill.keys import Keys
from chockbook.drill.sheets import LETTERS


class Simulated:
    """A file of answers with the chance of each right answer.

    A student with ability t answers a question of difficulty b right with the chance 1 / (1 + exp(b - t)). Abilities
    are normal with a standard deviation of 1, difficulties even; those of missed systems are 3 higher.
    """

    def __init__(
        self, keys: Keys, sheets: Sequence[str], seed: int, hardest: float = 2.0, mean: float = 0.3,
        missed: Sequence[str] = (),
    ):  # fmt: skip
        chance = np.random.default_rng(seed)
        ids = sorted({one.question_id for code in set(sheets) for one in keys.sheets[code]})
        self.difficulty = dict(zip(ids, chance.permutation(np.linspace(-hardest, hardest, len(ids))), strict=True))
        self.ability = chance.normal(mean, 1.0, len(sheets))
        self.chances: dict[str, list[float]] = {}
        """For each question the chances of the students who were asked it."""
        self.expected_scores: list[float] = []
        rows = ["sheet,student,answers"]
        for n, (code, ability) in enumerate(zip(sheets, self.ability, strict=True), 1):
            letters, sum_of_chances = "", 0.0
            for one in keys.sheets[code]:
                p = 1 / (1 + np.exp(self.difficulty[one.question_id] + 3 * (one.system_id in missed) - ability))
                self.chances.setdefault(one.question_id, []).append(p)
                sum_of_chances += p
                wrong = [letter for letter in LETTERS[: len(one.choices)] if letter != one.answer]
                letters += one.answer if chance.random() < p else str(chance.choice(wrong))
            self.expected_scores.append(sum_of_chances)
            rows.append(f"{code},S{n:04},{letters}")
        self.file = ("\r\n".join(rows) + "\r\n").encode()
