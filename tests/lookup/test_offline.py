"""The site with no network, and from one edition to the next."""

from __future__ import annotations

import shutil
from dataclasses import replace

import pytest
from lookup_site import Server, build_lookup_site

pytestmark = pytest.mark.browser
NEW_WORDS = "The buckle will not latch in the newer edition"
ENTRY = "index.html?d=seat-belt.will-not-latch"


def until(page, condition):
    """Waits until an expression holds; the page's policy forbids Playwright's own way of waiting."""
    for _ in range(400):
        if page.evaluate(condition):
            return
        page.wait_for_timeout(50)
    raise AssertionError(f"never came true: {condition}")


def visit(page, address):
    """A first visit, until everything is saved."""
    page.goto(address)
    until(page, "navigator.serviceWorker.controller?.state === 'activated'")


@pytest.fixture(scope="module")
def newer(shipped, tmp_path_factory):
    """The next edition: one defect is worded anew."""
    entries = tuple(
        replace(entry, condition={"en": NEW_WORDS}) if entry.id == "seat-belt.will-not-latch" else entry
        for entry in shipped.entries
    )
    edition = replace(shipped.edition, code="0123abcd")
    return build_lookup_site(
        replace(shipped, entries=entries, edition=edition), tmp_path_factory.mktemp("newer")
    )


@pytest.fixture
def server(lookup_site, tmp_path):
    """A server of a copy of the site, which a test may change."""
    folder = tmp_path / "served"
    shutil.copytree(lookup_site.site_dir, folder)
    running = Server(folder).start()
    yield running
    running.stop()


@pytest.fixture
def page(browser):
    context = browser.new_context(viewport={"width": 360, "height": 640})
    page = context.new_page()
    page.failed = []
    page.on("pageerror", lambda error: page.failed.append(str(error)))
    yield page
    context.close()


def change_edition(server, site):
    """Puts another edition in the place of the served one, as an upload does."""
    shutil.rmtree(server.folder)
    shutil.copytree(site.site_dir, server.folder)


def test_after_one_visit_everything_works_with_the_server_stopped(page, server, lookup_site):
    visit(page, server.address)
    server.stop()
    page.goto(server.address + "index.html?w=wheel+nut+missing")
    page.wait_for_selector("#lookup[data-ready]")
    page.click("[data-part=results] > li:not([hidden]) a")
    page.click("text=Full page")
    assert "Wheel nut" in page.inner_text("article")
    pages = [
        path.relative_to(lookup_site.site_dir).as_posix()
        for path in sorted(lookup_site.site_dir.rglob("*.html"))
    ]
    assert len(pages) > 150
    for name in [name for name in pages if name != "404.html"][::7]:
        assert page.goto(server.address + name).ok, name
        assert page.inner_text("article").strip(), name
    styles = page.evaluate(
        "[...document.styleSheets].map(s => { try { return s.cssRules.length } catch { return 0 } })"
    )
    assert len(styles) > 2
    assert 0 not in styles
    assert page.failed == []


def test_every_file_of_the_site_is_answered_with_the_server_stopped(page, server, lookup_site):
    from chockbook.lookup.offline import file_hashes

    visit(page, server.address)
    server.stop()
    names = list(file_hashes(lookup_site.site_dir))
    assert len(names) > 200
    failed = page.evaluate(
        """names => Promise.all(names.map(name => fetch(name).then(r => r.ok ? null : name, () => name)))
            .then(all => all.filter(Boolean))""",
        names,
    )
    assert failed == []


def test_it_is_said_that_the_site_is_saved(page, server):
    visit(page, server.address)
    until(page, "!document.getElementById('offline-state').hidden")
    assert "no signal" in page.inner_text("#offline-state")


def test_a_newer_edition_waits_is_told_of_and_comes_when_asked_for(page, server, newer):
    visit(page, server.address)
    page.goto(server.address + ENTRY)
    page.wait_for_selector("#lookup[data-ready]")
    before = page.inner_text("[data-part=entry]")
    assert NEW_WORDS not in before
    change_edition(server, newer)
    page.reload()
    page.wait_for_selector("#lookup[data-ready]")
    page.evaluate("navigator.serviceWorker.getRegistration().then(r => r.update())")
    page.wait_for_selector(".offline-notice button")
    assert page.inner_text("[data-part=entry]") == before, "nothing changes under the finger"
    page.reload()
    page.wait_for_selector("#lookup[data-ready]")
    assert page.inner_text("[data-part=entry]") == before, "the old edition stays until the reader asks"
    page.wait_for_selector(".offline-notice button")
    page.click(".offline-notice button")
    page.wait_for_selector(f"[data-part=entry] h2:has-text('{NEW_WORDS}')")
    server.stop()
    page.reload()
    page.wait_for_selector("#lookup[data-ready]")
    assert NEW_WORDS in page.inner_text("[data-part=entry]")


@pytest.mark.parametrize("fault", ["missing", "changed"])
def test_an_edition_that_is_not_whole_is_not_taken(page, server, newer, fault):
    visit(page, server.address)
    change_edition(server, newer)
    broken = "components/seat-belt.html"
    if fault == "missing":
        server.broken = broken
    else:
        (server.folder / broken).write_text("half of another edition", "utf-8")
    page.evaluate("navigator.serviceWorker.getRegistration().then(r => r.update()).catch(() => {})")
    page.wait_for_timeout(2500)
    until(
        page,
        "navigator.serviceWorker.getRegistration().then(r => r.installing === null && r.waiting === null)",
    )
    assert page.query_selector(".offline-notice") is None
    server.stop()
    page.goto(server.address + ENTRY)
    page.wait_for_selector("#lookup[data-ready]")
    assert page.is_visible("[data-part=entry] h2")
    assert NEW_WORDS not in page.inner_text("[data-part=entry]")
    assert page.goto(server.address + broken).ok


def test_the_update_fetches_only_what_changed(page, server, newer, lookup_site):
    from chockbook.lookup.offline import file_hashes

    old, new = file_hashes(lookup_site.site_dir), file_hashes(newer.site_dir)
    same = [name for name in new if old.get(name) == new[name]]
    assert len(same) > 10
    visit(page, server.address)
    change_edition(server, newer)
    for name in same:  # were one of these fetched again, its new bytes would not fit its hash
        (server.folder / name).write_bytes(b"not what it was")
    page.evaluate("navigator.serviceWorker.getRegistration().then(r => r.update())")
    page.wait_for_selector(".offline-notice button", timeout=20_000)


def test_after_the_store_is_cleared_a_visit_saves_everything_again(page, server):
    visit(page, server.address)
    page.evaluate("caches.delete('chockbook-files')")
    assert page.goto(server.address + "index.html").ok, "with a network the pages are still there"
