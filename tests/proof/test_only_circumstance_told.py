"""The proof reads what holds otherwise where a rulebook has one ruling, and that under a circumstance."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from projects import tiny_project

from chockbook.build import Built, build
from chockbook.project import Project
from chockbook.proof import prove

FLAT = "{rulebook: demo, item: 2-major-a, fit: named}"
OTHERWISE = "Not settled here: stay stopped and ask your carrier or a licensed mechanic"
PAGE = "site/components/tire.html"


@pytest.fixture(scope="module")
def under_a_circumstance(tmp_path_factory: pytest.TempPathFactory) -> Built:
    """The tiny tables, whose flat tire counts on one kind of axle only."""
    project = tiny_project(tmp_path_factory.mktemp("circumstance"))
    table = project / "source_tables" / "catalogue.yaml"
    text = table.read_text(encoding="utf-8")
    assert text.count(FLAT) == 1
    when = FLAT.replace("}", ", applies_when: {en: on a steering axle}}")
    table.write_text(text.replace(FLAT, when), encoding="utf-8")
    return build(Project(project))


@pytest.mark.parametrize(
    "old, new, expected",
    [
        (f"{OTHERWISE}</p>", "</p>", f"does not say: {OTHERWISE}"),
        (OTHERWISE, OTHERWISE.replace("stay stopped and ask", "ask"), f"does not say: {OTHERWISE}"),
        ("Otherwise</span>", "Also</span>", "Otherwise"),
    ],
)
def test_another_answer_for_all_other_circumstances_is_objected_to(under_a_circumstance, tmp_path, old, new, expected):
    output = Path(shutil.copytree(under_a_circumstance.output, tmp_path / "dist"))
    text = (output / PAGE).read_text(encoding="utf-8")
    assert text.count(old) == 1
    (output / PAGE).write_text(text.replace(old, new), encoding="utf-8")
    found = [str(one) for one in prove(under_a_circumstance.catalogue, output).objections]
    assert any(line.startswith(PAGE) and expected in line for line in found), found


def test_the_answer_for_other_circumstances_is_objected_to_where_the_ruling_always_holds(built, output):
    text = (output / PAGE).read_text(encoding="utf-8")
    old = '<p class="outcome__standing">'
    assert text.count(old) == 1
    (output / PAGE).write_text(text.replace(old, f"<p>{OTHERWISE}</p>{old}"), encoding="utf-8")
    found = [str(one) for one in prove(built.catalogue, output).objections]
    assert any("tire.flat: says what the catalogue does not" in line for line in found), found
