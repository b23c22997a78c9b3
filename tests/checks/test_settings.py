"""mkdocs.yml that cannot be used is told with its place, and nothing in it runs."""

from __future__ import annotations

import pytest
from projects import tiny_project

from chockbook.build import build
from chockbook.pages import SiteFault
from chockbook.project import Project


def faults_of(project, text: str) -> list[tuple[str, str]]:
    (project / "mkdocs.yml").write_text(text, encoding="utf-8")
    assembly = Project(project).assemble()
    assert assembly.catalogue is None
    return [(str(fault.place), fault.rule) for fault in assembly.faults]


@pytest.mark.parametrize(
    "text, place, rule",
    [
        ("- site_name", "mkdocs.yml:1:1", "bad-settings"),
        ("site_name: [", "mkdocs.yml:2:1", "yaml-syntax"),
        ("site_name: a\nsite_name: b\n", "mkdocs.yml:2:1", "duplicate-key"),
        ("site_name: a\nextra: !!python/object/apply:os.mkdir [ran]\n", "mkdocs.yml:2:8", "yaml-tag"),
        ("", "mkdocs.yml:1:1", "empty-table"),
    ],
)
def test_settings_that_are_not_plain_yaml_are_a_fault(tmp_path, text, place, rule):
    assert faults_of(tiny_project(tmp_path), text) == [(place, rule)]
    assert not (tmp_path / "ran").exists()


@pytest.mark.parametrize(
    "old, new",
    [
        ("  name: material", "  name: nobody-has-this"),
        ("plugins:\n  - search", "plugins:\n  - nobody-has-this"),
        ("markdown_extensions:", "markdown_extensions: 7\nmore:"),
        ("site_name: Chockbook", "site_name: [Chockbook]"),
        ("site_name: Chockbook", "INHERIT: mkdocs.yml\nsite_name: Chockbook"),
    ],
)
def test_settings_that_mkdocs_refuses_stop_the_build_with_its_words(tmp_path, old, new):
    root = tiny_project(tmp_path)
    text = (root / "mkdocs.yml").read_text(encoding="utf-8")
    assert old in text
    (root / "mkdocs.yml").write_text(text.replace(old, new), encoding="utf-8")
    with pytest.raises(SiteFault, match="the site was not built: "):
        build(Project(root))
    assert sorted(p.name for p in root.iterdir()) == ["mkdocs.yml", "source_tables"]


def test_a_palette_without_switches_builds(tmp_path):
    root = tiny_project(tmp_path)
    text = (root / "mkdocs.yml").read_text(encoding="utf-8")
    start, end = text.index("  palette:"), text.index("  features:")
    (root / "mkdocs.yml").write_text(text[:start] + "  palette: {scheme: slate}\n" + text[end:], encoding="utf-8")
    build(Project(root))
    assert 'data-md-color-scheme="slate"' in (root / "dist/site/index.html").read_text(encoding="utf-8")


def test_what_mkdocs_said_travels_from_a_worker():
    import pickle

    fault = pickle.loads(pickle.dumps(SiteFault(["a.md: no"], ["a.md"])))
    assert (fault.messages, fault.pages) == (["a.md: no"], ["a.md"])
