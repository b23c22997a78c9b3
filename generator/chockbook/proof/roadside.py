"""The single file for the roadside against the catalogue: its data, all that it says, and its policy."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from lxml import html
from lxml.etree import LxmlError

from ..catalogue import Catalogue
from .facts import reader_of
from .lookup_data import prove_lookup_text
from .objection import Objection
from .reading import squash
from .recital import Recital
from .recite_start import recite_roadside, recite_short_foot
from .sight import prove_policy, prove_sight


def prove_roadside(catalogue: Catalogue, path: Path, rulebook_id: str, language: str, name: str) -> Iterator[Objection]:
    """Objections to the single file of a book."""
    try:
        tree = html.fromstring(path.read_bytes())
    except (OSError, LxmlError, ValueError) as error:
        yield Objection(name, "file", f"cannot be read: {error}")
        return
    data = [script for script in tree.iter("script") if script.get("id") == "lookup-data"]
    if len(data) != 1:
        yield Objection(name, "data", f"stands {len(data)} times, and belongs here once")
        return
    yield from prove_lookup_text(catalogue, data[0].text or "", rulebook_id, language, name)
    body = tree.find("body")
    if body is None:
        yield Objection(name, "page", "is empty")
        return
    reader = reader_of(catalogue, language)
    recital = Recital(reader, rulebook_id, name)
    recite_roadside(recital)
    recite_short_foot(recital)
    yield from recital.objections(body, name)
    title = f"{reader.word('title')}: {reader.word('web-question')}"
    if squash(tree.findtext("head/title") or "") != squash(title):
        yield Objection(name, "title", f"is not {title!r}")
    yield from prove_sight(tree, name)
    yield from prove_policy(tree, name)
