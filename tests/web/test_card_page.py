"""The page that says whether a card is current: typed or by its address, in both languages, from the files themselves."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date, datetime
from zoneinfo import ZoneInfo

import pytest
from built_site import MKDOCS_YML, serve, write_book

from chockbook.editions import catalogue_as_data
from chockbook.pages import build_site

pytestmark = pytest.mark.browser
ANSWERS = {
    "en": ("Your card is current.", "Do not rely on yours until it is checked.", "Your card still says the same.",
           "This code is not known here.", "A code has eight letters and digits"),
    "fr": ("Votre carte est à jour.", "Ne pas se fier à la vôtre avant qu'elle soit vérifiée.", "Votre carte dit encore la même chose.",
           "Ce code n'est pas connu ici.", "Un code compte huit caractères"),
}  # fmt: skip
IN_FORCE, PAST = datetime(2026, 4, 1, 12), datetime(2028, 3, 1, 12)
"""Days before and after the check-by date of the tiny catalogue, 2027-01-05."""


@pytest.fixture(scope="module")
def books(tiny, shipped, tmp_path_factory):
    """The tiny catalogue's page in each language, with two former editions: one that differs on the cards, one not."""
    catalogue = replace(tiny, words=shipped.words, languages=shipped.languages, search=shipped.search)
    stale, same = catalogue_as_data(catalogue), catalogue_as_data(catalogue)
    stale["edition"]["code"], same["edition"]["code"] = "00a11eaf", "5a5a5a5a"
    same["edition"]["check_by"] = "2026-06-01"
    stale["entries"][1]["rulings"][0]["severity"] = "minor"
    same["entries"][1]["check"] = {"en": "Look at it."}
    catalogue = replace(catalogue, former=(same, stale))
    places, sites = {}, {}
    for language in ANSWERS:
        folder = tmp_path_factory.mktemp(language)
        write_book(catalogue, "demo", language, folder / "pages")
        build_site(MKDOCS_YML, folder / "pages", folder / "site", date(2026, 3, 4), language)
        places[language] = (folder / "site" / "card.html").as_uri()
        sites[language] = folder / "site"
    return catalogue.edition.code, places, sites["en"]


@pytest.fixture
def open_page(browser, books):
    """Opens the page at an address, by default as a file in English, on a given day; closes it after the test."""
    contexts = []

    def opened(address="", now=IN_FORCE, **settings):
        context = browser.new_context(**settings)
        contexts.append(context)
        page = context.new_page()
        page.clock.set_fixed_time(now)
        page.goto(address if ":" in address else books[1]["en"] + address)
        return page

    yield opened
    for context in contexts:
        context.close()


def ask(page, code):
    """What the page answers of a code."""
    page.fill("#card-code", code)
    page.keyboard.press("Enter")
    return page.inner_text("#card-result")


@pytest.mark.parametrize("language", ANSWERS)
def test_a_code_is_answered_and_typing_errors_are_forgiven(open_page, books, language):
    code, places, _ = books
    current, stale, same, unknown, short = ANSWERS[language]
    page = open_page(places[language])
    for typed, answer in ((code, current), (f" {code[:4].upper()}-{code[4:]} ", current), ("OOaIleaf", stale), ("5A5A 5A5A", same),
                          ("deadbeef", unknown), ("1234", short), ("", short), ("<b>x</b>", short)):  # fmt: skip
        assert answer in ask(page, typed), typed


@pytest.mark.parametrize("ending", ["?edition=00A11EAF", "#00a11eaf", "#e-00a11eaf"])
def test_a_code_in_the_address_is_answered_at_once(open_page, ending):
    page = open_page(ending)
    page.wait_for_selector("#card-result:not(:empty)")
    assert "Some cards changed since this edition." in page.inner_text("#card-result")


def test_a_stale_edition_names_the_parts_to_look_for_and_leads_to_all_that_changed(open_page):
    page = open_page()
    answer = ask(page, "00a11eaf")
    assert "Look for these on your cards, and ask your carrier which decks changed." in answer
    assert page.locator("#card-result li").all_inner_texts() == ["Tire"]
    page.click("text=All that changed since edition 00a11eaf")
    assert page.evaluate("document.querySelector(':target').innerText").startswith("Edition 00a11eaf: stale")
    assert "Look for these on your cards" in page.inner_text("#card-result")


@pytest.mark.parametrize(("edition", "says"), [
    ("current", "Your card is of the newest edition known here, but its check-by date, 2027-01-05, has passed."),
    ("same", "Your card says the same as the newest edition known here, but its check-by date, 2026-06-01, has passed."),
])  # fmt: skip
def test_after_the_check_by_date_the_carrier_has_to_confirm(open_page, books, edition, says):
    code = books[0] if edition == "current" else "5a5a5a5a"
    answer = ask(open_page(now=PAST), code)
    assert says in answer
    assert "Ask your carrier to confirm it before you rely on it." in answer
    assert ANSWERS["en"][0] not in answer
    assert ANSWERS["en"][2] not in answer


@pytest.mark.parametrize(("day", "passed"), [(datetime(2027, 1, 5, 23, 59), False), (datetime(2027, 1, 6, 0, 1), True)])
def test_the_check_by_date_is_the_last_good_day_where_the_reader_is(open_page, books, day, passed):
    page = open_page(now=day.replace(tzinfo=ZoneInfo("America/Toronto")), timezone_id="America/Toronto")
    assert ("has passed" in ask(page, books[0])) == passed


@pytest.mark.parametrize(("code", "passed"), [("current", False), ("5a5a5a5a", True)])
def test_each_edition_has_a_check_by_date_of_its_own(open_page, books, code, passed):
    page = open_page(now=datetime(2026, 7, 1, 12))
    assert ("has passed" in ask(page, books[0] if code == "current" else code)) == passed


KEPT = "Answered from the copy kept on this device. A newer edition would not be known here."


@pytest.mark.parametrize("code", ["current", "00a11eaf", "deadbeef"])
def test_a_page_opened_as_a_file_says_that_it_is_a_kept_copy(open_page, books, code):
    assert KEPT in ask(open_page(), books[0] if code == "current" else code)


def test_with_a_network_and_no_kept_copy_the_page_does_not_speak_of_one(open_page, books):
    with serve(books[2]) as address:
        page = open_page(f"{address}card.html", service_workers="block")
        assert KEPT not in ask(page, books[0])
        page.context.set_offline(True)
        assert KEPT in ask(page, books[0])


def test_an_answer_from_the_service_workers_store_says_so(open_page, books):
    """The worker of a site answers from its store whether or not there is a network; a plain one stands for it here."""
    (books[2] / "sw-test.js").write_text("self.addEventListener('activate', e => e.waitUntil(clients.claim()))", encoding="utf-8")
    with serve(books[2]) as address:
        page = open_page(f"{address}card.html")
        page.evaluate("""async () => {
            await navigator.serviceWorker.register('sw-test.js');
            await navigator.serviceWorker.ready;
        }""")
        page.wait_for_function("navigator.serviceWorker.controller")
        page.reload()
        assert KEPT in ask(page, books[0])


@pytest.mark.parametrize("code", ["current", "00a11eaf", "5a5a5a5a", "deadbeef", "12"])
def test_every_answer_says_what_it_knows_and_what_it_does_not_check(open_page, books, code):
    answer = ask(open_page(), books[0] if code == "current" else code)
    assert f"The newest edition known here is {books[0]}, issued 2026-01-05, check by 2027-01-05." in answer
    assert "This does not check the phone numbers or the unit: ask your carrier." in answer


@pytest.mark.parametrize("ending", ["", "?edition=deadbeef", "?edition=00a11eaf"])
def test_the_list_speaks_of_editions_and_never_of_the_readers_card(open_page, books, ending):
    page = open_page(ending)
    listed = page.locator(".card-edition").all_inner_texts()
    assert [text.split("\n")[0] for text in listed] == [
        f"Edition {books[0]}: the current one",
        "Edition 00a11eaf: stale, cards changed since",
        "Edition 5a5a5a5a: older, its cards still say the same",
    ]
    assert not [text for text in listed if "tire.flat" in text], "names stand for ids"
    assert not [text for text in listed if re.search(r"\byours?\b|rely", text, re.IGNORECASE)]
    assert set(page.locator(".card-edition").evaluate_all("found => found.map(e => getComputedStyle(e).borderTopWidth)")) == {"2px"}


def test_without_a_script_every_edition_stands_on_the_page(browser, books):
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(books[1]["en"])
    text = page.inner_text("article")
    assert all(code in text for code in (books[0], "00a11eaf", "5a5a5a5a"))
    assert "Find the code of your card in the list below." in text
    assert "After the check-by date of its edition, ask your carrier to confirm it." in text
    assert "This does not check the phone numbers or the unit: ask your carrier." in text
    assert "Check by 2027-01-05" in text
    assert not page.is_visible("#card-code")
    context.close()
