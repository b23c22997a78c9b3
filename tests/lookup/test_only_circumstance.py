"""Defects on which a rulebook has one ruling, and that under a circumstance: what is asked, and what is said otherwise."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from chockbook.catalogue import Finding, decide, only_question
from chockbook.lookup import write_roadside
from chockbook.views.decision import view_decision
from chockbook.views.entry import view_entry
from chockbook.views.terminal import decision_lines, found_lines

PUSHROD = "brake-pushrod.stroke-over-limit"
WHEN = "when 20% or more of the brakes are past their limit"
UNSETTLED = "Not settled here: stay stopped and ask your carrier or a licensed mechanic"


def decided(catalogue, answer, language="en"):
    return view_decision(catalogue, decide(catalogue, [Finding(PUSHROD, "tractor", answer)], "qc-list-1"), language)


def report_line(view):
    [line] = [line for line in view.report if line.startswith("- ")]
    return line


@pytest.mark.parametrize("answer", ["yes", "unknown"])
def test_the_report_says_under_which_circumstance_the_severity_holds(shipped, answer):
    line = report_line(decided(shipped, answer))
    assert "| Major |" in line
    assert WHEN in line


def test_a_finding_that_does_not_fit_is_neither_major_nor_minor(shipped):
    view = decided(shipped, "no")
    assert view.outcome.outcome == UNSETTLED
    assert view.outcome.severity_id is None
    assert view.steps == ()
    assert report_line(view).endswith("| Not settled here")


def test_the_french_report_says_so_too(shipped):
    assert "Non réglé ici\u00a0: rester arrêté" in decided(shipped, "no", "fr").outcome.outcome


def test_the_terminal_says_what_holds_otherwise(shipped):
    told = "\n".join(decision_lines(shipped, decided(shipped, "unknown"), "en"))
    assert f"Otherwise: {UNSETTLED}" in told
    assert f"Otherwise: {UNSETTLED}" in "\n".join(found_lines(shipped, PUSHROD, "qc-list-1", "en"))


def test_the_terminal_leads_with_what_is_not_settled(shipped):
    told = list(decision_lines(shipped, decided(shipped, "no"), "en"))
    assert told[0] == UNSETTLED.upper()
    assert "What to do:" not in told


def test_nothing_is_asked_of_what_holds_at_all_times(shipped):
    """Part 18 of Ontario's schedule says so of some lamps, beside others that count only where lamps are required."""
    at_all_times = [
        entry.id
        for entry in shipped.entries
        for ruling in entry.rulings
        if (ruling.applies_when or {}).get("en") == "at all times"
    ]
    assert "brake-lamps.both-out" in at_all_times
    for entry_id in at_all_times:
        for book in shipped.rulebook:
            rulings = shipped.entry[entry_id].rulings_under(book)
            if rulings and rulings[0].applies_when and rulings[0].applies_when["en"] == "at all times":
                assert only_question(shipped, rulings) is None, entry_id
                assert view_entry(shipped, shipped.entry[entry_id], book, "en").otherwise is None, entry_id


@pytest.fixture(scope="module")
def quebec(shipped, browser, tmp_path_factory) -> Iterator[object]:
    """Opens an address of the single file for Quebec."""
    path = write_roadside(shipped, "qc-list-1", "en", tmp_path_factory.mktemp("quebec") / "roadside.html")
    page = browser.new_page(viewport={"width": 390, "height": 844})

    def opened(query):
        page.goto("about:blank")
        page.goto(f"file://{path}#{query}")
        page.wait_for_selector("#lookup[data-ready]")
        return page

    yield opened
    page.close()


@pytest.mark.browser
def test_my_findings_asks_whether_the_only_ruling_fits(quebec):
    page = quebec(f"l=1&f=tractor*{PUSHROD}*u")
    asked = page.inner_text("[data-part=findings] fieldset")
    assert WHEN in asked
    assert f"Otherwise {UNSETTLED}" in asked
    assert "counts as if it fits" in asked
    assert WHEN in page.input_value("#lookup-report")
    page.check("input[value=no]")
    assert page.inner_text("[data-part=findings] > .lookup-outcome").strip() == UNSETTLED
    assert "Otherwise Do not drive" in page.inner_text("[data-part=findings] fieldset")
    assert "Do this, in this order" not in page.inner_text("[data-part=findings]")
    assert "| Major" not in page.input_value("#lookup-report")


@pytest.mark.browser
def test_the_bar_shows_that_a_finding_is_not_settled(quebec):
    page = quebec(f"f=tractor*{PUSHROD}*n")
    assert UNSETTLED in page.inner_text("[data-part=bar]")


@pytest.mark.browser
def test_the_answer_of_a_defect_says_what_holds_otherwise(quebec):
    banner = quebec(f"d={PUSHROD}").inner_text("[data-part=entry] .lookup-outcome")
    assert banner.index(WHEN) < banner.index(f"Otherwise {UNSETTLED}")


@pytest.mark.browser
def test_the_answer_of_a_defect_without_circumstances_says_nothing_of_others(quebec):
    assert "Otherwise" not in quebec("d=wheel-nut.loose").inner_text("[data-part=entry] .lookup-outcome")
