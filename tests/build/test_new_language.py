"""A language that has only just been named: nothing is written in it yet, and the outputs say so."""

from __future__ import annotations

from html import unescape

import pypdfium2
from projects import tiny_project

from chockbook.build import build
from chockbook.editions import catalogue_as_data
from chockbook.project import Project
from chockbook.sides import keep


def change(tables, file, old, new):
    text = (tables / file).read_text(encoding="utf-8")
    assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times in {file}"
    (tables / file).write_text(text.replace(old, new), encoding="utf-8", newline="\n")


def test_a_language_without_any_wording_builds_is_proved_and_shows_the_gaps(tmp_path):
    project = Project(tiny_project(tmp_path))
    tables = project.tables
    keep(catalogue_as_data(project.assemble().catalogue), project)
    # Of everything that changes are told in one piece of: a figure with its label, one that is put on a card, a defect.
    change(tables, "limits.yaml", "value: 3, printed: {en: 3 mm}", "value: 4, printed: {en: 4 mm}, card: {entries: [tire.flat]}")
    change(tables, "catalogue.yaml", "{en: A tire is flat}", "{en: A tire has no air}")
    change(tables, "rulebooks.yaml", "{id: 1-minor-a, severity: minor,", "{id: 1-minor-a, severity: major,")
    change(tables, "words.yaml", "languages:\n", "languages:\n- code: es\n  name: Español\n")
    change(tables, "words.yaml", "search:\n", "search:\n- language: es\n  apostrophe: joins\n")
    built = build(project)
    assert built.proof.objections == ()
    page = unescape((built.output / "site" / "components" / "tire.html").read_text(encoding="utf-8"))
    assert '<html lang="es"' in page
    assert "[en] A tire has no air" in page
    changes = unescape((built.output / "site" / "changes.html").read_text(encoding="utf-8"))
    assert "[en] On the cards of: [en] Tire: A tire has no air" in changes
    document = pypdfium2.PdfDocument(built.output / "print" / "cards.pdf")
    assert "[en] A tire has no air" in " ".join(p.get_textpage().get_text_range() for p in document).replace("\r\n", " ")
    document.close()
