"""Text from the tables is inert: it shows as it stands in every place of a page, and nothing obeys it."""

from __future__ import annotations

import html

import jinja2
import markdown
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from lxml import html as lxml_html

from chockbook.pages.environment import MissingText, anchor, front_matter, template_environment
from chockbook.pages.escape import escape, one_line, title_line

EXTENSIONS = ["attr_list", "md_in_html", "tables", "toc"]
HOSTILE = [
    "<script>alert(1)</script>", "</title><script>alert(1)</script>", '" onmouseover="alert(1)',
    "' onfocus='alert(1)", "&lt;b&gt;", "&#60;b&#62;", "# heading", "- item", "+ item", "* item",
    "1. item", "2) item", "> quote", "    code", "```\ncode\n```", "~~~", "---", "===", "***", "a\n===",
    "a\n---", "[link](javascript:alert(1))", "![x](y.png)", "[ref]", "[ref]: https://example.org",
    "<https://example.org>", "https://example.org", "a@example.org", "`code`", "**bold**", "__bold__",
    "*i*", "_i_", "{#anchor}", "{: .class onclick=alert(1) }", "{ .class }", "| a | b |\n| - | - |",
    "a | b", ": definition", "!!! note", "??? note", "::: x", "$x$", "^x^", "~x~", "==x==", "\\*", "\\",
    "*[HTML]: x", "[^1]", "[TOC]", "[x]{.y}", "<!-- x -->", "<div markdown=\"1\">", "</section>",
    "</div>", "{{ 7 * 7 }}", "{% raw %}", "--8<-- \"x\"", "\x02wzxhzdk:0\x03", "\x02klzzwxh:0000\x03",
    "\x00", "a\u2028b", "a\u202eb", "\ud800", "%%", "-", "=", "1.", "a  \nb", "\tcode", "(c)", ":smile:",
    "&copy;", "&amp;", "<?php", "]]>",
]  # fmt: skip
texts = st.one_of(
    st.sampled_from(HOSTILE),
    st.lists(st.sampled_from(HOSTILE), min_size=2, max_size=4).map(" ".join),
    st.text(alphabet="<>&\"'`*_{}[]()#+-.!|:=~^\\$%@/? \n\t01aZé\u00a0\u2028\x02\x03", max_size=30),
    st.text(max_size=30),
)


def shown(element: object) -> str:
    """Text of an element, with runs of white space as one space."""
    return " ".join(element.text_content().split())


def meant(text: str) -> str:
    """What a reader is to see of a text."""
    return " ".join(one_line(text).split())


def tags(root: object) -> list[str]:
    """Tags and attribute names inside an element, in order."""
    return [f"{element.tag} {sorted(element.attrib)}" for element in root.iterdescendants()]


PLACES = {
    "paragraph": ("{}", "p"),
    "heading": ("## {} {{#here}}", "h2"),
    "heading in a section": ('<section markdown="1">\n\n## {} {{#here}}\n\n</section>', "h2"),
    "list item": ("- {}", "li"),
    "link in a list item": ("- [{}](page.md)", "a"),
    "numbered item in a div": ('<div markdown="1">\n\n1. {} <span class="by">x</span>\n\n</div>', "li"),
    "raw paragraph": ("<p>{}</p>", "p"),
    "paragraph with Markdown inside": ('<p markdown="1">[x](y.md) {}</p>', "p"),
    "table cell": ("| a |\n| - |\n| {} |", "td"),
    "raw cell": ("<table><tr><td>{}</td></tr></table>", "td"),
    "link in a paragraph": ('<p markdown="1">[{}](y.md)</p>', "a"),
}


@pytest.mark.parametrize("place", PLACES)
@settings(max_examples=120, deadline=None)
@given(text=texts)
def test_any_text_shows_as_it_stands_and_adds_no_element(place, text):
    source, tag = PLACES[place]

    def page(words):
        made = markdown.markdown(source.format(words), extensions=EXTENSIONS)
        return lxml_html.fragment_fromstring(made, create_parent="main")

    with_text, plain = page(escape("a" + text + "a")), page("aa")
    assert tags(with_text) == tags(plain)
    [element], [plain_element] = with_text.iter(tag), plain.iter(tag)
    assert shown(element) == shown(plain_element).replace("aa", meant("a" + text + "a"))


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("text", [text for text in HOSTILE if meant(text)])
def test_hostile_text_at_the_start_of_a_line_is_inert(place, text):
    source, tag = PLACES[place]
    page = lxml_html.fragment_fromstring(
        markdown.markdown(source.format(escape(text)), extensions=EXTENSIONS), create_parent="main"
    )
    plain = lxml_html.fragment_fromstring(
        markdown.markdown(source.format("aa"), extensions=EXTENSIONS), create_parent="main"
    )
    assert tags(page) == tags(plain)
    assert meant(text) in shown(next(page.iter(tag)))


@settings(max_examples=300, deadline=None)
@given(text=texts)
def test_an_attribute_holds_any_text(text):
    for quote in "\"'":
        element = lxml_html.fragment_fromstring(f"<p title={quote}{escape(text)}{quote}>x</p>")
        assert list(element.attrib) == ["title"]
        assert element.get("title") == one_line(text)


@settings(max_examples=300, deadline=None)
@given(text=texts)
@example(text="&lt;/title&gt;&lt;script&gt;")
def test_a_title_holds_no_character_that_html_obeys(text):
    assert not set(title_line(text)) & set('<>&"')
    assert front_matter(text) == str(front_matter(text))
    assert "\n" not in front_matter(text)


@settings(max_examples=300, deadline=None)
@given(text=texts)
def test_escaped_text_reads_back_as_the_text(text):
    escaped = escape(text)
    assert html.unescape(str(escaped)) == one_line(text)
    assert not set(escaped.replace("&#", "")) & set("<>\"'`*_{}[]|\\^~$=")


def test_a_template_escapes_without_being_asked(tmp_path):
    (tmp_path / "a.j2").write_text(
        "{{ text }} {{ text | escape }} {{ [text, text] | join(', ') }} {{ here | anchor }}"
    )
    made = template_environment(tmp_path).get_template("a.j2").render(text="<b>*x*", here="part-1")
    once = "&#60;b&#62;&#42;x&#42;"
    assert made == f"{once} {once} {once}, {once} {{#part-1}}"


def test_a_template_with_an_undefined_name_is_an_error(tmp_path):
    (tmp_path / "a.j2").write_text("{{ nothing }}")
    with pytest.raises(jinja2.UndefinedError, match="'nothing' is undefined"):
        template_environment(tmp_path).get_template("a.j2").render()


def test_a_template_that_places_an_empty_text_is_an_error(tmp_path):
    (tmp_path / "a.j2").write_text("{{ text }}")
    with pytest.raises(MissingText, match="leaves empty"):
        template_environment(tmp_path).get_template("a.j2").render(text=None)


def test_an_anchor_takes_only_an_id():
    with pytest.raises(ValueError, match="not an anchor"):
        anchor("a} .class")
