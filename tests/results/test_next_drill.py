"""The next drill asks more about what the class missed."""

from __future__ import annotations

from collections import Counter

import pytest
from simulated import Simulated

from chockbook.drill.keys import keys_of
from chockbook.drill.sheets import Setting, make_sheets
from chockbook.drill.weights import read_weights, write_weights
from chockbook.results import class_results
from chockbook.results.next_drill import LEAST, MOST, write_next_drill
from chockbook.results.read import answers_in

MISSED = ("suspension", "tires")


@pytest.fixture(scope="module")
def results(shipped):
    """A class to whose students every question about two systems is much harder than they should find it."""
    keys = keys_of(make_sheets(shipped, Setting("on-s1", "en", sheets=20, questions=20, seed="autumn")))
    simulated = Simulated(keys, list(keys.sheets), seed=21, hardest=0.5, mean=1.0, missed=MISSED)
    return class_results(answers_in(simulated.file, "a.csv", keys.sheets), [keys])


def asked_about(shipped, weights):
    made = make_sheets(shipped, Setting("on-s1", "en", sheets=20, questions=20, seed="winter", weights=weights))
    return made, Counter(question.system_id for sheet in made.sheets for question in sheet.questions)


@pytest.mark.parametrize("name", ["next.yaml", "next.yml", "next.json"])
def test_weights_are_read_as_they_were_written(results, tmp_path, name):
    written = write_next_drill(results.shares["systems"], "from a test", tmp_path / name)
    assert dict(read_weights(tmp_path / name)) == written == results.weights


def test_a_weighted_drill_asks_more_about_the_missed_systems(shipped, results):
    weights = tuple(results.weights.items())
    assert {system for system, weight in weights if weight > 1.5} >= set(MISSED)
    (even, before), (weighted, after) = asked_about(shipped, ()), asked_about(shipped, weights)
    assert sum(after.values()) == sum(before.values()) == 400
    for system in MISSED:
        assert after[system] > 1.25 * before[system]
    assert set(before) <= set(after)  # none goes unasked
    assert weighted.plan == even.plan  # sheets stay as hard


def test_weights_keep_between_their_bounds(results):
    assert min(results.weights.values()) >= LEAST
    assert max(results.weights.values()) <= MOST
    missed = min(results.weights[system] for system in MISSED)
    assert missed > max(weight for system, weight in results.weights.items() if system not in MISSED)


def test_the_same_results_write_the_same_bytes(results, tmp_path):
    for name in ("a.yaml", "b.yaml"):
        write_next_drill(results.shares["systems"], "from a test", tmp_path / name)
    assert (tmp_path / "a.yaml").read_bytes() == (tmp_path / "b.yaml").read_bytes()


@pytest.mark.parametrize(
    "text",
    [b"", b"{}", b"[]", b"systems: [tires]", b"systems: {tires: much}", b"systems: {tires: 0}", b"systems: {tires: -1}",
     b"systems: {tires: .inf}", b"systems: {tires: nan}", b"systems: {tires: {a: 1}}", b"\xff\xfe", b"{", b"a: &a [*a]",
     b"[" * 20_000, b"x" * 70_000, b"systems: !!python/object/apply:os.system [ls]"],
)  # fmt: skip
def test_what_is_no_file_of_weights_is_refused(text, tmp_path):
    path = tmp_path / "weights.yaml"
    path.write_bytes(text)
    with pytest.raises(ValueError, match=r"weights\.yaml"):
        read_weights(path)


def test_a_file_written_by_hand_is_read(tmp_path):
    path = tmp_path / "weights.json"
    path.write_text('{"systems": {"tires": 2, "horn": 0.5}}')
    assert read_weights(path) == (("horn", 0.5), ("tires", 2.0))
    write_weights({"tires": 2.0}, 'note with "quotes": and a colon', path)
    assert read_weights(path) == (("tires", 2.0),)
