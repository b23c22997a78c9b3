"""The order of the steps for several findings: each ruling's own order is kept."""

from __future__ import annotations

import random
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lookup_site import core_script

from chockbook.catalogue import Finding, decide
from chockbook.catalogue.step_order import merged
from chockbook.views.lookup import lookup_data

STEPS = "abcdefg"


def keeps(whole: list[str], order: list[str]) -> bool:
    return [step for step in whole if step in order] == order


@st.composite
def agreeing(draw: st.DrawFn) -> list[list[str]]:
    """Orders that some one order holds."""
    whole = draw(st.permutations(STEPS))
    taken = draw(st.lists(st.sets(st.sampled_from(STEPS)), max_size=5))
    return [[step for step in whole if step in some] for some in taken]


any_orders = st.lists(st.lists(st.sampled_from(STEPS), unique=True), min_size=1, max_size=5)


@given(agreeing(), st.permutations(STEPS))
def test_every_order_is_kept_where_none_contradicts_another(orders, places):
    whole = merged(orders, places.index)
    assert sorted(whole) == sorted({step for order in orders for step in order})
    assert [order for order in orders if not keeps(whole, order)] == []


@given(any_orders, st.permutations(STEPS))
def test_the_weightiest_order_is_kept_whole_whatever_the_others_say(orders, places):
    whole = merged(orders, places.index)
    assert sorted(whole) == sorted({step for order in orders for step in order})
    assert keeps(whole, orders[0])


@given(*[st.lists(st.sampled_from(STEPS), unique=True)] * 2, st.permutations(STEPS))
def test_a_milder_order_gives_way_only_between_two_steps_that_the_worse_has_the_other_way_round(worse, mild, places):
    whole = merged([worse, mild], places.index)
    turned = [(one, other) for one, other in combinations(mild, 2) if keeps(worse, [other, one])]
    for one, other in combinations(mild, 2):
        between = any(mild.index(a) <= mild.index(one) and mild.index(other) <= mild.index(b) for a, b in turned)
        assert between or keeps(whole, [one, other])


@given(st.sets(st.sampled_from(STEPS)), st.permutations(STEPS))
def test_what_no_order_settles_stands_by_its_place(steps, places):
    assert merged([[step] for step in steps], places.index) == [step for step in places if step in steps]


@pytest.mark.parametrize("rulebook_id", ["on-s1", "us-fmcsr", "qc-list-1"])
def test_the_shipped_rulings_keep_their_own_order_together(shipped, rulebook_id):
    """Two findings at a time, one of each set of actions: what both forbid is left out, nothing changes places."""
    kinds = {}
    for entry in shipped.entries:
        for ruling in entry.rulings_under(rulebook_id)[:1]:
            if "trailer" in entry.vehicles:
                kinds.setdefault(tuple(action.id for action in ruling.actions), []).append(entry.id)
    for one, other in combinations([found for ids in kinds.values() for found in ids[:2]], 2):
        verdict = decide(shipped, [Finding(one, "trailer-1"), Finding(other, "trailer-1")], rulebook_id)
        steps = [step.action.id for step in verdict.steps]
        for found in verdict.units[0].findings:
            own = [action.id for action in found.ruling.actions if action.id in steps]
            assert keeps(steps, own), (one, other)


def test_repairs_come_before_the_certificate_under_the_rules_of_the_united_states(shipped):
    """49 CFR 396.11(a)(3): the carrier repairs, and then certifies; 396.13: the driver reviews the report before driving."""
    found = [Finding("tire-pressure.flat", "trailer-1"), Finding("wheel-nut.loose", "trailer-1")]
    steps = [step.action.id for step in decide(shipped, found, "us-fmcsr").steps]
    assert steps.index("write-report") < steps.index("repair") < steps.index("certify") < steps.index("review-sign")


@pytest.mark.browser
def test_the_page_orders_steps_as_python_does(browser):
    rng = random.Random(7)
    cases = []
    for _ in range(400):
        orders = [rng.sample(STEPS, rng.randint(0, len(STEPS))) for _ in range(rng.randint(1, 4))]
        cases.append([orders, rng.sample(STEPS, len(STEPS))])
    page = browser.new_page()
    page.add_script_tag(content=core_script())
    got = page.evaluate(
        """(cases) => cases.map(([orders, places]) =>
            mergedOrder(orders, (a, b) => places.indexOf(a) - places.indexOf(b)))""",
        cases,
    )
    page.close()
    assert got == [merged(orders, places.index) for orders, places in cases]


@pytest.mark.browser
@pytest.mark.parametrize("rulebook_id", ["on-s1", "us-fmcsr", "qc-list-1"])
def test_the_page_orders_the_steps_of_findings_as_python_does(shipped, browser, rulebook_id):
    rng = random.Random(11)
    trailers = [e.id for e in shipped.entries if "trailer" in e.vehicles and e.rulings_under(rulebook_id)]
    cases = [rng.sample(trailers, rng.randint(1, 4)) for _ in range(60)]
    page = browser.new_page()
    page.add_script_tag(content=core_script())
    got = page.evaluate(
        """([data, cases]) => {
            const catalogue = new Catalogue(data);
            return cases.map((ids) => decide(catalogue, ids.map((entryId) => (
                { entryId, unit: "trailer-1", answer: "unknown" }))).steps.map((step) => step.action.id));
        }""",
        [lookup_data(shipped, rulebook_id, "en"), cases],
    )
    page.close()
    for ids, steps in zip(cases, got, strict=True):
        verdict = decide(shipped, [Finding(one, "trailer-1") for one in ids], rulebook_id)
        assert steps == [step.action.id for step in verdict.steps], ids
