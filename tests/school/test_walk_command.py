"""`chockbook walk` as a person types it."""

from __future__ import annotations

import re

import pypdfium2
import pytest
from projects import SHIPPED, tiny_project
from route_tables import steps_for, table

from chockbook.cli import main

USUAL = ({"tractor", "trailer"}, {"air-brakes", "def-system", "fifth-wheel", "air-suspension", "spring-suspension", "sleeper",
                                  "cargo"})  # fmt: skip


def text_of(path):
    return " ".join(page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(path))


def squashed(text):
    return "".join(text.split())


def run(*arguments):
    return main(["--project", str(SHIPPED.parent), *arguments])


def test_it_prints_both_sheets_of_a_vehicle(tmp_path, capsys):
    assert run("walk", "truck-hydraulic", "--language", "fr", "--output", str(tmp_path)) == 0
    names = sorted(path.name for path in tmp_path.iterdir())
    assert names == ["score-truck-hydraulic.on-s1.fr.pdf", "walk-truck-hydraulic.on-s1.fr.pdf"]
    out = capsys.readouterr().out
    for name in names:
        assert f"{name}: {len(pypdfium2.PdfDocument(tmp_path / name))} pages" in out
        text = squashed(text_of(tmp_path / name))
        assert "Camionàfreinshydrauliques" in text
        assert "Allumerlesfeuxdedétresse.Arrêterlemoteuretgarderlaclésursoi." in text
        assert "frein" in text
    assert "proved: both sheets say what the catalogue says" in out


def test_the_usual_vehicle_needs_no_name(tmp_path):
    assert run("walk", "--output", str(tmp_path)) == 0
    score = text_of(tmp_path / "score-tractor-trailer.on-s1.en.pdf")
    assert "Tractor and trailer, air brakes" in score
    assert "212 of 264 marks" in " ".join(score.split())


def test_the_marks_of_each_page_are_those_of_its_steps_and_their_sums_the_total(tmp_path):
    """By the table alone: the numbers of the steps on a page, and what the acts of those steps are worth."""
    assert run("walk", "--output", str(tmp_path)) == 0
    worth = {name: int(value) for name, value in table("route.yaml")["marking"].items()}
    steps = steps_for(*USUAL)
    pages = [page.get_textpage().get_text_bounded() for page in
             pypdfium2.PdfDocument(tmp_path / "score-tractor-trailer.on-s1.en.pdf")]  # fmt: skip
    assert len(pages) <= 7, "it goes on a clipboard"
    squashed_pages, at, marks = [squashed(page) for page in pages], 0, [0] * len(pages)
    for number, step in enumerate(steps, 1):
        row = squashed(f"{number}{step['do']['en']}")
        while row not in squashed_pages[at]:
            at += 1
        marks[at] += int(step.get("weight") or worth[step["act"]])
    said = [int(re.search(r"Marks on this page\s+of (\d+)", " ".join(page.split()))[1]) for page in pages]
    assert said == marks
    last = " ".join(pages[-1].split())
    for number, own in enumerate(marks, 1):
        assert re.search(rf"Page {number} +of {own}\b", last)
    assert f"Total of {sum(marks)}" in last


def test_sheets_that_do_not_say_what_the_route_says_replace_nothing(tmp_path, capsys, monkeypatch):
    assert run("walk", "truck", "--output", str(tmp_path)) == 0
    before = {path.name: path.read_bytes() for path in tmp_path.iterdir()}
    monkeypatch.setattr("chockbook.views.walk.said", lambda catalogue, step, language: "All is well.")
    assert run("walk", "truck", "--output", str(tmp_path)) == 1
    err = capsys.readouterr().err
    assert "does not say, in its place" in err
    assert "nothing was replaced" in err
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == before


def test_the_unit_of_a_carrier_is_printed_by_its_name(tmp_path):
    from chockbook.project import Project

    carriers = Project(SHIPPED.parent).tables / "carriers"
    assert any(carriers.glob("*.yaml"))
    asked = _first_unit(carriers)
    assert run("walk", asked, "--output", str(tmp_path)) == 0
    assert (tmp_path / f"walk-{asked.replace('/', '.')}.on-s1.en.pdf").is_file()


def _first_unit(folder):
    import yaml

    data = yaml.safe_load(sorted(folder.glob("*.yaml"))[0].read_text(encoding="utf-8"))
    carrier = data.get("carrier", data)
    return f"{carrier['id']}/{carrier['units'][0]['id']}"


@pytest.mark.parametrize("asked", ["bus", "nobody/unit-1"])
def test_a_vehicle_that_there_is_not_is_a_wrong_use(asked, tmp_path, capsys):
    assert run("walk", asked, "--output", str(tmp_path / "out")) == 2
    assert repr(asked) in capsys.readouterr().err
    assert not (tmp_path / "out").exists()


def test_the_same_bytes_every_time(tmp_path):
    project = tiny_project(tmp_path / "project")
    for name in ("one", "two"):
        assert main(["--project", str(project), "walk", "truck", "--output", str(tmp_path / name)]) == 0
    for path in (tmp_path / "one").iterdir():
        assert path.read_bytes() == (tmp_path / "two" / path.name).read_bytes()
