"""Each page type in headless Chromium: it fits, asks nothing of others, and axe finds nothing against it."""

from __future__ import annotations

import re

import pytest
from page_types import FIXED, one_of_each, spoken_of

pytestmark = pytest.mark.browser
WIDTHS = {320: 640, 360: 640, 1280: 800}
SCHEMES = ("light", "dark")
JUDGED_WIDE = ("index", "component-1", "figures")
"""Where axe also judges the wide layout: the frame is the same everywhere, and each run takes a second."""
PLACES = (*FIXED, "component-1", "component-2", "severity", "action", "station")


def page_at(catalogue, place):
    """Path of the page that stands for a place in the list."""
    pages = one_of_each(catalogue)
    rest = pages[len(FIXED) :]
    return place if place in FIXED else rest[PLACES[len(FIXED) :].index(place)]


@pytest.fixture
def open_page(browser, address):
    """Opens a page in a fresh window; gives it with what it said and asked for."""
    contexts = []

    def opened(path, scheme="light", width=360, **settings):
        context = browser.new_context(
            viewport={"width": width, "height": WIDTHS.get(width, 640)}, color_scheme=scheme, **settings
        )
        contexts.append(context)
        page = context.new_page()
        page.said, page.asked = [], []
        page.on("console", lambda message: page.said.append(f"{message.type}: {message.text}"))
        page.on("pageerror", lambda error: page.said.append(f"error: {error}"))
        page.on("request", lambda request: page.asked.append(request.url))
        page.goto(address + path)
        page.wait_for_load_state("networkidle")
        return page

    yield opened
    for context in contexts:
        context.close()


@pytest.mark.parametrize("scheme", SCHEMES)
@pytest.mark.parametrize("place", PLACES)
def test_a_page_fits_says_nothing_asks_nobody_and_is_accessible(open_page, site, address, place, scheme):
    axe_of = pytest.importorskip("axe_playwright_python.sync_playwright", reason="axe is not installed")
    page = open_page(page_at(site.catalogue, place) + ".html", scheme)
    for width, height in WIDTHS.items():
        page.set_viewport_size({"width": width, "height": height})
        page.wait_for_timeout(300)  # the theme slides its search and menu into place after a change of width
        assert page.evaluate("document.documentElement.scrollWidth") <= width, (
            f"scrolls sideways at {width} px"
        )
        if width == 360 or (width == 1280 and place in JUDGED_WIDE):
            found = axe_of.Axe().run(page, options={"rules": {"target-size": {"enabled": True}}})
            assert found.violations_count == 0, found.generate_report()
    assert page.evaluate("[...document.fonts].some(f => f.status === 'loaded')"), "our font was not loaded"
    assert page.said == []
    assert [url for url in page.asked if not url.startswith((address, "data:", "blob:"))] == []


@pytest.mark.parametrize("scheme", SCHEMES)
@pytest.mark.parametrize("place", ["component-1", "figures", "standing"])
def test_text_reaches_seven_to_one(open_page, site, place, scheme):
    axe_of = pytest.importorskip("axe_playwright_python.sync_playwright", reason="axe is not installed")
    page = open_page(page_at(site.catalogue, place) + ".html", scheme)
    found = axe_of.Axe().run(page, context="article", options={"runOnly": ["color-contrast-enhanced"]})
    assert found.violations_count == 0, found.generate_report()
    assert found.response["passes"], "axe judged nothing"


def test_no_component_page_scrolls_sideways_on_a_small_phone(open_page, site, address):
    page = open_page("index.html", width=320, java_script_enabled=False)
    wide = []
    component_ids = sorted({entry.component.id for entry in spoken_of(site.catalogue)})
    for component_id in component_ids:
        page.goto(f"{address}components/{component_id}.html")
        if page.evaluate("document.documentElement.scrollWidth") > 320:
            wide.append(component_id)
    assert component_ids
    assert wide == []


@pytest.mark.parametrize("opened_as", ["served", "file"])
def test_a_phone_is_offered_the_search_where_it_works(open_page, browser, site, opened_as):
    if opened_as == "served":
        page = open_page("card.html")
    else:
        page = browser.new_page(viewport={"width": 390, "height": 640})
        page.goto((site.site_dir / "card.html").as_uri())
        page.wait_for_selector(".md-search[hidden]", state="attached")
    assert page.is_visible(".md-header__button[for='__search']") == (opened_as == "served")
    page.close()


def test_no_title_of_a_list_fades_the_link_below_it(open_page):
    page = open_page("how-to-use.html", width=1280)
    titles = page.eval_on_selector_all(".md-sidebar .md-nav__title", "found => found.map(e => getComputedStyle(e).boxShadow)")
    assert titles
    assert set(titles) == {"none"}


def test_targets_are_large_on_a_phone(open_page, site):
    small = []
    measured = 0
    for place in ("index", "components/index", "component-1", "severity", "schedule"):
        page = open_page(page_at(site.catalogue, place) + ".html")
        boxes = page.eval_on_selector_all(
            "article .links a:not(.flag), article .crumbs a, article summary, .md-header .md-header__button",
            """found => found.filter(e => e.offsetParent).map(e => {
                const box = e.getBoundingClientRect();
                return [e.textContent.trim(), box.width, box.height] })""",
        )
        measured += len(boxes)
        small += [(place, *box) for box in boxes if min(box[1:]) < 44]
    assert measured > 100
    assert small == []


def test_body_type_is_at_least_18_pixels_and_notes_16(open_page, site):
    page = open_page(page_at(site.catalogue, "component-1") + ".html")
    sizes = page.eval_on_selector_all(
        "article *",
        """found => found.filter(e => [...e.childNodes].some(n => n.nodeType === 3 && n.textContent.trim()))
            .map(e => [e.className, parseFloat(getComputedStyle(e).fontSize)])""",
    )
    assert min(size for _, size in sizes) >= 16, min(sizes, key=lambda pair: pair[1])
    check = page.eval_on_selector(".entry .check", "e => parseFloat(getComputedStyle(e).fontSize)")
    assert check >= 18


def test_severity_shows_in_forced_colours(open_page, site):
    page = open_page(page_at(site.catalogue, "component-1") + ".html", forced_colors="active")
    stop, go_on = (
        page.eval_on_selector(
            f"article .outcome--{kind}",
            "e => { const s = getComputedStyle(e); return [s.backgroundColor, s.color, s.borderTopWidth] }",
        )
        for kind in ("no", "once-reported")
    )
    assert stop[0] == go_on[1], "the stop block is filled with the colour of text"
    assert stop[1] == go_on[0]
    assert float(go_on[2].removesuffix("px")) >= 1


def test_the_search_finds_an_entry_by_its_section(open_page, site):
    page = open_page("index.html", width=1280)
    entry = spoken_of(site.catalogue)[0]
    page.click(".md-search__input")
    page.keyboard.type(re.sub(r"[^\w]+", " ", entry.condition["en"]), delay=5)
    page_part, section_part = f"[href*='components/{entry.component.id}.html']", f"[href$='#{entry.slug}']"
    page.locator(f".md-search-result__link{page_part}{section_part}").first.wait_for(timeout=10_000)
    assert page.said == []


def test_text_spacing_loses_nothing(open_page, site):
    page = open_page(page_at(site.catalogue, "component-1") + ".html", width=320)
    page.add_style_tag(
        content="* { line-height: 1.5 !important; letter-spacing: .12em !important;"
        " word-spacing: .16em !important }"
        " p { margin-bottom: 2em !important }"
    )
    assert page.evaluate("document.documentElement.scrollWidth") <= 320
    clipped = page.eval_on_selector_all(
        "article *",
        """found => found.filter(e => getComputedStyle(e).overflow !== 'visible'
            && (e.scrollWidth > e.clientWidth + 1 || e.scrollHeight > e.clientHeight + 1))
            .map(e => e.outerHTML)""",
    )
    assert clipped == []


def test_on_paper_the_page_says_that_it_is_uncontrolled(open_page, site):
    page = open_page(page_at(site.catalogue, "component-1") + ".html", "dark")
    assert not page.is_visible(".on-paper")
    page.emulate_media(media="print")
    assert page.is_visible(".on-paper")
    assert not page.is_visible(".md-header")
    ink = page.eval_on_selector("article .entry .check", "e => getComputedStyle(e).color")
    assert ink == "rgb(0, 0, 0)"
