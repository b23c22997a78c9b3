"""The page that says whether a card is current: typed or by its address, in both languages, from the files themselves."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
from built_site import MKDOCS_YML

from chockbook.editions import catalogue_as_data
from chockbook.pages import build_site, write_pages

pytestmark = pytest.mark.browser
ANSWERS = {
    "en": ("Your card is current.", "Your card is stale. Do not rely on it.", "Your card still says the same.",
           "This code is not known here.", "A code has eight letters and digits"),
    "fr": ("Votre carte est à jour.", "Votre carte est périmée.", "Votre carte dit encore la même chose.",
           "Ce code n'est pas connu ici.", "Un code compte huit caractères"),
}  # fmt: skip


@pytest.fixture(scope="module")
def books(tiny, shipped, tmp_path_factory):
    """The tiny catalogue's page in each language, with two former editions: one that differs on the cards, one not."""
    catalogue = replace(tiny, words=shipped.words, languages=shipped.languages, search=shipped.search)
    stale, same = catalogue_as_data(catalogue), catalogue_as_data(catalogue)
    stale["edition"]["code"], same["edition"]["code"] = "00a11eaf", "5a5a5a5a"
    stale["entries"][1]["rulings"][0]["severity"] = "minor"
    same["entries"][1]["check"] = {"en": "Look at it."}
    catalogue = replace(catalogue, former=(same, stale))
    places = {}
    for language in ANSWERS:
        folder = tmp_path_factory.mktemp(language)
        write_pages(catalogue, "demo", language, folder / "pages")
        build_site(MKDOCS_YML, folder / "pages", folder / "site", date(2026, 3, 4), language)
        places[language] = (folder / "site" / "card.html").as_uri()
    return catalogue.edition.code, places


@pytest.mark.parametrize("language", ANSWERS)
def test_a_code_is_answered_and_typing_errors_are_forgiven(browser, books, language):
    code, places = books
    current, stale, same, unknown, short = ANSWERS[language]
    page = browser.new_page()
    page.goto(places[language])
    for typed, answer in ((code, current), (f" {code[:4].upper()}-{code[4:]} ", current), ("OOaIleaf", stale), ("5A5A 5A5A", same),
                          ("deadbeef", unknown), ("1234", short), ("", short), ("<b>x</b>", short)):  # fmt: skip
        page.fill("#card-code", typed)
        page.keyboard.press("Enter")
        assert answer in page.inner_text("#card-result"), typed
    page.fill("#card-code", "00a11eaf")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    assert "A tire is flat" in page.inner_text("#card-result")
    page.close()


@pytest.mark.parametrize("ending", ["?edition=00A11EAF", "#00a11eaf", "#e-00a11eaf"])
def test_a_code_in_the_address_is_answered_at_once(browser, books, ending):
    page = browser.new_page()
    page.goto(books[1]["en"] + ending)
    page.wait_for_selector("#card-result:not(:empty)")
    assert "Your card is stale" in page.inner_text("#card-result")
    page.close()


def test_without_a_script_every_edition_stands_on_the_page(browser, books):
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(books[1]["en"])
    text = page.inner_text("article")
    assert all(code in text for code in (books[0], "00a11eaf", "5a5a5a5a"))
    assert "Find the code of your card in the list below." in text
    assert not page.is_visible("#card-code")
    context.close()
