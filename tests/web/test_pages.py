"""Every page type is there, and each page shows what it is for."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime
from itertools import pairwise

import pytest
from built_site import MKDOCS_YML, write_book
from lxml import html as lxml_html
from page_types import one_of_each, spoken_of

from chockbook.pages import SiteFault, build_site, write_pages
from chockbook.views.grouping import UnknownRulebook

RULEBOOK = "on-s1"


def read(site, page):
    """The article of a page."""
    [article] = lxml_html.parse(str(site.site_dir / f"{page}.html")).getroot().iter("article")
    return article


def text_of(element):
    """Visible text of an element on one line."""
    return " ".join(element.text_content().split())


def test_each_page_type_is_written_and_no_other_page(site):
    written = {path.relative_to(site.site_dir).as_posix().removesuffix(".html") for path in site.html_files}
    expected = set(one_of_each(site.catalogue))
    expected |= {f"components/{e.component.id}" for e in site.catalogue.entries if e.rulings_under(RULEBOOK)}
    expected |= {f"severity/{s.id}" for s in site.catalogue.rulebooks[0].severities}
    expected |= {f"actions/{a.id}" for a in site.catalogue.rulebooks[0].actions}
    expected |= {f"route/{station.id}" for station in site.catalogue.stations}
    expected |= {f"compare/{other.id}" for other in site.catalogue.rulebooks[1:]}
    assert written == expected


def test_each_page_carries_edition_cautions_and_the_aid_line(site):
    catalogue = site.catalogue
    wanted = [
        catalogue.edition.code, catalogue.edition.date.isoformat(), catalogue.edition.check_by.isoformat(),
        catalogue.words["aid-line"]["en"], catalogue.words["caution-short"]["en"],
        *(caution.avoid["en"] for caution in catalogue.cautions),
    ]  # fmt: skip
    for path in site.html_files:
        text = text_of(lxml_html.parse(str(path)).getroot())
        assert [words for words in wanted if words not in text] == [], path.name


def test_each_entry_stands_once_on_its_component_page_in_the_agreed_order(site):
    seen = 0
    for entry in spoken_of(site.catalogue):
        article = read(site, f"components/{entry.component.id}")
        [section] = article.xpath(f"//section[@data-entry='{entry.id}']")
        [heading] = section.xpath(f"./h2[@id='{entry.slug}']")
        name = f"{entry.component.name['en']}: {entry.condition['en']}"
        assert text_of(heading) == name
        wanted = [name]
        rulings = entry.rulings_under(RULEBOOK)
        for ruling in rulings:
            wanted += [ruling.severity.outcome["en"], ruling.severity.name["en"]]
            wanted += [ruling.applies_when["en"]] if ruling.applies_when else []
            wanted += [action.text["en"] for action in ruling.actions]
        wanted.append(entry.check["en"])
        for limit in entry.limits:
            wanted.append(limit.quantity["en"])
            wanted += [row.printed["en"] for row in limit.rows]
        for ruling in rulings:
            wanted += [ruling.source.title["en"], ruling.locator]
        text, at = text_of(section), 0
        for words in wanted:
            at_next = text.find(words, at)
            assert at_next >= 0, f"{entry.id}: {words!r} is missing or out of order"
            at = at_next + len(words)
        assert [r.get("data-severity") for r in section.xpath(".//div[@class='ruling']")] == [
            ruling.severity.id for ruling in rulings
        ]
        seen += 1
    assert seen == len(spoken_of(site.catalogue))


def test_stop_entries_come_first_on_a_component_page(site):
    pages = {e.component.id for e in spoken_of(site.catalogue)}
    for component_id in pages:
        outcomes = read(site, f"components/{component_id}").xpath("//section[@data-entry]/@class")
        stops = ["entry--no" in outcome for outcome in outcomes]
        assert stops == sorted(stops, reverse=True), component_id


def test_what_is_from_memory_is_marked_on_the_entry(site):
    not_confirmed = site.catalogue.words["not-confirmed"]["en"]
    letter = site.catalogue.words["letter-not-confirmed"]["en"]
    seen = set()
    for entry in spoken_of(site.catalogue):
        [section] = read(site, f"components/{entry.component.id}").xpath(
            f"//section[@data-entry='{entry.id}']"
        )
        for ruling in entry.rulings_under(RULEBOOK):
            [block] = section.xpath(f".//div[@class='ruling'][@data-item='{ruling.item.id}']")
            outcome = text_of(block.xpath("./div[contains(@class, 'outcome')]")[0])
            assert (not_confirmed in outcome) == (not ruling.confirmed), entry.id
            [source] = section.xpath(f".//p[@class='source'][@data-item='{ruling.item.id}']")
            letter_sure = (ruling.item.locator_basis or ruling.item.basis) != "from-memory"
            assert (letter in text_of(source)) == (not letter_sure), entry.id
            seen.add((ruling.confirmed, letter_sure))
    assert (True, True) in seen
    assert (True, False) in seen


@pytest.mark.parametrize("severity_id", ["minor", "major"])
def test_a_severity_page_links_to_exactly_its_entries(site, severity_id):
    links = read(site, f"severity/{severity_id}").xpath("//div[@class='links']//a/@href")
    assert sorted(links) == sorted(
        f"../components/{e.component.id}.html#{e.slug}"
        for e in site.catalogue.entries
        if severity_id in [r.severity.id for r in e.rulings_under(RULEBOOK)]
    )


def test_an_action_page_links_to_exactly_the_entries_that_call_for_it(site):
    for action in site.catalogue.rulebooks[0].actions:
        links = read(site, f"actions/{action.id}").xpath("//div[@class='links']//a/@href")
        expected = sorted(
            f"../components/{e.component.id}.html#{e.slug}"
            for e in site.catalogue.entries
            for r in e.rulings_under(RULEBOOK)
            if action.id in [called.id for called in r.actions]
        )
        assert sorted(links) == expected, action.id


def test_the_schedule_shows_every_item_with_its_entries(site):
    article = read(site, "schedule")
    items = [i for s in site.catalogue.rulebooks[0].schedules for p in s.parts for i in p.items]
    assert article.xpath("//div[@data-item]/@data-item") == [item.id for item in items]
    for item in items:
        [block] = article.xpath(f"//div[@data-item='{item.id}']")
        assert item.text["en"] in text_of(block)
        links = block.xpath(".//div[@class='links']//a/@href")
        assert sorted(links) == sorted(
            f"components/{e.component.id}.html#{e.slug}"
            for e in site.catalogue.entries
            for r in e.rulings_under(RULEBOOK)
            if item.id in [covering.id for covering in (r.item, *r.also)]
        ), item.id


def test_the_route_shows_every_step_and_the_entries_it_can_turn_up(site):
    for station in site.catalogue.stations:
        article = read(site, f"route/{station.id}")
        assert article.xpath("//div[@class='step']/@id") == [step.id for step in station.steps]
        for step in station.steps:
            [block] = article.xpath(f"//div[@class='step'][@id='{step.id}']")
            assert step.do["en"] in text_of(block)
            assert step.good["en"] in text_of(block)
            links = block.xpath(".//details//a/@href")
            assert [link.rsplit("/", 1)[1].replace(".html#", ".") for link in links] == [
                entry_id for entry_id in step.finds if site.catalogue.entry[entry_id].rulings_under(RULEBOOK)
            ]


def test_the_route_leads_from_station_to_station(site):
    stations = site.catalogue.stations
    overview = read(site, "route").xpath("//div[@class='links']//a/@href")
    assert overview == [f"route/{station.id}.html" for station in stations]
    for station, following in pairwise(stations):
        last = read(site, f"route/{station.id}").xpath("//div[@class='links'][last()]//a/@href")[-1]
        assert last == f"{following.id}.html"


def test_every_anchor_that_a_page_names_is_there(site):
    anchors = {}
    for path in site.html_files:
        anchors[path.resolve()] = set(lxml_html.parse(str(path)).getroot().xpath("//@id"))
    followed = 0
    for path in site.html_files:
        for link in lxml_html.parse(str(path)).getroot().xpath("//a/@href"):
            target, _, anchor = link.partition("#")
            if anchor and ":" not in target:
                page = (path.parent / target).resolve() if target else path.resolve()
                assert anchor in anchors[page], f"{path.name} leads to {link}"
                followed += 1
    assert followed > 1000


def test_a_name_and_what_is_said_of_it_are_set_apart(site):
    crossing = text_of(read(site, "compare/us-fmcsr"))
    assert "Deadline: Repair the defect before the vehicle moves." in crossing
    coverage = text_of(read(site, "sources"))
    assert "Left out and why: " in coverage


def test_the_figures_show_every_row_as_printed(site):
    article = read(site, "figures")
    rows = [row for limit in site.catalogue.limits for row in limit.rows]
    shown = [text_of(cell) for cell in article.xpath("//td[contains(@class, 'figure__value')]/b")]
    assert sorted(shown) == sorted(row.printed["en"] for row in rows)


def test_the_sources_page_shows_each_source_and_how_it_was_read(site):
    text = text_of(read(site, "sources"))
    for source in site.catalogue.sources:
        assert source.title["en"] in text
        assert source.how_read["en"] in text


def test_an_unknown_rulebook_is_an_error(shipped, tmp_path):
    with pytest.raises(UnknownRulebook, match="no rulebook 'demo'"):
        write_pages(shipped, "demo", "en", tmp_path)


def test_a_dead_link_stops_the_build_and_names_the_page(small, tmp_path):
    pages = tmp_path / "pages"
    write_book(small, small.rulebooks[0].id, "en", pages)
    route = pages / "route.md"
    route.write_text(route.read_text(encoding="utf-8") + "\n[away](gone.md)\n", encoding="utf-8")
    with pytest.raises(SiteFault, match=r"route\.md.*gone\.md") as caught:
        build_site(MKDOCS_YML, pages, tmp_path / "site", date(2026, 3, 4))
    assert caught.value.pages == ["route.md"]


def test_a_dead_anchor_stops_the_build_and_names_the_page(small, tmp_path):
    pages = tmp_path / "pages"
    write_book(small, small.rulebooks[0].id, "en", pages)
    route = pages / "route.md"
    route.write_text(route.read_text(encoding="utf-8") + "\n[away](figures.md#gone)\n", encoding="utf-8")
    with pytest.raises(SiteFault, match="gone") as caught:
        build_site(MKDOCS_YML, pages, tmp_path / "site", date(2026, 3, 4))
    assert caught.value.pages == ["route.md"]


def test_the_same_catalogue_gives_the_same_pages(small, tmp_path):
    first = write_pages(small, small.rulebooks[0].id, "en", tmp_path / "a")
    second = write_pages(small, small.rulebooks[0].id, "en", tmp_path / "b")
    assert [path.read_bytes() for path in first] == [path.read_bytes() for path in second]


def test_every_colour_and_size_token_names_its_origin(site):
    css = (site.site_dir / "assets" / "chockbook.css").read_text(encoding="utf-8")
    tokens = re.findall(r"^\s+--cb-[a-z-]+:.*$", css.split("/* The theme's own variables")[0], re.MULTILINE)
    assert len(tokens) > 12
    night = [line for line in tokens if "/*" not in line]
    named = {re.match(r"\s+(--cb-[a-z-]+)", line)[1] for line in tokens if "/*" in line}
    assert [line for line in night if re.match(r"\s+(--cb-[a-z-]+)", line)[1] not in named] == []


def test_a_site_is_dated_as_its_edition_and_not_as_the_clock(small, tmp_path):
    """RFC 1952, 2.3.1: bytes 4 to 7 of a gzip file are its time in seconds since 1970, the lowest first."""
    pages = tmp_path / "pages"
    write_book(small, small.rulebooks[0].id, "en", pages)
    build_site(MKDOCS_YML, pages, tmp_path / "site", date(2026, 3, 4))
    stamp = int.from_bytes((tmp_path / "site" / "sitemap.xml.gz").read_bytes()[4:8], "little")
    assert datetime.fromtimestamp(stamp, UTC).date() == date(2026, 3, 4)
