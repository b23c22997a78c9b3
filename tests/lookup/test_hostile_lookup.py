"""A hundred hostile texts in every field of a catalogue: none runs, none breaks a page."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields, is_dataclass, replace

import pytest
from lookup_site import Server, build_lookup_site
from pydantic import BaseModel

from chockbook.lookup import write_roadside

pytestmark = pytest.mark.browser
RUN = "self.taken=1"
HOSTILE = [
    f"<script>{RUN}</script>",
    f"</script><script>{RUN}</script>",
    f"<img src=x onerror={RUN}>",
    f"<svg onload={RUN}>",
    f'"><script>{RUN}</script>',
    f"'><img src=x onerror={RUN}>",
    f"javascript:{RUN}",
    f"<a href=javascript:{RUN}>x</a>",
    f"</title><script>{RUN}</script>",
    f"</style><script>{RUN}</script>",
    f"</textarea><script>{RUN}</script>",
    f"</noscript><script>{RUN}</script>",
    f"<!--<script>{RUN}</script>",
    f"--><script>{RUN}</script>",
    f"]]><script>{RUN}</script>",
    f"<iframe srcdoc='<script>{RUN}</script>'>",
    f"<body onload={RUN}>",
    f"<details open ontoggle={RUN}>",
    f"<input autofocus onfocus={RUN}>",
    f"<video><source onerror={RUN}>",
    f"<math><mtext><script>{RUN}</script>",
    f"<base href='//example.org/'><script>{RUN}</script>",
    f"<meta http-equiv=refresh content='0;url=javascript:{RUN}'>",
    f"<link rel=stylesheet href='data:text/css,*{{}}'><script>{RUN}</script>",
    f"<object data='javascript:{RUN}'>",
    f"{{{{ {RUN} }}}}",
    "{% raw %}",
    "{% endraw %}{{ 7*7 }}",
    "{: onclick=x }",
    "{#id}",
    "[x](javascript:x)",
    "![x](x.png)",
    "`code`",
    "```",
    "~~~",
    "***bold***",
    "# heading",
    "> quote",
    "- item",
    "1. item",
    "| a | b |",
    "---",
    "===",
    "&lt;b&gt;",
    "&#60;script&#62;",
    "\\u003cscript\\u003e",
    "%3Cscript%3E",
    '\\"',
    "\\'",
    "\\\\",
    "'; self.taken=1; '",
    '"; self.taken=1; "',
    "`; self.taken=1; `",
    "${self.taken=1}",
    "${`${1}`}",
    "</div></div></div>",
    "<div>",
    "<p",
    "<",
    ">",
    "&",
    '"',
    "'",
    "`",
    "\u2028",
    "\u2029",
    "\u202eevil",
    "\u200b",
    "\ufeff",
    "\ufffd",
    "\u0301\u0302\u0303",
    "a" * 400,
    "🛞" * 40,
    "‮⁦‭",
    "__proto__",
    "constructor",
    "toString",
    "hasOwnProperty",
    "null",
    "undefined",
    "NaN",
    "-1",
    "0",
    "1e999",
    "true",
    "<script src=//example.org/x.js></script>",
    "<style>*{display:none}</style>",
    "style=display:none",
    "onclick=x",
    "<template><script>1</script></template>",
    "<xmp>",
    "<plaintext>",
    "<noscript>",
    "<textarea>",
    "<select><option>",
    "<form action=//example.org>",
    "<button formaction=javascript:1>",
    "<marquee onstart=self.taken=1>",
    "<frameset>",
    "<keygen autofocus>",
    "<isindex>",
    "$&",
    "$1",
    "\\1",
    "%s",
    "{0}",
    "{number}",
]
FREE_LINES = {"locator", "issuer", "edition", "letter", "contact", "part"}


class Spoiler:
    """Puts the next hostile text round every text of a catalogue."""

    def __init__(self, start: int) -> None:
        self.at = start
        self.done: dict[int, tuple[object, object]] = {}

    def text(self, value: str) -> str:
        self.at += 1
        hostile = HOSTILE[self.at % len(HOSTILE)]
        return f"{hostile} {value} {hostile}"

    def spoil(self, value, name=""):
        if isinstance(value, BaseModel):
            if type(value).__name__ == "SearchWordsRecord":
                return value
            # A record that several others name stays one record.
            if id(value) not in self.done:
                changed = {n: self.spoil(getattr(value, n), n) for n in type(value).model_fields}
                self.done[id(value)] = (value, value.model_copy(update=changed))
            return self.done[id(value)][1]
        if is_dataclass(value):
            return replace(
                value, **{f.name: self.spoil(getattr(value, f.name), f.name) for f in fields(value)}
            )
        if isinstance(value, Mapping):
            if set(value) == {"en"}:
                words = value["en"]
                return {
                    "en": self.text(words) if isinstance(words, str) else type(words)(map(self.text, words))
                }
            return {key: self.spoil(inside) for key, inside in value.items()}
        if isinstance(value, (list, tuple)):
            return type(value)(self.spoil(inside) for inside in value)
        return self.text(value) if isinstance(value, str) and name in FREE_LINES else value


@pytest.fixture(scope="module")
def small(tiny, shipped):
    return replace(tiny, words=shipped.words, search=shipped.search)


def test_there_are_a_hundred_hostile_texts():
    assert len(set(HOSTILE)) >= 100


def walk(page, entry):
    """Every state of the page that shows texts of the tables."""
    page.fill("#lookup-words", "belt")
    page.click("[data-part=narrow]")
    page.fill("#lookup-words", "x")
    page.evaluate("id => chockbookPage.go({ d: id })", entry.id)
    assert entry.condition["en"].split()[0] in page.inner_text("[data-part=entry]")
    page.locator("[data-part=entry] .lookup-unit-button").first.click()
    page.evaluate("chockbookPage.go({ d: '', list: true })")
    assert page.input_value("#lookup-report")


@pytest.mark.parametrize("start", [0, 41, 83])
def test_no_text_of_the_tables_runs_or_breaks_the_single_file(browser, small, tmp_path, start):
    hostile = Spoiler(start).spoil(small)
    path = write_roadside(hostile, hostile.rulebooks[0].id, "en", tmp_path / "roadside.html")
    context = browser.new_context()
    page = context.new_page()
    said, asked = [], []
    page.on("console", lambda message: said.append(message.text))
    page.on("pageerror", lambda error: said.append(str(error)))
    page.on("request", lambda request: asked.append(request.url))
    page.goto(path.as_uri())
    page.wait_for_selector("#lookup[data-ready]", timeout=10_000)
    walk(page, hostile.entries[0])
    assert page.evaluate("self.taken") is None
    assert said == []
    assert {url.split("#")[0] for url in asked} == {path.as_uri()}
    plain = write_roadside(small, small.rulebooks[0].id, "en", tmp_path / "plain.html")
    tags = "() => [...document.querySelectorAll('*')].map(e => e.tagName).join(' ')"
    page.goto(path.as_uri())
    page.wait_for_selector("#lookup[data-ready]")
    with_hostile = page.evaluate(tags)
    page.goto(plain.as_uri())
    page.wait_for_selector("#lookup[data-ready]")
    assert page.evaluate(tags) == with_hostile, "the same elements, with other words in them"
    context.close()


def test_no_text_of_the_tables_runs_or_breaks_the_site(browser, small, tmp_path):
    hostile = Spoiler(7).spoil(small)
    site = build_lookup_site(hostile, tmp_path)
    server = Server(site.site_dir).start()
    context = browser.new_context(service_workers="block")
    page = context.new_page()
    said, asked = [], []
    page.on("console", lambda message: said.append(message.text))
    page.on("pageerror", lambda error: said.append(str(error)))
    page.on("request", lambda request: asked.append(request.url))
    page.goto(server.address + "index.html")
    page.wait_for_selector("#lookup[data-ready]", timeout=10_000)
    walk(page, hostile.entries[0])
    for path in sorted(site.site_dir.rglob("*.html")):
        page.goto(server.address + path.relative_to(site.site_dir).as_posix())
        assert page.evaluate("self.taken") is None, path
    page.wait_for_load_state("networkidle")
    context.close()
    server.stop()
    assert [s for s in said if "blocked by Playwright" not in s] == []
    assert [url for url in asked if not url.startswith((server.address, "data:"))] == []
