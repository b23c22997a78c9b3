"""A whole catalogue of hostile texts gives the same pages as a plain one, with other words in them."""

from __future__ import annotations

import pytest
from built_site import build_pages
from lxml import html as lxml_html
from spoiling import spoil

from chockbook.pages.escape import one_line

PAYLOADS = [
    "<script>window.taken = 1</script> </title></section> &lt;img src=x onerror=alert(1)&gt;",
    "{: onclick=alert(1) } {#taken} [x](javascript:alert(1)) ![x](https://example.org/x.png) `a` **b** | c |",
]


def body(path):
    """The article of a page, as the theme holds it."""
    [article] = lxml_html.parse(str(path)).getroot().iter("article")
    return article


def shape(element):
    """Tags with their attributes' names, in order."""
    return [(e.tag, sorted(e.attrib)) for e in element.iterdescendants() if isinstance(e.tag, str)]


@pytest.mark.parametrize("payload", PAYLOADS)
def test_hostile_tables_change_words_and_nothing_else(small, payload, tmp_path):
    plain = build_pages(small, tmp_path / "plain")
    hostile_catalogue = spoil(small, payload)
    hostile = build_pages(hostile_catalogue, tmp_path / "hostile")

    names = [path.relative_to(plain.site_dir) for path in plain.html_files]
    assert names == [path.relative_to(hostile.site_dir) for path in hostile.html_files]
    for name in names:
        assert shape(body(hostile.site_dir / name)) == shape(body(plain.site_dir / name)), name

    entry = hostile_catalogue.entries[0]
    page = body(hostile.site_dir / "components" / f"{entry.component.id}.html")
    [heading] = page.xpath(f"//h2[@id='{entry.slug}']")
    expected = f"{one_line(entry.component.name['en'])}: {one_line(entry.condition['en'])}"
    assert heading.text_content().strip().startswith(expected)


def test_a_hostile_title_does_not_leave_the_title(small, tmp_path):
    hostile = build_pages(spoil(small, "&lt;/title&gt;<script>window.taken = 1</script>"), tmp_path)
    for path in hostile.html_files:
        document = lxml_html.parse(str(path)).getroot()
        assert len(list(document.iter("title"))) == 1, path
        run = [s for s in document.iter("script") if s.get("type") != "application/json"]
        assert "window.taken" not in "".join(script.text or "" for script in run), path
