"""Pairs to tell apart: against pairs of Ontario's schedule 1 taken by hand, and against the tables alone."""

from __future__ import annotations

import re

import pytest
from route_tables import table

from chockbook.views.pairs import marked, view_pairs

COPIES = "two unofficial copies of O. Reg. 199/07, Schedule 1, read on 2026-11-25"
MEMORY = "from memory: the major column of Parts 12 to 23 was not seen"

BY_HAND = [
    # component, place of the milder item, place of the one that stops, where the two items stand, how they were read
    ("driver-door", "Part 2, minor defect (a)", "Part 2, major defect (a)", COPIES),
    # minor 2.1: door of the occupant compartment will not open; major 2.2: a cab door will not stay closed securely
    ("passenger-door", "Part 2, minor defect (a)", "Part 2, major defect (a)", COPIES),
    ("sleeper-door", "Part 2, minor defect (a)", "Part 2, major defect (a)", COPIES),
    # minor 3.1: cover loose or of the wrong kind; major 3.3: required load cover absent, failed, faulty
    ("load-cover", "Part 3, minor defect (a)", "Part 3, major defect (b)", COPIES),
    # minor 4.1: fastener loose or missing; major 4.2: coupler not secure, or it moves more than the limit
    ("fifth-wheel", "Part 4, minor defect (a)", "Part 4, major defect (a)", COPIES),
    ("pintle-hook", "Part 4, minor defect (a)", "Part 4, major defect (a)", COPIES),
    ("drawbar", "Part 4, minor defect (a)", "Part 4, major defect (a)", COPIES),
    ("ball-hitch", "Part 4, minor defect (a)", "Part 4, major defect (a)", COPIES),
    # minor 10.1: exhaust leak other than the major kind; major 10.2: one that lets gas into the occupant compartment
    ("exhaust-system", "Part 10, minor defect (a)", "Part 10, major defect (a)", COPIES),
    # minor 11.1: frame or cargo body damaged; major 11.2: frame member plainly shifted, cracked, collapsing
    ("frame-rail", "Part 11, minor defect (a)", "Part 11, major defect (a)", COPIES),
    ("crossmember", "Part 11, minor defect (a)", "Part 11, major defect (a)", COPIES),
    # minor: brake fluid below the marked minimum (seen); major: reservoir less than a quarter full
    ("brake-fluid-reservoir", "Part 17, minor defect (a)", "Part 17, major defect (f)", MEMORY),
    # minor: a required lamp does not work as intended (seen); major: both low beams, both tail lamps, both brake lamps
    ("low-beam-headlamps", "Part 18, minor defect (a)", "Part 18, major defect (a)", MEMORY),
    ("tail-lamps", "Part 18, minor defect (a)", "Part 18, major defect (b)", MEMORY),
    ("brake-lamps", "Part 18, minor defect (a)", "Part 18, major defect (d)", MEMORY),
    # minor: free play more than normal (seen); major: free play beyond the permitted limit
    ("steering-wheel", "Part 19, minor defect (a)", "Part 19, major defect (b)", MEMORY),
    # minor: air leak in an air suspension (seen); major: air bag damaged or deflated
    ("air-bag", "Part 20, minor defect (a)", "Part 20, major defect (a)", MEMORY),
    # minor: one spring leaf broken (seen); major: main leaf, or more than one leaf, broken
    ("leaf-spring", "Part 20, minor defect (b)", "Part 20, major defect (b)", MEMORY),
    # minor: tire leaks and the leak cannot be heard (seen in part); major: a leak that can be felt or heard
    ("tire-pressure", "Part 21, minor defect (b)", "Part 21, major defect (b)", MEMORY),
    ("tire-valve", "Part 21, minor defect (b)", "Part 21, major defect (b)", MEMORY),
]


def pairs_of(catalogue, rulebook, language="en"):
    return [pair for system in view_pairs(catalogue, rulebook, language) for pair in system.pairs]


def said(pieces):
    return "".join(text for text, _ in pieces)


def told(pieces):
    return [text for text, differs in pieces if differs]


@pytest.mark.parametrize("component, mild, stop, read", BY_HAND, ids=[f"{one[0]} {one[1]}" for one in BY_HAND])
def test_a_pair_of_ontario_is_there(shipped, component, mild, stop, read):
    assert read in (COPIES, MEMORY)
    found = [(pair.goes_on.ruling, pair.stops.ruling) for pair in pairs_of(shipped, "on-s1")
             if pair.component_id == component]  # fmt: skip
    both = [(one, other) for one, other in found
            if one.locator == f"Schedule 1, {mild}" and other.locator == f"Schedule 1, {stop}"]  # fmt: skip
    assert both, [(one.locator, other.locator) for one, other in found]
    if read == MEMORY:
        assert not any(other.confirmed for _, other in both), "what was not seen is shown as not confirmed"
    else:
        assert all(one.confirmed and other.confirmed for one, other in both)


@pytest.mark.parametrize("rulebook", ["on-s1", "qc-list-1"])
def test_each_milder_ruling_stands_once_beside_one_that_stops_the_same_part(shipped, rulebook):
    [book] = [one for one in table("rulebooks.yaml")["rulebooks"] if one["id"] == rulebook]
    stops = {one["id"]: one["may_drive"] == "no" for one in book["severities"]}
    items = {i["id"]: stops[i["severity"]] for s in book["schedules"] for part in s["parts"] for i in part["items"]}
    answers = [(defect, ruling["item"]) for defect in table("catalogue.yaml")["defects"]
               for ruling in defect["rulings"] if ruling["rulebook"] == rulebook]  # fmt: skip
    wanted = sorted(
        (defect["id"], item) for defect, item in answers if not items[item]
        and any(items[other] and d["component"] == defect["component"] and set(d["vehicles"]) & set(defect["vehicles"])
                for d, other in answers)
    )  # fmt: skip
    found = pairs_of(shipped, rulebook)
    assert sorted((pair.goes_on.entry_id, pair.goes_on.item_id) for pair in found) == wanted
    assert len(wanted) > 30
    component = {defect["id"]: defect["component"] for defect, _ in answers}
    for pair in found:
        assert items[pair.stops.item_id]
        assert component[pair.stops.entry_id] == component[pair.goes_on.entry_id] == pair.component_id
        own = any(defect["id"] == pair.goes_on.entry_id and items[item] for defect, item in answers)
        assert (pair.stops.entry_id == pair.goes_on.entry_id) == own, "its own other answer comes before any other"


def test_only_what_a_rule_forbids_has_pairs_where_severities_do_not_rank(shipped):
    # 49 CFR 393.75(a): no motor vehicle may be operated on such a tire. No other paragraph read forbids outright.
    assert [system.id for system in view_pairs(shipped, "us-fmcsr", "en")] == ["tires"]


def test_the_words_are_the_catalogues_and_both_languages_have_the_same_pairs(shipped):
    english, french = pairs_of(shipped, "on-s1"), pairs_of(shipped, "on-s1", "fr")
    assert [(p.goes_on.entry_id, p.stops.entry_id) for p in english] == [
        (p.goes_on.entry_id, p.stops.entry_id) for p in french
    ]
    defects = {defect["id"]: defect["condition"] for defect in table("catalogue.yaml")["defects"]}
    for pairs, language in ((english, "en"), (french, "fr")):
        for pair in pairs:
            for side in (pair.goes_on, pair.stops):
                assert said(side.condition) == defects[side.entry_id][language]
                assert said(side.applies_when) == (side.ruling.applies_when or "")


def test_what_makes_the_difference_is_said(shipped):
    by = {pair.goes_on.entry_id: pair for pair in pairs_of(shipped, "on-s1")}
    fan = by["heater-fan.dead"]
    assert fan.difference == "The same defect on both sides: the circumstances decide."
    assert told(fan.goes_on.condition) == []
    assert told(fan.goes_on.applies_when) == ["not"]
    fluid = by["brake-fluid-reservoir.below-minimum"]
    assert fluid.stops.entry_id == "brake-fluid-reservoir.under-quarter"
    assert fluid.difference == "The figure decides."
    assert [line.limit_id for line in fluid.figures] == ["brake-fluid-level"]
    assert "at least one quarter full" in " ".join(fluid.figures[0].figures)
    lamps = by["brake-lamps.one-out"]
    assert lamps.stops.entry_id == "brake-lamps.both-out"
    assert lamps.difference is None, "the marked words say it"
    assert told(lamps.goes_on.condition) == ["One", "not", "other works"]
    assert told(lamps.stops.condition) == ["Neither"]
    assert told(lamps.stops.applies_when) == ["all times"]


@pytest.mark.parametrize("language, small", [
    ("en", {"a", "an", "the", "of", "on", "in", "at", "or", "and", "but", "is", "its", "for", "to", "with", "when", "does"}),
    ("fr", {"le", "la", "les", "un", "une", "de", "du", "des", "d", "l", "et", "ou", "mais", "est", "au", "aux", "en", "ne", "sur"}),
])  # fmt: skip
def test_no_word_that_tells_nothing_is_marked(shipped, language, small):
    words = [word for pair in pairs_of(shipped, "on-s1", language) for side in (pair.goes_on, pair.stops)
             for piece in told(side.condition) + told(side.applies_when) for word in re.findall(r"\w+", piece.lower())]  # fmt: skip
    assert len(words) > 100
    assert not small & set(words)


def test_a_line_below_a_pair_says_something_or_is_not_there(shipped):
    pairs = pairs_of(shipped, "on-s1")
    for pair in pairs:
        same = pair.goes_on.entry_id == pair.stops.entry_id
        assert (pair.difference is not None) == (same or bool(pair.figures)), pair.component_id
    silent = [pair for pair in pairs if pair.difference is None]
    assert len(silent) > 30
    assert all(told(pair.goes_on.condition) or told(pair.stops.condition) for pair in silent)


@pytest.mark.parametrize(
    "text, other, wanted",
    [
        ("The cap is missing", "The cap is loose", [("The cap is ", False), ("missing", True)]),
        ("One lamp lights", "Neither lamp light", [("One", True), (" lamp lights", False)]),
        ("Worn below 3 mm", "Worn below 2 mm", [("Worn below ", False), ("3", True), (" mm", False)]),
        ("A lamp is out", "The lamp is out", [("A lamp is out", False)]),
        ("", "anything", []),
        ("(loose)", "", [("(", False), ("loose", True), (")", False)]),
        ("L'essieu est fissuré", "L'essieu est usé", [("L'essieu est ", False), ("fissuré", True)]),
        ("not now", "now", [("not", True), (" now", False)]),
        ("bent or broken, but tight", "broken", [("bent or", True), (" broken, ", False), ("but tight", True)]),
    ],
)
def test_words_that_the_other_side_lacks_are_marked(text, other, wanted):
    assert list(marked(text, other)) == wanted
    assert said(marked(text, other)) == text


@pytest.mark.browser
@pytest.mark.parametrize("width", [390, 1280])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_page_is_accessible_and_fits(open_school, judge, scheme, width):
    page = open_school("pairs.html", width=width, scheme=scheme)
    page.wait_for_timeout(300)  # the theme slides its menu into place
    judge(page)
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert page.said == []
    sides = page.locator(".pair").first.locator(".side")
    one, other = sides.nth(0).bounding_box(), sides.nth(1).bounding_box()
    assert (one["y"] == other["y"]) == (width == 1280), "beside each other where there is room"


@pytest.mark.browser
def test_the_start_page_and_the_practice_page_lead_to_the_pairs_and_they_to_the_defects(open_school, shipped):
    for start in ("index.html", "practice.html"):
        page = open_school(start)
        assert page.locator("article a[href='pairs.html']").count() >= 1, start
    page = open_school("pairs.html")
    assert page.locator(".pair").count() == len(pairs_of(shipped, "on-s1"))
    page.locator(".pair__found a", has_text="pops open").first.click()
    page.wait_for_load_state("networkidle")
    assert page.url.endswith("components/driver-door.html#will-not-stay-shut")
    assert page.is_visible("#will-not-stay-shut")


@pytest.mark.browser
def test_the_french_page_keeps_its_spaces(open_school):
    page = open_school("pairs.html", "fr")
    read = page.inner_text(".pair >> nth=0")
    assert "La portière du conducteur ne s'ouvre pas de l'intérieur ou de l'extérieur" in read
    assert "La portière du conducteur s'ouvre toute seule ou ne s'enclenche pas" in read
