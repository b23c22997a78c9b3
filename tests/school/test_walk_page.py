"""The step page as a student uses it beside the vehicle: one thumb, big targets, its place kept, no signal."""

from __future__ import annotations

import re

import pytest
from route_tables import steps_for, table

pytestmark = pytest.mark.browser
KEPT = "chockbook.walk"
HYDRAULIC_TRUCK = ({"truck"}, {"hydraulic-brakes", "spring-suspension", "cargo"})
RING = "(s => [s.outlineStyle, parseFloat(s.outlineWidth)])(getComputedStyle(document.activeElement))"
NO_STORAGE = """Object.defineProperty(window, "localStorage", {
    get() { throw new DOMException("blocked", "SecurityError"); } });"""


def shown(page):
    """Id of the step that is seen; there is one at most."""
    ids = page.eval_on_selector_all(
        ".walk__step[data-step]", "all => all.filter(one => one.offsetParent).map(one => one.dataset.step)"
    )
    assert len(ids) <= 1, ids
    return ids[0] if ids else None


def test_it_leads_through_the_steps_of_the_vehicle_in_route_order_and_no_other(open_school):
    page = open_school("walk.html")
    page.select_option("#walk-vehicle", "truck-hydraulic")
    wanted = steps_for(*HYDRAULIC_TRUCK)
    assert 80 < len(wanted) < 182
    assert page.inner_text("#walk-progress").startswith(f"Step 1 of {len(wanted)}, station 1 of ")
    seen = []
    while shown(page):
        seen.append(shown(page))
        page.evaluate("document.getElementById('walk-next').click()")
    assert seen == [step["id"] for step in wanted]
    assert page.inner_text("#walk-done-text") == f"The walk is complete: {len(wanted)} steps."
    assert page.is_disabled("#walk-next")
    page.click("#walk-again")
    assert shown(page) == wanted[0]["id"]
    assert page.said == []


def test_a_step_says_what_the_table_says(open_school):
    page = open_school("walk.html")
    [step] = [s for station in table("route.yaml")["stations"] for s in station["steps"]
              if s["id"] == "make-safe-engine-off"]  # fmt: skip
    while shown(page) != step["id"]:
        page.click("#walk-next")
    read = page.inner_text(f"[data-step={step['id']}]")
    for text in (step["item"]["en"], step["do"]["en"], step["say"]["en"], step["good"]["en"]):
        assert text in read
    assert "Warning Traffic passes close to a stopped vehicle." in read
    assert "Do not miss" not in read
    while shown(page) != "make-safe-chock":
        page.click("#walk-next")
    assert "Do not miss" in page.inner_text("[data-step=make-safe-chock]")


def test_next_and_back_and_the_focus_goes_along(open_school):
    page = open_school("walk.html")
    first = shown(page)
    assert page.is_disabled("#walk-back")
    page.click("#walk-next")
    second = shown(page)
    assert second != first
    assert page.evaluate("document.activeElement.closest('.walk__step').dataset.step") == second
    page.click("#walk-back")
    assert shown(page) == first


def test_its_place_is_kept_on_the_device_and_nothing_is_sent(open_school):
    page = open_school("walk.html")
    page.select_option("#walk-vehicle", "truck")
    page.asked.clear()
    for _ in range(4):
        page.click("#walk-next")
    place = shown(page)
    assert page.asked == []
    assert page.context.cookies() == []
    page.reload()
    assert shown(page) == place
    assert page.input_value("#walk-vehicle") == "truck"
    assert page.inner_text("#walk-progress").startswith("Step 5 of ")
    assert page.inner_text("#walk-kept") == "Where you are is kept on this device only."
    page.click("#walk-erase")
    assert page.evaluate(f"localStorage.getItem('{KEPT}')") is None
    assert "Erased" in page.inner_text("#walk-erased")
    page.reload()
    assert page.inner_text("#walk-progress").startswith("Step 1 of ")


def test_a_change_of_vehicle_keeps_the_step_where_it_has_it(open_school):
    page = open_school("walk.html")
    page.select_option("#walk-station", "seat")
    place = shown(page)
    page.select_option("#walk-vehicle", "truck")
    assert shown(page) == place
    page.select_option("#walk-vehicle", "tractor-trailer")
    stations = [option.get_attribute("value") for option in page.query_selector_all("#walk-station option")]
    page.select_option("#walk-station", stations[-1])
    assert page.evaluate(
        "document.querySelector('.walk__station:not([hidden])').dataset.station"
    ) == stations[-1]  # fmt: skip


def test_words_are_hidden_until_asked_for(open_school):
    page = open_school("walk.html")
    page.check("#walk-hide")
    say = ".walk__step:not([hidden]) .walk__say"
    assert page.is_hidden(say)
    page.click("#walk-show")
    assert page.is_visible(say)
    page.click("#walk-next")
    assert page.is_hidden(say), "hidden again at the next step"
    page.keyboard.press("a")
    assert page.is_visible(say)
    page.reload()
    assert page.is_checked("#walk-hide")


def test_the_keyboard_alone_is_enough(open_school):
    page = open_school("walk.html")
    places = [shown(page)]
    for _ in range(3):
        page.keyboard.press("ArrowRight")
        places.append(shown(page))
    assert len(set(places)) == 4
    page.keyboard.press("ArrowLeft")
    assert shown(page) == places[2]
    page.focus("#walk-vehicle")
    page.keyboard.press("ArrowLeft")
    assert shown(page) == places[2], "arrows belong to the field that is in use"
    page.focus("#walk-next")
    ring = page.evaluate(RING)
    assert ring[0] != "none"
    assert ring[1] >= 2
    page.keyboard.press("Enter")
    assert shown(page) == places[3]


def test_one_thumb_reaches_every_button_and_none_hides_what_is_read(open_school):
    page = open_school("walk.html")
    page.click("#walk-next")
    height = 844
    for name in ("#walk-next", "#walk-back"):
        box = page.locator(name).bounding_box()
        assert box["height"] >= 48
        assert box["width"] >= 48
        assert height - 90 <= box["y"] <= height - 48, "at the foot of the screen, under the thumb"
    others = page.eval_on_selector_all(
        "#walk select, #walk button, #walk .walk__tick",
        "all => all.filter(e => e.offsetParent).map(e => [e.id, e.getBoundingClientRect().height])",
    )
    assert [one for one in others if one[1] < 48] == []
    bar = page.locator("#walk-bar").bounding_box()
    page.evaluate("scrollTo(0, document.body.scrollHeight)")
    last = page.evaluate("Math.max(...[...document.querySelectorAll('article *, .md-footer *')]"
                         ".filter(e => !e.closest('#walk-bar') && e.offsetParent && e.children.length === 0)"
                         ".map(e => e.getBoundingClientRect().bottom))")  # fmt: skip
    assert last <= bar["y"], "the end of the page can be scrolled above the buttons"


def test_it_works_with_the_server_stopped(open_offline):
    page = open_offline("walk.html")
    page.click("#walk-next")
    page.click("#walk-next")
    place = shown(page)
    page.reload()
    assert shown(page) == place
    assert page.inner_text("#walk-progress").startswith("Step 3 of 182")


def test_it_works_from_a_folder_of_files(browser, school_sites):
    context = browser.new_context(offline=True)
    page = context.new_page()
    page.goto((school_sites("en") / "walk.html").as_uri())
    page.click("#walk-next")
    assert page.inner_text("#walk-progress").startswith("Step 2 of 182")
    context.close()


def test_with_storage_blocked_it_walks_on_and_says_that_it_forgets(open_school):
    page = open_school("walk.html", before=NO_STORAGE)
    page.click("#walk-next")
    assert page.inner_text("#walk-progress").startswith("Step 2 of ")
    assert "keeps nothing for this page" in page.inner_text("#walk-not-kept")
    assert page.is_hidden("#walk-erase")


@pytest.mark.parametrize("width", [390, 1280])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_it_is_accessible_and_fits(open_school, judge, scheme, width):
    page = open_school("walk.html", width=width, scheme=scheme)
    page.wait_for_timeout(300)  # the theme slides its menu into place
    judge(page)
    page.check("#walk-hide")
    page.click("#walk-next")
    judge(page)
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert page.said == []


def test_without_scripts_the_whole_route_stands_there(open_school):
    page = open_school("walk.html", java_script_enabled=False)
    seen = page.locator(".walk__step[data-step]:visible")
    ids = [step["id"] for station in table("route.yaml")["stations"] for step in station["steps"]]
    assert seen.count() == len(ids)
    assert page.is_hidden("#walk-bar")


def test_in_french_everything_is_french(open_school):
    page = open_school("walk.html", "fr")
    assert page.get_attribute("html", "lang") == "fr"
    english = {"the", "and", "with", "is", "of", "you", "this", "step", "station", "vehicle", "hand"}
    for number in range(1, 13):
        read = page.inner_text("#walk")
        assert f"Étape {number} sur 182, poste " in read
        assert not english & set(re.findall(r"[a-zà-ÿ]+", read.lower())), read
        page.click("#walk-next")
