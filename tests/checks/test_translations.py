"""A text that lacks a language is a warning at its place; it never stops the build."""

from __future__ import annotations

from projects import assemble, tiny_tables

TWO_LANGUAGES = ("words.yaml", "languages:\n", "languages:\n  - {code: fr, name: Français}\n")


def test_each_text_without_a_wording_is_named_once(tmp_path):
    tables = tiny_tables(tmp_path, TWO_LANGUAGES, ("catalogue.yaml", "{en: Tires}", "{en: Tires, fr: Pneus}"))
    assembly = assemble(tables)
    assert assembly.catalogue is not None
    messages = [(str(f.place), f.what) for f in assembly.faults if f.place.file == "tables/catalogue.yaml"]
    assert messages == [
        ("tables/catalogue.yaml:7:11", 'no "fr" wording of "Horn"'),
        ("tables/catalogue.yaml:14:11", 'no "fr" wording of "City horn"'),
        ("tables/catalogue.yaml:15:14", 'no "fr" wording of "electric horn"'),
        ("tables/catalogue.yaml:18:11", 'no "fr" wording of "Tire"'),
        ("tables/catalogue.yaml:23:16", 'no "fr" wording of "The horn makes no sound"'),
        ("tables/catalogue.yaml:24:12", 'no "fr" wording of "Press the horn. It sounds at once."'),
        ("tables/catalogue.yaml:25:14", 'no "fr" wording of "horn dead, no horn"'),
        ("tables/catalogue.yaml:31:16", 'no "fr" wording of "A tire is flat"'),
        ("tables/catalogue.yaml:32:12", 'no "fr" wording of "Look at each tire. It stands up under its load."'),
        ("tables/catalogue.yaml:33:14", 'no "fr" wording of "flat tire, no air in tire"'),
    ]
    assert {(f.rule, f.level) for f in assembly.faults} == {("missing-translation", "warning")}


def test_every_table_is_looked_through(tmp_path):
    faults = assemble(tiny_tables(tmp_path, TWO_LANGUAGES)).faults
    assert {f.place.file for f in faults} == {
        f"tables/{name}.yaml" for name in ("catalogue", "jurisdictions", "limits", "route", "rulebooks", "sources", "words")
    }
