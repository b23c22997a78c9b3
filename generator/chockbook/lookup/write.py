"""Writes the lookup: the start page with its assets, and the single file for the roadside."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from ..catalogue import Catalogue
from ..views.books import Book, is_first, view_ways_across
from ..views.cautions import view_cautions
from ..views.grouping import rulebook_named
from ..views.pairs import has_pairs
from ..views.ways_in import ways_in
from ..views.wording import colon, fixed_word, in_language
from .icon import icon_png, icon_svg
from .script import as_script_text, folder, page_data, page_script, slimmed
from .seal import policy

ICON_SIDES = (192, 512)
ASSETS = "assets/lookup"
OTHER_PAGES = (
    ("components/index.html", "web-components"),
    ("schedule.html", "web-schedule"),
    ("route.html", "web-route"),
    ("walk.html", "web-walk"),
    ("practice.html", "web-practice"),
    ("pairs.html", "web-pairs"),
    ("figures.html", "web-figures"),
    ("measure.html", "web-measure"),
    ("duties.html", "web-duties"),
    ("compare/index.html", "web-compare"),
    ("provinces.html", "web-provinces"),
    ("how-to-use.html", "web-how-to-use"),
    ("card.html", "web-card"),
    ("changes.html", "web-changes"),
    ("cautions.html", "web-cautions"),
    ("sources.html", "web-sources"),
    ("standing.html", "web-standing"),
)
"""Other pages of the site and the words that name them."""
STATIC_PAGES = {"s": "components/index.html#{id}", "v": "severity/{id}.html", "a": "actions/{id}.html"}
"""The page without script that stands behind each way in."""


def write_lookup(catalogue: Catalogue, rulebook_id: str, language: str, pages_dir: Path,
                 books: tuple[Book, ...] = ()) -> list[Path]:  # fmt: skip
    """Writes the start page and everything it needs into the folder of the site's Markdown pages.

    The ways in on it lead to the other pages where scripts do not run.

    Raises:
        NoSearchWords, UnknownRulebook, MissingWording: the catalogue does not have what the page shows.
        OSError: the folder cannot be written.
    """
    assets = pages_dir / ASSETS
    assets.mkdir(parents=True, exist_ok=True)
    data = page_data(catalogue, rulebook_id, language)
    words = data["words"]
    across = view_ways_across(catalogue, books, rulebook_id, language, "index.md")
    offline_words = {key: words[f"lookup-{key}"] for key in ("update", "update-now", "saved")}
    texts = {
        pages_dir / "index.md": _render(catalogue, rulebook_id, language, "index.md.j2", pages="",
                                        books=across, first_page=bool(across) and is_first(books, rulebook_id, language),
                                        address=lambda key, name: STATIC_PAGES[key].format(id=name)),
        assets / "lookup-data.js": f"self.chockbookLookup = {as_script_text(data)};\n",
        assets / "lookup.js": page_script(),
        assets / "lookup.css": _css("lookup"),
        assets / "offline.css": _css("offline"),
        assets / "offline.js": f"(() => {{\n\"use strict\";\nconst WORDS = {as_script_text(offline_words)};\n"
                               f"{(folder() / 'js' / 'offline.js').read_text('utf-8')}}})();\n",
        assets / "icon.svg": icon_svg(),
        pages_dir / "manifest.webmanifest": _manifest(catalogue, language),
    }  # fmt: skip
    for path, text in texts.items():
        path.write_text(text, "utf-8", newline="\n")
    icons = [assets / f"icon-{side}.png" for side in ICON_SIDES]
    for path, side in zip(icons, ICON_SIDES, strict=True):
        path.write_bytes(icon_png(side))
    return [*texts, *icons]


def write_roadside(catalogue: Catalogue, rulebook_id: str, language: str, out_path: Path) -> Path:
    """Writes the whole lookup as one file that needs no other, for a phone's files or a memory stick.

    Raises:
        NoSearchWords, UnknownRulebook, MissingWording: the catalogue does not have what the page shows.
        OSError: the file cannot be written.
    """
    style = slimmed(_css("roadside") + _css("lookup"))
    script = slimmed(page_script())
    page = _render(
        catalogue, rulebook_id, language, "roadside.html.j2",
        pages=None,
        address=lambda key, name: f"#{key}={name}",
        style=Markup(style),
        script=Markup(script),
        data=Markup(as_script_text(page_data(catalogue, rulebook_id, language))),
        policy=policy([script], [style], ""),
    )  # fmt: skip
    out_path.parent.mkdir(parents=True, exist_ok=True)
    out_path.write_text(page, "utf-8", newline="\n")
    return out_path


def _css(name: str) -> str:
    return (folder() / "css" / f"{name}.css").read_text("utf-8")


def _quoted(text: str) -> Markup:
    """A text as a value of the front matter that cannot end early; a title never holds markup."""
    plain = text.translate(str.maketrans({"<": "\uff1c", ">": "\uff1e", "&": "\uff06"}))
    return Markup(json.dumps(plain, ensure_ascii=False))


def _render(catalogue: Catalogue, rulebook_id: str, language: str, name: str, **values: Any) -> str:
    environment = Environment(
        loader=FileSystemLoader(folder() / "page"), undefined=StrictUndefined, autoescape=True,
        trim_blocks=True, lstrip_blocks=True,
    )  # fmt: skip
    environment.filters["quoted"] = _quoted
    rulebook = rulebook_named(catalogue, rulebook_id)

    def word(key: str) -> str:
        return fixed_word(catalogue, key, language)

    return environment.get_template(name).render(
        word=word,
        colon=colon(catalogue, language)[0],
        language=language,
        edition=catalogue.edition,
        publisher=catalogue.publisher,
        rulebook=rulebook,
        rulebook_name=in_language(rulebook.short_name, language),
        cautions=view_cautions(catalogue, language),
        ways=ways_in(catalogue, rulebook_id, language),
        other_pages=[(address, word(key)) for address, key in OTHER_PAGES
                     if address != "pairs.html" or has_pairs(catalogue, rulebook_id)],
        **values,
    )


def _manifest(catalogue: Catalogue, language: str) -> str:
    title = fixed_word(catalogue, "title", language)
    icons = [{"src": f"{ASSETS}/icon.svg", "type": "image/svg+xml", "sizes": "any"}]
    icons += [{"src": f"{ASSETS}/icon-{side}.png", "type": "image/png", "sizes": f"{side}x{side}",
               "purpose": "any maskable"} for side in ICON_SIDES]  # fmt: skip
    manifest = {
        "name": title, "short_name": title, "lang": language, "id": "index.html", "start_url": "index.html",
        "scope": "./", "display": "standalone", "background_color": "#ffffff", "theme_color": "#000000",
        "icons": icons,
    }  # fmt: skip
    return json.dumps(manifest, ensure_ascii=False, indent=1) + "\n"
