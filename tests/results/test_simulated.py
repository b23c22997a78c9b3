"""Simulated answers give back the difficulties that they were made from; each has its seed, so all runs are alike."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats
from simulated import Simulated

from chockbook.drill.keys import keys_of
from chockbook.drill.sheets import Setting, make_sheets
from chockbook.results import class_results
from chockbook.results.read import answers_in


@pytest.fixture(scope="module")
def keys(shipped):
    return keys_of(make_sheets(shipped, Setting("on-s1", "en", sheets=30, questions=20, seed="winter")))


def marked(keys, simulated):
    found = class_results(answers_in(simulated.file, "a.csv", keys.sheets), [keys])
    assert found.faults == ()
    return found


def found_and_expected(results, simulated, fewest: int = 1):
    """Share right and mean chance of each question that enough students were asked, in one order."""
    items = [item for item in results.items if item.students >= fewest]
    assert all(item.students == len(simulated.chances[item.asked.question_id]) for item in items)
    return (np.array([item.difficulty for item in items]),
            np.array([np.mean(simulated.chances[item.asked.question_id]) for item in items]))  # fmt: skip


def test_thirty_students_with_one_sheet_give_back_its_difficulties(keys):
    simulated = Simulated(keys, [next(iter(keys.sheets))] * 30, seed=11)
    found, expected = found_and_expected(marked(keys, simulated), simulated)
    assert len(found) == 20
    # The standard error of a share of 30 is at most 0.091; the mean error of a normal one is 0.8 of that.
    assert np.abs(found - expected).mean() < 0.08
    assert np.abs(found - expected).max() < 0.30
    assert stats.spearmanr(found, expected).statistic > 0.9


def test_thirty_students_with_thirty_sheets_differ_by_chance_only(keys):
    distances, spreads = [], []
    for seed in range(12, 22):  # one class can be a rare one: ten together are not
        simulated = Simulated(keys, list(keys.sheets), seed=seed)
        results = marked(keys, simulated)
        for item in results.items:
            chances = np.array(simulated.chances[item.asked.question_id])
            each = chances * (1 - chances)
            distances.append((item.right - chances.sum()) / np.sqrt(each.sum()))
            # The variance of the square: 2, and the excess kurtosis of a sum of few yes or no answers.
            spreads.append(2 + (each * (1 - 6 * each)).sum() / each.sum() ** 2)
    assert len(distances) > 2000
    squares = np.square(distances).sum()
    assert abs(squares - len(distances)) < stats.norm.ppf(0.995) * np.sqrt(sum(spreads))
    assert abs(np.mean(distances)) < 3 / np.sqrt(len(distances))
    by_system = {one.id: one for one in results.shares["systems"]}
    assert sum(one.asked for one in by_system.values()) == 600


def test_a_large_class_gives_back_difficulties_closely(keys):
    simulated = Simulated(keys, list(keys.sheets) * 50, seed=13)
    results = marked(keys, simulated)
    found, expected = found_and_expected(results, simulated, fewest=50)
    assert len(found) > 200
    assert np.abs(found - expected).mean() < 0.045  # 50 students: a standard error of at most 0.071
    assert stats.spearmanr(found, expected).statistic > 0.97
    difficulty = [simulated.difficulty[item.asked.question_id] for item in results.items]
    shares = [item.difficulty for item in results.items]
    assert stats.spearmanr(shares, difficulty).statistic < -0.95  # the harder, the fewer right
    discriminations = [item.point_biserial for item in results.items if item.students >= 500]
    assert len(discriminations) >= 5
    assert min(discriminations) > 0.1  # in the model every question tells those who know more


@pytest.mark.parametrize("different", [False, True], ids=["one sheet", "thirty sheets"])
def test_the_reliability_is_near_the_true_one(keys, different):
    codes = list(keys.sheets) if different else [next(iter(keys.sheets))] * 30
    simulated = Simulated(keys, codes * 50, seed=14)
    results = marked(keys, simulated)
    scores = [sheet.right for sheet in results.sheets]
    # What a score tells of the ability: the square of their correlation.
    true = stats.pearsonr(scores, simulated.ability).statistic ** 2
    assert results.reliability.formula == ("alpha" if different else "kr20")
    assert results.reliability.value == pytest.approx(true, abs=0.06)


def test_item_analysis_of_a_marked_class_agrees_with_scipy(keys):
    code = next(iter(keys.sheets))
    results = marked(keys, Simulated(keys, [code] * 60, seed=15))
    rights = np.array([[one.right for one in sheet.answers] for sheet in results.sheets], float)
    place = {one.question_id: n for n, one in enumerate(keys.sheets[code])}
    for item in results.items:
        n = place[item.asked.question_id]
        rest = np.delete(rights, n, axis=1).sum(axis=1)
        assert item.difficulty == pytest.approx(rights[:, n].mean())
        assert item.point_biserial == pytest.approx(stats.pointbiserialr(rights[:, n], rest).statistic, abs=1e-9)
    p, totals = rights.mean(axis=0), rights.sum(axis=1)
    assert results.reliability.value == pytest.approx(20 / 19 * (1 - (p * (1 - p)).sum() / totals.var()), abs=1e-9)
