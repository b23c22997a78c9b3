"""The practice page as a student uses it: asked, answered, told why, asked again; alone with the device."""

from __future__ import annotations

import json
import re

import pytest
from plain_catalogue import find_defect, rulings

pytestmark = pytest.mark.browser
KEPT = "chockbook.practice.on-s1"
RING = "(s => [s.outlineStyle, parseFloat(s.outlineWidth)])(getComputedStyle(document.activeElement))"
NO_STORAGE = """Object.defineProperty(window, "localStorage", {
    get() { throw new DOMException("blocked", "SecurityError"); } });"""
FULL_STORAGE = """Storage.prototype.setItem = function (key) {
    if (!key.endsWith(".try")) throw new DOMException("full", "QuotaExceededError"); };"""


def only(page, **filters):
    """Chooses what is asked."""
    page.evaluate("document.querySelectorAll('.practice details').forEach(one => { one.open = true })")
    for key, value in filters.items():
        page.select_option(f"#practice-{key}", value)


def question(page):
    return page.inner_text("#practice-question")


def severity_of(exported, page, language="en"):
    """The right answer to a question about severity, from catalogue.json and the words that are read."""
    entry = find_defect(exported, question(page), language)
    [severity] = {one["severity"] for one in rulings(entry, "on-s1", question(page), language)}
    book = next(one for one in exported["rulebooks"] if one["id"] == "on-s1")
    return next(one["name"][language] for one in book["severities"] if one["id"] == severity)


def answer(page, exported, right=True, language="en"):
    """Answers the question about severity, rightly or wrongly; gives the question."""
    asked, wanted = question(page), severity_of(exported, page, language)
    for choice in page.query_selector_all(".practice__choice"):
        if (choice.query_selector(".practice__text").inner_text() == wanted) == right:
            choice.click()
            return asked
    raise AssertionError(f"no such choice: {asked}")


def answer_and_go_on(page, exported, right=True):
    asked = answer(page, exported, right)
    page.click("#practice-next")
    return asked


def kept(page):
    """What the device keeps of the page's questions."""
    text = page.evaluate(f"localStorage.getItem('{KEPT}')")
    return json.loads(text)["records"] if text else None


def test_a_right_answer_is_said_to_be_right_with_reason_and_source(open_school, exported):
    page = open_school("practice.html")
    only(page, kind="severity")
    for _ in range(8):
        entry = find_defect(exported, question(page), "en")
        asked = answer(page, exported)
        said = page.inner_text("#practice-said")
        assert said.startswith("Right\n"), asked
        book = next(one for one in exported["rulebooks"] if one["id"] == "on-s1")
        items = {i["id"]: i for s in book["schedules"] for part in s["parts"] for i in part["items"]}
        own = [items[r["item_id"]] for r in rulings(entry, "on-s1", asked, "en")]
        assert any(item["text"]["en"] in said and item["source"]["locator"] in said for item in own), asked
        assert page.locator(".practice__mark").all_inner_texts() == ["The right answer"]
        link = page.get_attribute("#practice-said a", "href")
        component, _, slug = entry["id"].partition(".")
        assert link == f"components/{component}.html#{slug}"
        page.click("#practice-next")
    assert page.inner_text("#practice-tally") == "Since you opened the page: 8 right, 0 wrong."
    assert page.said == []


def test_a_wrong_answer_is_said_to_be_wrong_and_the_right_one_shown(open_school, exported):
    page = open_school("practice.html")
    only(page, kind="severity")
    wanted = severity_of(exported, page)
    answer(page, exported, right=False)
    said = page.inner_text("#practice-said")
    assert re.match(rf"Wrong\s+The right answer\s+{wanted}\s+Why\s+{wanted}: ", said)
    assert re.search(r"Source\s+O\. Reg\. 199/07", said)
    assert "It comes back after five other questions." in said
    chosen = page.locator(".practice__choice", has_text="Your answer")
    assert chosen.locator(".practice__text").inner_text() != wanted
    assert page.locator(".practice__choice--right .practice__text").inner_text() == wanted
    chosen.click(force=True)
    assert page.inner_text("#practice-tally") == "Since you opened the page: 0 right, 1 wrong.", "counted twice"


def test_a_missed_question_comes_back_after_five_others_and_a_known_one_the_next_day(open_school, exported):
    page = open_school("practice.html", at="2026-03-02T10:00:00")
    only(page, kind="severity")
    missed = answer_and_go_on(page, exported, right=False)
    known = [answer_and_go_on(page, exported) for _ in range(5)]
    assert missed not in known
    assert len(set(known)) == 5
    assert question(page) == missed, "box 1 comes back after five other questions"
    answer(page, exported)
    assert "It comes back tomorrow." in page.inner_text("#practice-said")
    page.click("#practice-next")
    later = [answer_and_go_on(page, exported) for _ in range(8)]
    assert not {missed, *known} & set(later), "what was known is not asked again on the same day"
    # The next morning everything seen is due again, and comes before what is new.
    page.context.clock.set_fixed_time("2026-03-03T07:30:00")
    page.reload()
    only(page, kind="severity")
    again = []
    for _ in range(14):
        again.append(answer(page, exported))
        assert "It comes back in 3 days." in page.inner_text("#practice-said")
        page.click("#practice-next")
    assert set(again) == {missed, *known, *later}
    assert question(page) not in again
    # Three days on they are due once more, and then a week away; one that is missed falls to the first box.
    page.context.clock.set_fixed_time("2026-03-06T07:30:00")
    page.reload()
    only(page, kind="severity")
    first = answer(page, exported)
    assert first in again
    assert "It comes back in 7 days." in page.inner_text("#practice-said")
    page.click("#practice-next")
    assert answer(page, exported, right=False) in again
    assert "It comes back after five other questions." in page.inner_text("#practice-said")


def test_when_nothing_is_due_the_page_says_so_and_asks_on_demand(open_school, exported):
    page = open_school("practice.html", at="2026-03-02T10:00:00")
    only(page, kind="severity", system="horn")
    total = int(re.search(r"In this choice: (\d+)", page.inner_text("#practice-due"))[1])
    assert total >= 1
    for _ in range(total):
        answer_and_go_on(page, exported)
    assert page.inner_text("#practice-none-text") == "Nothing of this choice is due now."
    assert page.evaluate("document.activeElement.id") == "practice-anyway"
    before = kept(page)
    page.click("#practice-anyway")
    answer(page, exported)
    assert kept(page) == before, "asked before its day, a right answer changes nothing"


def test_what_is_known_is_kept_on_the_device_and_nothing_is_sent(open_school, exported):
    page = open_school("practice.html")
    only(page, kind="severity")
    page.asked.clear()
    for n in range(6):
        answer_and_go_on(page, exported, right=n % 2 == 0)
    assert page.asked == []
    assert page.context.cookies() == []
    assert page.evaluate("indexedDB.databases()") == []
    records = kept(page)
    assert len(records) == 6
    assert {key for key in page.evaluate("Object.keys(localStorage)") if "practice" in key} == {KEPT}
    page.reload()
    page.wait_for_load_state("networkidle")
    assert kept(page) == records
    assert {method for method, _ in page.asked} == {"GET"}
    assert [url for _, url in page.asked if not url.startswith(page.home)] == []
    assert "444 of them new" in page.inner_text("#practice-due"), "450 confirmed questions less six"


def test_what_is_kept_can_be_erased_and_only_when_meant(open_school, exported):
    page = open_school("practice.html")
    only(page, kind="severity")
    answer_and_go_on(page, exported)
    page.click("#practice-erase")
    assert page.evaluate("document.activeElement.id") == "practice-erase-keep", "the harmless one is ready"
    page.click("#practice-erase-keep")
    assert len(kept(page)) == 1
    page.click("#practice-erase")
    page.click("#practice-erase-sure")
    assert kept(page) is None
    assert page.inner_text("#practice-erased") == "Erased: nothing of this page is kept on this device."
    assert page.is_hidden("#practice-tally")
    page.reload()
    assert "450 of them new" in page.inner_text("#practice-due")


@pytest.mark.parametrize("before", [NO_STORAGE, FULL_STORAGE], ids=["blocked", "full"])
def test_with_storage_blocked_it_asks_on_and_says_that_it_forgets(open_school, exported, before):
    page = open_school("practice.html", before=before)
    only(page, kind="severity")
    missed = answer_and_go_on(page, exported, right=False)
    for _ in range(5):
        answer_and_go_on(page, exported)
    assert question(page) == missed, "within a visit it still repeats what was missed"
    assert "keeps nothing for this page" in page.inner_text("#practice-not-kept")
    assert page.is_hidden("#practice-erase")
    assert page.is_hidden("#practice-kept") or "keeps nothing" in page.inner_text("#practice-kept")


@pytest.mark.parametrize("spoiled", ["{", "[]", '{"records": {"x": [9, "soon"], "y": 3}}', '{"records": null}'])
def test_a_spoiled_memory_is_no_memory(open_school, spoiled):
    page = open_school("practice.html", before=f"localStorage.setItem('{KEPT}', {json.dumps(spoiled)})")
    assert "450 of them new" in page.inner_text("#practice-due")
    page.click(".practice__choice")
    assert page.is_visible("#practice-next")
    assert page.said == []


def test_it_works_with_the_server_stopped(open_offline, exported):
    page = open_offline("practice.html")
    only(page, kind="severity")
    answer_and_go_on(page, exported)
    answer(page, exported, right=False)
    assert page.inner_text("#practice-said").startswith("Wrong")
    page.reload()
    assert len(kept(page)) == 2


def test_it_works_from_a_folder_of_files(browser, school_sites, exported):
    context = browser.new_context(offline=True)
    page = context.new_page()
    page.goto((school_sites("en") / "practice.html").as_uri())
    only(page, kind="severity")
    answer(page, exported)
    assert page.inner_text("#practice-said").startswith("Right")
    context.close()


def test_the_keyboard_alone_is_enough(open_school, exported):
    page = open_school("practice.html")
    for _ in range(3):
        page.keyboard.press("2")
        assert page.evaluate("document.activeElement.id") == "practice-next"
        page.keyboard.press("Enter")
        assert page.evaluate("document.activeElement.id") == "practice-question"
    # By tabs: from the question to its first choice, and a ring shows where one is.
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.matches('li:first-child .practice__choice')")
    ring = page.evaluate(RING)
    assert ring[0] != "none"
    assert ring[1] >= 2
    page.keyboard.press("Enter")
    assert page.is_visible("#practice-next")
    page.keyboard.press("Tab")
    reached = []
    for _ in range(12):
        reached.append(page.evaluate("document.activeElement.closest('summary, select, button, input, a')?.outerHTML"))
        if reached[-1] and reached[-1].startswith("<summary"):
            page.keyboard.press("Enter")
        page.keyboard.press("Tab")
    for wanted in ("practice-system", "practice-severity", "practice-kind", "practice-unconfirmed", "practice-erase"):
        assert any(one and f'id="{wanted}"' in one for one in reached), wanted
    # A digit typed into a field answers nothing.
    page.focus("#practice-system")
    tally = page.inner_text("#practice-tally")
    page.keyboard.press("1")
    assert page.inner_text("#practice-tally") == tally


@pytest.mark.parametrize("width", [390, 1280])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_it_is_accessible_and_fits(open_school, judge, scheme, width):
    page = open_school("practice.html", width=width, scheme=scheme)
    page.wait_for_timeout(300)  # the theme slides its menu into place
    judge(page)
    page.click(".practice__choice")
    only(page)
    judge(page)
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert page.said == []


def test_targets_are_48_pixels_and_more(open_school):
    page = open_school("practice.html")
    only(page)
    page.click(".practice__choice")
    sizes = page.eval_on_selector_all(
        ".practice__choice, .practice__button, .practice select, .practice__tick",
        "all => all.filter(e => e.offsetParent).map(e => [e.innerText, e.getBoundingClientRect().height])",
    )
    assert len(sizes) >= 8
    assert [one for one in sizes if one[1] < 48] == []


def test_what_is_from_memory_is_asked_only_on_demand_and_marked(open_school):
    page = open_school("practice.html")
    only(page)
    assert page.is_hidden("#practice-flag")
    page.check("#practice-unconfirmed")
    assert "In this choice: 600" in page.inner_text("#practice-due")
    # What is confirmed comes first, so a choice is made of which nothing is.
    kind, system = page.evaluate("""() => {
        const all = chockbookPractice.questions, name = (one) => one.kind + " " + one.system;
        const sure = new Set(all.filter((one) => one.confirmed).map(name));
        return name(all.find((one) => !sure.has(name(one)))).split(" "); }""")
    only(page, kind=kind, system=system)
    assert page.is_visible("#practice-flag")
    page.click(".practice__choice")
    assert "Not yet confirmed" in page.inner_text("#practice-said")


def test_without_scripts_it_points_to_paper(open_school):
    page = open_school("practice.html", java_script_enabled=False)
    assert "ask your instructor" in page.inner_text("#practice-without-script")
    assert page.is_hidden("#practice")


def test_in_french_everything_is_french(open_school, exported):
    page = open_school("practice.html", "fr")
    only(page, kind="severity")
    assert page.get_attribute("html", "lang") == "fr"
    for right in (True, False):
        answer(page, exported, right, "fr")
        said = page.inner_text("#practice-said")
        assert said.startswith("Bonne réponse" if right else "Mauvaise réponse")
        assert "Règl. de l'Ont.\N{NO-BREAK SPACE}199/07" in said
        page.click("#practice-next")
    english = {"the", "and", "with", "is", "of", "you", "this", "answer", "defect", "right"}
    only(page, kind="")
    for _ in range(12):
        page.click(".practice__choice")
        read = page.inner_text("#practice-card")
        assert not english & set(re.findall(r"[a-zà-ÿ]+", read.lower())) , read
        page.click("#practice-next")
