"""Pages are sealed, the single file is small, and data in a page stays data."""

from __future__ import annotations

import base64
import hashlib
import json
import re
import struct
import zlib
from html import unescape

import pytest

from chockbook.lookup.icon import icon_png, icon_svg
from chockbook.lookup.offline import file_hashes
from chockbook.lookup.script import as_script_text, page_script, slimmed
from chockbook.lookup.seal import Unsealable, hash_source, seal_pages, sealed

PAGE = '<!doctype html><html><head><meta charset="utf-8"><title>x</title></head><body>{body}</body></html>'
POLICY = re.compile(r'http-equiv="Content-Security-Policy" content="([^"]*)"')


def rules_of(page):
    [policy] = POLICY.findall(page)
    return {rule.split(" ")[0]: rule.split(" ")[1:] for rule in unescape(policy).split("; ")}


def test_every_page_has_one_strict_policy(lookup_site):
    pages = sorted(lookup_site.site_dir.rglob("*.html"))
    assert len(pages) > 150
    for path in pages:
        rules = rules_of(path.read_text("utf-8"))
        assert rules["default-src"] == ["'none'"], path
        assert rules["base-uri"] == ["'none'"], path
        assert rules["object-src"] == ["'none'"], path
        sources = [source for all_sources in rules.values() for source in all_sources]
        assert not [s for s in sources if "unsafe" in s or "*" in s or s.startswith("http")], path
        assert all(re.fullmatch(r"'self'|'sha256-[A-Za-z0-9+/=]{44}'", s) for s in rules["script-src"]), path


def test_the_policy_names_each_inline_script_and_no_other():
    script = "let a = 1;"
    rules = rules_of(
        sealed(
            PAGE.format(body=f"<script>{script}</script><script type='application/json'>{{}}</script>"), ""
        )
    )
    digest = base64.b64encode(hashlib.sha256(script.encode()).digest()).decode()
    assert rules["script-src"] == ["'self'", f"'sha256-{digest}'"]
    assert hash_source(script) == f"'sha256-{digest}'"


@pytest.mark.parametrize("body", ['<p onclick="x()">', '<p style="color: red">', "<img src=x onerror='x()'>"])
def test_script_or_style_in_an_attribute_cannot_be_sealed(body, tmp_path):
    (tmp_path / "bad.html").write_text(PAGE.format(body=body), "utf-8")
    with pytest.raises(Unsealable, match=r"^bad\.html: a (script|style) in an attribute"):
        seal_pages(tmp_path)


def test_a_page_without_a_head_cannot_be_sealed():
    with pytest.raises(Unsealable, match="no head"):
        sealed("<p>text</p>", "")


def test_sealing_twice_changes_nothing(tmp_path):
    path = tmp_path / "deep" / "page.html"
    path.parent.mkdir()
    path.write_text(PAGE.format(body=""), "utf-8")
    assert seal_pages(tmp_path) == 1
    once = path.read_text("utf-8")
    assert 'href="../manifest.webmanifest"' in once
    assert seal_pages(tmp_path) == 0
    assert path.read_text("utf-8") == once


def test_the_single_file_is_small_and_lets_nothing_in(lookup_site):
    page = lookup_site.roadside.read_text("utf-8")
    assert len(page.encode("utf-8")) < 262_144
    rules = rules_of(page)
    assert rules["default-src"] == ["'none'"]
    assert [len(rules[name]) for name in ("script-src", "style-src")] == [1, 1]
    assert set(rules) == {"default-src", "script-src", "style-src", "base-uri", "object-src", "form-action"}
    assert not re.search(r"""(?:src|href)=["'](?!#|")""", page.split("<script>")[0].split("<noscript>")[0])


@pytest.mark.parametrize(
    "hostile", ["</script><script>x()</script>", "<!-- <script>", "]]>", "\u2028\u2029", "&lt;/script&gt;"]
)
def test_data_in_a_script_stays_data(hostile):
    text = as_script_text({"words": hostile})
    assert not re.search("[<>&\u2028\u2029]", text)
    assert json.loads(text) == {"words": hostile}


def test_slimming_takes_away_indents_and_comments_only():
    assert slimmed("// why\nlet a = 1;\n\n  if (a) {\n    b();\n  }\n") == "let a = 1;\nif (a) {\nb();\n}\n"
    assert slimmed("/* why\n   so */\na {\n  color: red;\n}\n") == "a {\ncolor: red;\n}\n"
    for line in page_script().splitlines():
        assert line.count("`") % 2 == 0, f"a text of several lines would lose its indents: {line}"


def test_the_icon_is_a_png_of_the_size_asked_for():
    png = icon_png(64)
    assert png[:8] == b"\x89PNG\r\n\x1a\n"
    assert struct.unpack(">II", png[16:24]) == (64, 64)
    at = png.index(b"IDAT")
    [length] = struct.unpack(">I", png[at - 4 : at])
    lines = zlib.decompress(png[at + 4 : at + 4 + length])
    assert len(lines) == 64 * 65
    assert set(lines[::65]) == {0}
    assert {0, 255} < set(lines), "black ground, white letter, a smooth slope"
    assert icon_svg().startswith("<svg ")


def test_the_manifest_names_icons_that_are_there(lookup_site):
    manifest = json.loads((lookup_site.site_dir / "manifest.webmanifest").read_text("utf-8"))
    assert manifest["display"] == "standalone"
    assert len(manifest["icons"]) == 3
    for icon in manifest["icons"]:
        assert (lookup_site.site_dir / icon["src"]).is_file(), icon


def test_the_worker_knows_every_page_by_its_hash(lookup_site):
    worker = (lookup_site.site_dir / "sw.js").read_text("utf-8")
    [files] = re.findall(r"^const FILES = (\{.*\});$", worker, re.MULTILINE)
    named = json.loads(files)
    assert named == file_hashes(lookup_site.site_dir)
    pages = [
        path.relative_to(lookup_site.site_dir).as_posix() for path in lookup_site.site_dir.rglob("*.html")
    ]
    assert len(pages) > 150
    assert set(pages) <= set(named)


def test_another_book_in_a_folder_of_the_site_is_left_to_its_own_worker(tmp_path):
    for name in ("index.html", "us/index.html", "us/sw.js", "us/deep/page.html", "deep/page.html"):
        path = tmp_path / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text("text", "utf-8")
    assert sorted(file_hashes(tmp_path)) == ["deep/page.html", "index.html"]
    assert sorted(file_hashes(tmp_path / "us")) == ["deep/page.html", "index.html"]


def test_the_same_catalogue_gives_the_same_bytes(lookup_site, shipped, tmp_path):
    from chockbook.lookup import write_roadside

    again = write_roadside(shipped, "on-s1", "en", tmp_path / "roadside.html")
    assert again.read_bytes() == lookup_site.roadside.read_bytes()
