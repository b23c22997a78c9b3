"""Setting a document that names its own pages: it is set until the pages it names are those it has.

Typst can look a page up while it sets it, but thousands of such look-ups take ten times as long and ten times the
memory. So a document is first set with guessed numbers, says where its marked places stand, and is set again.
A document without marked places is set once: of the number of its pages it has to know beforehand only how many
digits it has.
"""

from __future__ import annotations

import json
import shutil
import tempfile
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

import typst

from ..catalogue.edition import seconds_of
from ..output import put_whole
from ..resources import templates
from .bound_figures import with_bound_figures
from .compile import FONTS, SettingFailed
from .print_scaling import forbid_scaling

COMPILATIONS_REMEMBERED = 10
"""The compiler keeps what it worked out for a document until it has set this many others."""
MOST_PAGES_REMEMBERED = 1000
"""What the compiler remembers of a document makes its next round short; of a longer one it takes too much memory."""
MOST_ROUNDS = 6
"""A document that still moves after so many rounds has two states that lead to each other."""

Place = tuple[str, int, float]
"""A marked place: its key, its page from 1, and how far down the page it is, in points."""
Heads = Callable[[list[Place], int], list[dict[str, Any]]]
"""Makes the running head of each page from the places and the number of pages."""


def no_heads(places: list[Place], pages: int) -> list[dict[str, Any]]:
    """For documents without running heads."""
    return []


def set_with_places(
    template: str,
    data: dict[str, Any],
    issued: date,
    out_path: Path,
    *,
    heads: Heads = no_heads,
    guess: dict[str, int] | None = None,
    small: bool = False,
    about: int = 1,
    most: int | None = None,
) -> int:
    """Write a document as tagged PDF/UA-1; the same data gives the same bytes.

    Args:
        template: name of a file in site_templates/print that ends with `tell-places`.
        data: what the template reads, ready for JSON.
        issued: the day of issue, which is also the document's date.
        out_path: the PDF to write; its folder is made if needed.
        heads: makes the running heads.
        guess: pages to begin with, by key; a good guess saves a round.
        small: for a few pages: what the compiler remembers of them is left to age, and with it what it remembers
            of other small documents.
        about: about how many pages a document without marked places has: a guess with as many digits as the
            number of its pages saves a round.
        most: the most pages that are wanted; a document with more is not written.

    Returns:
        The number of pages.

    Raises:
        SettingFailed: the compiler objects, or the pages do not settle.
        OSError: the file cannot be written.
    """
    pdf, pages = set_settled(template, data, issued, heads=heads, guess=guess, small=small, about=about, most=most)
    if most is None or pages <= most:
        put_whole(out_path, pdf)
    return pages


def set_settled(
    template: str,
    data: dict[str, Any],
    issued: date,
    *,
    heads: Heads = no_heads,
    guess: dict[str, int] | None = None,
    small: bool = False,
    about: int = 1,
    most: int | None = None,
) -> tuple[bytes, int]:
    """A document whose pages have settled, and how many they are; nothing is written.

    Where it has more pages than are wanted at most, no bytes are given.

    Raises:
        SettingFailed: the compiler objects, or the pages do not settle.
    """
    found: dict[str, Any] = {
        "pages": about, "heads": [], "places": {key: {"page": page} for key, page in (guess or {}).items()},
    }  # fmt: skip
    stamp = seconds_of(issued)
    with tempfile.TemporaryDirectory(prefix="chockbook-", ignore_cleanup_errors=True) as name:
        folder = Path(name)
        shutil.copytree(templates("print"), folder, dirs_exist_ok=True)
        _hand_over(folder / "data.json", with_bound_figures(json.dumps(data, ensure_ascii=False)))
        compiler = typst.Compiler(
            input=str(folder / template), root=name, font_paths=[str(FONTS)], ignore_system_fonts=True
        )
        try:
            for _ in range(MOST_ROUNDS):
                _hand_over(folder / "found.json", json.dumps(found))
                told = json.loads(compiler.query("<told>", field="value", one=True))
                before, found = found, _found(told, heads)
                if _agree(before, found):
                    break
                if told["pages"] > MOST_PAGES_REMEMBERED:
                    _forget(folder)
            else:
                raise SettingFailed(f"{template}: the pages do not settle after {MOST_ROUNDS} rounds")
            if most is not None and told["pages"] > most:
                return b"", told["pages"]
            pdf = compiler.compile(format="pdf", pdf_standards=["ua-1"], timestamp=stamp)
        except RuntimeError as error:
            raise SettingFailed(f"{template}: {error}") from error
        finally:
            if not small:
                _forget(folder)
    return forbid_scaling(pdf), told["pages"]


def _hand_over(place: Path, text: str) -> None:
    """Write what a document reads while it is set. As an input of the compiler it would belong to the setting, and
    what the compiler remembers of the last round would be worth nothing."""
    place.write_text(text, encoding="utf-8", newline="\n")


def _forget(folder: Path) -> None:
    """Make the compiler drop what it remembers of a document.

    A manual takes some 200 MB; without this they would pile up over rulebooks and languages. Setting an empty
    document often enough is the only way that the package offers.
    """
    empty = typst.Compiler(
        input=str(folder / "lib" / "tokens.typ"), root=str(folder), ignore_system_fonts=True
    )
    for _ in range(COMPILATIONS_REMEMBERED + 1):
        empty.compile(format="pdf")


def _found(told: dict[str, Any], heads: Heads) -> dict[str, Any]:
    places = [(key, page, round(y, 1)) for key, page, y in told["places"]]
    return {
        "pages": told["pages"],
        "heads": heads(places, told["pages"]),
        "places": {key: {"page": page, "y": y} for key, page, y in places},
    }


def _agree(before: dict[str, Any], found: dict[str, Any]) -> bool:
    """Whether a document was set with what it then told of itself."""
    if before["places"] or found["places"] or found["heads"]:
        return _pages(before) == _pages(found) and before["heads"] == found["heads"]
    return len(str(before["pages"])) == len(str(found["pages"]))


def _pages(found: dict[str, Any]) -> tuple[int, dict[str, int]]:
    """What a document prints of its places. How far down a page they are moves only where a link lands."""
    return found["pages"], {key: place["page"] for key, place in found["places"].items()}
