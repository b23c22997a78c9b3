"""Item analysis agrees with numpy and scipy on the same data."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from chockbook.results.statistics import alpha, correlation, upper_lower, variance


def answers(seed: int, students: int, questions: int) -> np.ndarray:
    """Rights and wrongs of students (rows) who differ, to questions (columns) that differ."""
    chance = np.random.default_rng(seed)
    ability, difficulty = chance.normal(0, 1, (students, 1)), chance.normal(0, 1, questions)
    return (chance.random((students, questions)) < 1 / (1 + np.exp(difficulty - ability))).astype(float)


@pytest.mark.parametrize(("seed", "students", "questions"), [(1, 30, 20), (2, 12, 40), (3, 400, 25)])
def test_the_corrected_point_biserial_is_that_of_scipy(seed, students, questions):
    rights = answers(seed, students, questions)
    seen = 0
    for n in range(questions):
        rest = np.delete(rights, n, axis=1).mean(axis=1)
        if 0 < rights[:, n].mean() < 1:
            expected = stats.pointbiserialr(rights[:, n], rest).statistic
            assert correlation(list(rights[:, n]), list(rest)) == pytest.approx(expected, abs=1e-12)
            seen += 1
    assert seen > questions / 2


@pytest.mark.parametrize(("seed", "students", "questions"), [(4, 30, 20), (5, 11, 8), (6, 300, 40)])
def test_alpha_is_that_of_the_covariance_matrix(seed, students, questions):
    rights = answers(seed, students, questions)
    matrix = np.cov(rights, rowvar=False)
    expected = questions / (questions - 1) * (1 - np.trace(matrix) / matrix.sum())
    assert alpha([list(column) for column in rights.T]) == pytest.approx(expected, abs=1e-12)


def test_upper_less_lower_is_that_of_the_sorted_scores():
    chance = np.random.default_rng(7)
    rights, scores = chance.integers(0, 2, 37).astype(float), chance.permutation(37) / 37.0  # no two scores are equal
    order, size = np.argsort(scores), 10  # 27 percent of 37 is 9.99
    expected = rights[order[-size:]].mean() - rights[order[:size]].mean()
    assert upper_lower(list(rights), list(scores)) == pytest.approx(expected, abs=1e-12)


def test_equal_scores_at_the_border_of_a_group_count_as_their_mean_over_all_orders():
    chance = np.random.default_rng(8)
    rights, scores = chance.integers(0, 2, 30).astype(float), chance.integers(0, 4, 30) / 4.0
    found = []
    for _ in range(20_000):
        order = np.lexsort((chance.random(30), scores))
        found.append(rights[order[-8:]].mean() - rights[order[:8]].mean())
    assert upper_lower(list(rights), list(scores)) == pytest.approx(np.mean(found), abs=0.005)


def test_upper_less_lower_by_hand():
    # 27 percent of 10 is 3 students: the best three have 1, 1, 0, the last three 0, 0, 1.
    rights = [1, 1, 0, 1, 0, 1, 0, 0, 0, 1]
    scores = [10, 9, 8, 7, 6, 5, 4, 3, 2, 1]
    assert upper_lower(rights, scores) == pytest.approx(2 / 3 - 1 / 3)


def test_what_does_not_vary_has_no_figure():
    assert correlation([1, 1, 1], [0.1, 0.5, 0.9]) is None
    assert correlation([1, 0, 1], [0.5, 0.5, 0.5]) is None
    assert correlation([1], [0.5]) is None
    assert upper_lower([1, 0, 1], [0.5, 0.5, 0.5]) is None
    assert upper_lower([1], [0.5]) is None
    assert alpha([[1, 0], [0, 1]]) is None
    assert alpha([[1, 0, 1]]) is None


@settings(max_examples=200, deadline=None)
@given(st.lists(st.tuples(st.integers(0, 1), st.integers(0, 20)), min_size=2, max_size=60))
def test_figures_lie_where_they_can(pairs):
    rights, scores = [float(right) for right, _ in pairs], [score / 20 for _, score in pairs]
    for value in (correlation(rights, scores), upper_lower(rights, scores)):
        assert value is None or -1 <= value <= 1
    assert variance(scores) == pytest.approx(np.var(scores), abs=1e-12)
