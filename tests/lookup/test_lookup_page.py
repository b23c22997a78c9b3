"""The lookup page in headless Chromium, as a driver uses it."""

from __future__ import annotations

import pytest
from look_ups import read_look_ups

pytestmark = pytest.mark.browser
BOX = "#lookup-words"
ROWS = "[data-part=results] > li:not([hidden]) a"
LIST = (
    "index.html?l=1&f=tractor*seat-belt.will-not-latch*u&f=trailer-1*tail-lamps.both-out*n"
    "&f=dolly*u-bolt.loose*u"
)
STATES = {
    "idle": "index.html",
    "results": "index.html?w=seat+belt",
    "no match": "index.html?w=pizza",
    "narrowed": "index.html?w=tire&v=minor&s=tires",
    "entry": "index.html?d=low-beam-headlamps.both-out",
    "entry with figures": "index.html?d=brake-pushrod.stroke-over-limit",
    "findings": LIST,
    "nothing found": "index.html?l=1",
}


def until(page, condition):
    """Waits until an expression holds; the page's policy forbids Playwright's own way of waiting."""
    for _ in range(100):
        if page.evaluate(condition):
            return
        page.wait_for_timeout(50)
    raise AssertionError(f"never came true: {condition}")


def rows(page):
    return page.eval_on_selector_all(
        ROWS, "rows => rows.map(row => row.innerText.replace(/\\s+/g, ' ').trim())"
    )


def test_typing_shows_results_that_lead_with_the_outcome(open_lookup, shipped):
    page = open_lookup()
    page.click(BOX)
    page.keyboard.type("seat belt wont la")
    entry = shipped.entry["seat-belt.will-not-latch"]
    assert rows(page)[0] == f"Do not drive {entry.component.name['en']}: {entry.condition['en']} Major"
    assert page.inner_text("[data-part=status]").startswith("Found: ")
    assert page.get_attribute("[data-part=status]", "role") == "status"
    assert page.said == []


def test_nothing_is_asked_of_the_network_while_typing(open_lookup):
    page = open_lookup()
    page.wait_for_load_state("networkidle")
    page.asked.clear()
    page.fill(BOX, "wheel nut missing")
    page.click(ROWS)
    page.wait_for_timeout(400)
    # The browser may look for the page's icon whenever it likes.
    assert [url for url in page.asked if not url.endswith("favicon.png")] == []


def test_choices_combine_with_words_and_say_how_many_they_leave(open_lookup, shipped, finder):
    page = open_lookup()
    page.fill(BOX, "tire")
    page.click("[data-part=narrow]")
    found = [shipped.entry[entry] for entry, _ in finder.find("tire")]
    minor = [e for e in found if any(r.severity.id == "minor" for r in e.rulings_under("on-s1"))]
    until(
        page, "document.querySelector('#lookup-choice-v option[value=\"v:minor\"]').textContent.endsWith(')')"
    )
    assert page.inner_text("#lookup-choice-v option[value='v:minor']").endswith(f"({len(minor)})")
    page.select_option("#lookup-choice-v", "v:minor")
    assert page.inner_text("[data-part=status]") == f"Found: {len(minor)}"
    both = [e for e in minor if e.system.id == "tires"]
    page.wait_for_timeout(200)
    assert page.inner_text("#lookup-choice-s option[value='s:tires']").endswith(f"({len(both)})")
    page.select_option("#lookup-choice-s", "s:tires")
    assert page.inner_text("[data-part=status]") == f"Found: {len(both)}"
    assert "w=tire" in page.url
    assert "v=minor" in page.url
    assert "s=tires" in page.url
    page.click("button:text-is('Clear')")
    assert page.inner_text("[data-part=status]") == f"Found: {len(found)}"


def test_the_ways_in_count_every_defect_and_lead_to_them(open_lookup, shipped):
    page = open_lookup()
    system = shipped.systems[0]
    of_system = [e for e in shipped.entries if e.system.id == system.id and e.rulings_under("on-s1")]
    way = page.locator(f"a[data-key=s][data-id={system.id}]")
    assert way.inner_text().split("\n")[-1].endswith(str(len(of_system)))
    way.click()
    assert page.inner_text("[data-part=status]") == f"Found: {len(of_system)}"
    ranks = [row.startswith("Do not drive") for row in rows(page)]
    assert ranks == sorted(ranks, reverse=True), "worst first"


@pytest.mark.parametrize("state", STATES)
def test_every_state_has_an_address_that_shows_it_again(open_lookup, state):
    first = open_lookup(STATES[state])
    shown = first.inner_text("#lookup")
    assert shown.strip()
    again = open_lookup(first.url.split("/", 3)[3])
    assert again.inner_text("#lookup") == shown
    assert again.said == []


def test_typed_words_go_into_the_address_and_back_leads_back(open_lookup):
    page = open_lookup()
    page.fill(BOX, "horn")
    until(page, "location.search === '?w=horn'")
    first = rows(page)
    page.click(ROWS)
    assert "d=" in page.url
    assert page.is_visible("[data-part=entry] h2")
    page.go_back()
    assert page.input_value(BOX) == "horn"
    assert rows(page) == first


def test_a_defect_shows_outcome_then_what_it_is_then_steps_then_the_rest(open_lookup, shipped):
    entry = shipped.entry["brake-pushrod.stroke-over-limit"]
    page = open_lookup(f"index.html?d={entry.id}")
    text = page.inner_text("[data-part=entry]")
    [ruling] = entry.rulings_under("on-s1")
    order = [
        ruling.severity.outcome["en"],
        entry.condition["en"],
        *(a.text["en"] for a in ruling.actions),
        entry.check["en"],
        entry.limits[0].quantity["en"],
        ruling.source.title["en"],
        ruling.locator,
    ]
    places = [text.find(one) for one in order]
    assert -1 not in places, dict(zip(order, places, strict=True))
    assert places == sorted(places)
    assert page.get_attribute("text=Full page", "href").endswith(
        f"components/{entry.component.id}.html#{entry.slug}"
    )


def test_both_rulings_are_shown_where_circumstances_decide(open_lookup):
    page = open_lookup("index.html?d=low-beam-headlamps.both-out")
    text = page.inner_text("[data-part=entry]")
    assert "when lamps are required to be on" in text
    assert "at times when lamps are not required" in text
    assert text.index("Do not drive") < text.index("May go on once recorded and reported")


def test_findings_are_collected_decided_and_copied(browser, served):
    context = browser.new_context(service_workers="block", permissions=["clipboard-read", "clipboard-write"])
    page = context.new_page()
    page.goto(served + "index.html?w=reflector+missing")
    page.wait_for_selector("#lookup[data-ready]")
    page.click(ROWS)
    page.click("button:text-is('Trailer 1')")
    assert page.inner_text("[data-part=bar]").replace("\n", " ").startswith("My findings: 1 ")
    assert "May go on" in page.inner_text("[data-part=bar]")
    page.click("text=Back to the list")
    page.fill(BOX, "seat belt wont latch")
    page.click(ROWS)
    assert page.locator("[data-part=entry] button:text-is('Trailer 1')").count() == 0, (
        "a trailer has no seat belt"
    )
    page.click("button:text-is('Tractor')")
    assert page.get_attribute("button:text-is('Tractor')", "aria-pressed") == "true"
    assert "Do not drive" in page.inner_text("[data-part=bar]")
    page.click("[data-part=bar]")
    findings = page.inner_text("[data-part=findings]")
    assert findings.index("Do not drive the vehicle") < findings.index("Write the defect")
    assert "Go on once" not in findings
    page.click("text=Copy the text")
    page.wait_for_selector("button:text-is('Copied')")
    copied = page.evaluate("navigator.clipboard.readText()")
    assert copied == page.input_value("#lookup-report")
    assert "- Tractor | Seat belt: The buckle will not latch" in copied
    assert "- Trailer 1 | Reflectors: A required reflector is missing" in copied
    page.locator("text=Take off the list").first.click()
    assert "May go on once recorded and reported" in page.inner_text("[data-part=findings]")
    context.close()


def test_the_driver_can_say_whether_a_circumstance_holds(open_lookup):
    page = open_lookup("index.html?l=1&f=truck*low-beam-headlamps.both-out*u")
    verdict = "[data-part=findings] > .lookup-outcome"
    assert "Do not drive" in page.inner_text(verdict)
    assert "the stricter one counts" in page.inner_text("[data-part=findings]")
    page.check("input[value=no]")
    assert "May go on" in page.inner_text(verdict)
    assert "Otherwise" in page.inner_text("fieldset")
    assert page.evaluate("document.activeElement.value") == "no"
    assert page.url.endswith("*n")
    page.check("input[value=yes]")
    assert "Do not drive" in page.inner_text(verdict)


def test_the_keyboard_alone_is_enough(open_lookup):
    page = open_lookup(width=1280, height=800)
    page.focus(BOX)
    page.keyboard.type("fire extinguisher missing")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.dataset.part") == "narrow"
    page.keyboard.press("Tab")
    assert "lookup-hit" in page.evaluate("document.activeElement.className")
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.dataset.part") == "entry"
    for _ in range(12):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.textContent") == "Truck":
            break
    page.keyboard.press("Space")
    assert page.evaluate("document.activeElement.getAttribute('aria-pressed')") == "true"
    for _ in range(40):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.dataset.part") == "bar":
            break
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.dataset.part") == "findings"
    assert "Fire extinguisher" in page.inner_text("[data-part=findings]")


def test_the_focus_is_seen_and_never_behind_the_bars(open_lookup):
    page = open_lookup("index.html?w=brake&f=truck*fire-extinguisher.missing*u")
    page.focus(BOX)
    hidden, walked = [], 0
    for _ in range(25):
        page.keyboard.press("Tab")
        page.wait_for_timeout(30)
        seen = page.evaluate("""() => {
            const focused = document.activeElement;
            if (focused === document.body) return null;
            const box = focused.getBoundingClientRect();
            const style = getComputedStyle(focused);
            const [x, y] = [box.left + box.width / 2, box.top + Math.min(box.height, 20) / 2];
            const at = document.elementFromPoint(x, y);
            return [focused.className, box.top, box.height,
                    Boolean(at) && (focused.contains(at) || at.contains(focused)),
                    style.outlineStyle !== 'none'];
        }""")
        if seen is None:
            break
        walked += 1
        if not (seen[3] and seen[4]):
            hidden.append(seen)
    assert walked >= 12
    assert hidden == []


def axe_findings(page):
    axe = pytest.importorskip("axe_playwright_python.sync_playwright", reason="axe is not installed").Axe()
    found = axe.run(page, options={"rules": {"target-size": {"enabled": True}}})
    return found.generate_report() if found.violations_count else ""


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("state", STATES)
def test_axe_has_nothing_to_say_and_nothing_scrolls_sideways(open_lookup, state, scheme):
    page = open_lookup(STATES[state], scheme)
    if state == "results":
        page.click("[data-part=narrow]")
    page.wait_for_timeout(300)
    assert axe_findings(page) == ""
    for width in (320, 360, 1280):
        page.set_viewport_size({"width": width, "height": 640})
        page.wait_for_timeout(300)  # the theme slides its search into place after a change of width
        assert page.evaluate("document.documentElement.scrollWidth") <= width, width
    assert page.said == []


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize(
    "state",
    ["", "#w=seat+belt", "#d=low-beam-headlamps.both-out", "#l=1&f=truck*low-beam-headlamps.both-out*u"],
)
def test_axe_has_nothing_to_say_of_the_single_file(browser, lookup_site, state, scheme):
    context = browser.new_context(viewport={"width": 360, "height": 640}, color_scheme=scheme)
    page = context.new_page()
    page.goto(lookup_site.roadside.as_uri() + state)
    page.wait_for_selector("#lookup[data-ready]")
    assert axe_findings(page) == ""
    assert page.evaluate("document.documentElement.scrollWidth") <= 360
    context.close()


@pytest.mark.parametrize("state", STATES)
def test_targets_are_large_enough_for_gloves(open_lookup, state):
    page = open_lookup(STATES[state])
    if state == "results":
        page.click("[data-part=narrow]")
    boxes = page.eval_on_selector_all(
        "#lookup :is(button, select, input:not([type=radio]), .lookup-answer, .lookup-hit, .lookup-ways a, "
        ".lookup-bar)",
        """found => found.filter(e => e.offsetParent).map(e => {
            const box = e.getBoundingClientRect(); return [e.className || e.id, box.width, box.height] })""",
    )
    assert boxes
    assert [box for box in boxes if min(box[1:]) < 44] == []


def test_three_results_stand_above_the_keyboard_of_a_phone(open_lookup):
    page = open_lookup(width=360, height=640, is_mobile=True, has_touch=True)
    page.click(BOX)
    keyboard = 270
    short = {}
    for one in read_look_ups("tuning_queries.tsv")[:25]:
        page.keyboard.press("Control+a")
        page.keyboard.type(one.words)
        # In sight: the outcomes of three, and two of them whole.
        bottoms = page.eval_on_selector_all(
            ROWS,
            """rows => rows.map(row =>
                [row.firstElementChild, row].map(e => e.getBoundingClientRect().bottom))""",
        )
        outcomes, whole = (sum(pair[at] <= 640 - keyboard for pair in bottoms) for at in (0, 1))
        if outcomes < min(3, len(bottoms)) or whole < min(2, len(bottoms)):
            short[one.words] = (outcomes, whole)
    assert short == {}


def test_typing_shifts_nothing(open_lookup):
    page = open_lookup(width=360, height=640)
    page.evaluate("""() => {
        self.shift = 0;
        new PerformanceObserver((list) => {
            for (const entry of list.getEntries()) if (!entry.hadRecentInput) self.shift += entry.value;
        }).observe({ type: 'layout-shift', buffered: false });
    }""")
    page.click(BOX)
    page.keyboard.type("air leak hissing", delay=40)
    page.wait_for_timeout(800)
    assert page.evaluate("self.shift") <= 0.01


@pytest.mark.parametrize("width, text", [(360, "200%"), (1280, "200%")])
def test_text_at_twice_the_size_still_fits(open_lookup, width, text):
    page = open_lookup("index.html?w=seat+belt", width=width)
    page.evaluate("text => document.documentElement.style.setProperty('font-size', '40px')", text)
    page.wait_for_timeout(100)
    # The theme's own bar is left out: it is not the lookup's.
    wide = page.eval_on_selector_all(
        "#lookup, #lookup *",
        """found => found.filter(e => e.offsetParent && e.getBoundingClientRect().right > innerWidth + 1)
            .map(e => e.outerHTML)""",
    )
    assert wide == []
    assert rows(page)


def test_severity_shows_in_forced_colours(open_lookup):
    page = open_lookup("index.html?d=low-beam-headlamps.both-out", forced_colors="active")
    stop, go_on = (
        page.eval_on_selector(
            f".lookup-outcome--{kind}",
            "e => [getComputedStyle(e).backgroundColor, getComputedStyle(e).color]",
        )
        for kind in ("no", "once-reported")
    )
    assert stop == go_on[::-1]


def test_without_script_the_ways_in_still_lead_somewhere(browser, served):
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(served + "index.html")
    assert not page.is_visible(BOX), "a box that cannot answer is not shown"
    assert page.is_visible("text=Pick where it is")
    page.click("a[data-key=s][data-id=steering]")
    assert page.url.endswith("components/index.html#steering")
    context.close()


def test_a_newer_day_than_the_check_by_date_is_said_loudly(browser, served, shipped):
    context = browser.new_context(service_workers="block")
    page = context.new_page()
    page.clock.set_fixed_time(shipped.edition.check_by.isoformat() + "T12:00:00Z")
    page.goto(served + "index.html")
    page.wait_for_selector("#lookup[data-ready]")
    assert not page.is_visible("[data-part=old]")
    page.clock.set_fixed_time("2035-01-01T12:00:00Z")
    page.reload()
    page.wait_for_selector("#lookup[data-ready]")
    assert page.is_visible("[data-part=old]")
    context.close()


@pytest.mark.parametrize(
    "query",
    [
        "d=no-such.defect",
        "s=nowhere&v=x&a=y&c=z",
        "f=truck*no.such*u",
        "f=trailer-1*seat-belt.missing*u",
        "f=*&f=**&f=a*b*c*d",
        "w=%3Cimg src=x onerror=alert(1)%3E",
        "w=" + "x" * 3000,
    ],
)
def test_an_address_that_says_nonsense_shows_the_page(open_lookup, query):
    page = open_lookup(f"index.html?{query}")
    assert page.is_visible(BOX)
    assert not page.is_visible("[data-part=bar]")
    assert page.said == []


def test_the_single_file_works_from_a_folder(browser, lookup_site, finder):
    context = browser.new_context(viewport={"width": 360, "height": 640})
    page = context.new_page()
    said, asked = [], []
    page.on("console", lambda message: said.append(message.text))
    page.on("pageerror", lambda error: said.append(str(error)))
    page.on("request", lambda request: asked.append(request.url))
    page.goto(lookup_site.roadside.as_uri())
    page.wait_for_selector("#lookup[data-ready]")
    page.fill(BOX, "wheel nut missing")
    hrefs = page.eval_on_selector_all(ROWS, "rows => rows.map(row => row.hash)")
    assert hrefs[:5] == [f"#d={entry}" for entry, _ in finder.find("wheel nut missing", 5)]
    page.click(ROWS)
    page.click("button:text-is('Truck')")
    page.click("[data-part=bar]")
    assert "Do not drive" in page.inner_text("[data-part=findings]")
    state = page.url
    page.reload()
    page.wait_for_selector("#lookup[data-ready]")
    assert page.url == state
    assert "Do not drive" in page.inner_text("[data-part=findings]")
    assert said == []
    assert {url.split("#")[0] for url in asked} == {lookup_site.roadside.as_uri()}
    context.close()


def test_the_single_file_reads_without_script(browser, lookup_site, shipped):
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(lookup_site.roadside.as_uri())
    text = page.inner_text("main")
    spoken_of = [entry for entry in shipped.entries if entry.rulings_under("on-s1")]
    assert spoken_of
    assert [e.id for e in spoken_of if e.condition["en"] not in text] == []
    context.close()


def test_the_single_file_keeps_light_or_dark(browser, lookup_site):
    context = browser.new_context(color_scheme="light")
    page = context.new_page()
    page.goto(lookup_site.roadside.as_uri())
    ground = "getComputedStyle(document.body).backgroundColor"
    assert page.evaluate(ground) == "rgb(255, 255, 255)"
    page.click("#roadside-theme")
    assert page.evaluate(ground) == "rgb(16, 16, 16)"
    page.reload()
    assert page.evaluate(ground) == "rgb(16, 16, 16)"
    context.close()


def test_what_has_no_entry_is_told_before_the_nearest_entries(open_lookup):
    page = open_lookup()
    page.fill("#lookup-words", "drive shaft loose")
    status = page.locator("[data-part=status]")
    assert status.inner_text().startswith("No entry here for: drive shaft. That does not make it safe.")
    assert status.get_attribute("data-sure") == "false"
    page.fill("#lookup-words", "wheel nut loose")
    assert status.inner_text().startswith("Found: ")
    assert status.get_attribute("data-sure") == "true"
