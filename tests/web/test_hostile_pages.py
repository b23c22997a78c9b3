"""Pages that show former editions too (what changed, is my card current) or act (walk, practice): nothing runs."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest
from built_site import build_pages, serve
from spoiling import spoil
from test_hostile_tables import body, shape

from chockbook.editions import catalogue_as_data, read_edition

RUN = ("<script>window.taken = 1</script><img src=x onerror='window.taken = 1'> {{ 7 * 7 }} "
       "[x](javascript:window.taken=1) </section>")  # fmt: skip
PAGES = ("changes.html", "card.html", "walk.html", "practice.html", "sources.html", "measure.html", "index.html")


def former(catalogue, condition: str):
    """An edition that is kept as a file, whose texts differ from those of today."""
    data = json.loads(json.dumps(catalogue_as_data(catalogue)))
    data["edition"]["code"] = "0123abcd"
    for entry in data["entries"]:
        entry["condition"]["en"] = condition
    data["publisher"] = {"name": condition}
    return read_edition(json.dumps({"kept": 1, **data}).encode(), "0123abcd.json")


@pytest.fixture(scope="module")
def sites(small, tmp_path_factory):
    """The site of a plain catalogue, and the same with hostile texts today and in its former edition."""
    place = tmp_path_factory.mktemp("hostile")
    plain = build_pages(replace(small, former=(former(small, "Something else"),)), place / "plain")
    spoilt = spoil(small, RUN)
    return plain, build_pages(replace(spoilt, former=(former(spoilt, f"Something {RUN}"),)), place / "hostile")


@pytest.mark.parametrize("name", PAGES)
def test_hostile_texts_of_a_former_edition_change_words_and_nothing_else(sites, name):
    plain, hostile = sites
    assert shape(body(hostile.site_dir / name)) == shape(body(plain.site_dir / name))


def test_the_changes_are_told_with_the_hostile_words_in_them(sites):
    _, hostile = sites
    assert "window.taken = 1" in body(hostile.site_dir / "changes.html").text_content()


@pytest.mark.browser
def test_nothing_of_them_runs_when_pages_are_opened_and_used(sites, browser):
    _, hostile = sites
    with serve(hostile.site_dir) as where:
        page = browser.new_page()
        asked = []
        page.on("request", lambda request: asked.append(request.url))
        page.on("dialog", lambda dialog: asked.append(f"dialog: {dialog.message}"))
        for name in PAGES:
            page.goto(f"{where}{name}?edition=0123abcd")
            for button in page.locator("article button:visible, article summary:visible").all()[:12]:
                if button.is_visible() and button.is_enabled():
                    button.click()
            assert page.evaluate("window.taken") is None, name
            assert page.locator("article script:not([src]):not([type='application/json'])").count() == 0, name
            assert page.locator("article img[src='x']").count() == 0, name
        page.close()
    assert [url for url in asked if not url.startswith(where)] == []
