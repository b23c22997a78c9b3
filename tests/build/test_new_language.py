"""A language that has only just been named: nothing is written in it yet, and the outputs say so."""

from __future__ import annotations

from html import unescape

import pypdfium2
from projects import tiny_project

from chockbook.build import build
from chockbook.project import Project


def test_a_language_without_any_wording_builds_is_proved_and_shows_the_gaps(tmp_path):
    root = tiny_project(tmp_path)
    words = root / "source_tables" / "words.yaml"
    text = words.read_text(encoding="utf-8")
    text = text.replace("languages:\n", "languages:\n- code: es\n  name: Español\n", 1)
    text = text.replace("search:\n", "search:\n- language: es\n  apostrophe: joins\n", 1)
    words.write_text(text, encoding="utf-8", newline="\n")
    built = build(Project(root))
    assert built.proof.objections == ()
    page = unescape((built.output / "site" / "components" / "tire.html").read_text(encoding="utf-8"))
    assert '<html lang="es"' in page
    assert "[en] A tire is flat" in page
    document = pypdfium2.PdfDocument(built.output / "print" / "cards.pdf")
    assert "[en] A tire is flat" in " ".join(p.get_textpage().get_text_range() for p in document).replace("\r\n", " ")
    document.close()
