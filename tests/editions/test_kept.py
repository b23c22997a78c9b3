"""Editions that a project keeps, the sides of a comparison, the register of prints, the changelog."""

from __future__ import annotations

import csv
import json
import shutil
import subprocess
from pathlib import Path

import pytest
from projects import SHIPPED, assemble
from tables_of_tests import BEFORE, changed, data_of

from chockbook.catalogue.carrier import CarrierRecord
from chockbook.catalogue.taken import taken
from chockbook.cli import main
from chockbook.editions import EditionUnreadable, Judged, compare, judge_prints, read_edition
from chockbook.project import Project
from chockbook.sides import NoEdition, edition_named, keep
from chockbook.views.changelog import ChangelogWritten, refresh

UP = ("rulebooks.yaml", "{id: 2-minor-c, severity: minor,", "{id: 2-minor-c, severity: major,")
FIGURE = ("limits.yaml", "value: 3, printed: {en: 3 mm, fr: 3 mm}", 'value: 4, printed: {en: 4 mm, fr: 4 mm}')
COLUMNS = ("path", "document", "carrier", "unit", "rulebook", "language", "edition")


@pytest.fixture
def project(tmp_path):
    """A project of the tests' tables with the shipped fixed words beside their own."""
    tables = changed(tmp_path, UP)
    tables.rename(tmp_path / "source_tables")
    return Project(tmp_path)


def git(folder: Path, *arguments: str) -> None:
    subprocess.run(["git", "-C", str(folder), "-c", "user.name=t", "-c", "user.email=t@example.org", *arguments], check=True,
                   capture_output=True)  # fmt: skip


def test_a_kept_edition_is_a_former_one_once_the_tables_change(project):
    path, fresh = keep(data_of(BEFORE), project)
    assert fresh
    assert keep(data_of(BEFORE), project) == (path, False)
    catalogue = assemble(project.tables).catalogue
    assert [one["edition"]["code"] for one in catalogue.former] == [path.stem]
    assert json.loads(path.read_text(encoding="utf-8"))["kept"] == 1
    keep(data_of(project.tables), project)
    assert len(assemble(project.tables).catalogue.former) == 1


@pytest.mark.parametrize("spoil", ["{", "[]", '{"format": 2}', "null", '"a"', "\udc80"])
def test_a_kept_edition_that_cannot_be_read_is_one_fault(project, spoil):
    path, _ = keep(data_of(BEFORE), project)
    path.write_bytes(spoil.encode("utf-8", "surrogateescape"))
    faults = assemble(project.tables).faults
    assert [fault.rule for fault in faults if fault.level == "error"] == ["kept-edition"]


def test_a_kept_edition_under_another_name_is_a_fault(project):
    path, _ = keep(data_of(BEFORE), project)
    path.rename(path.with_name("00000000.json"))
    assert [fault.rule for fault in assemble(project.tables).faults] == ["kept-edition"]


def test_sides_lead_to_the_same_edition(project, tmp_path):
    before = data_of(BEFORE)
    (tmp_path / "out" / "data").mkdir(parents=True)
    file = tmp_path / "out" / "data" / "catalogue.json"
    file.write_text(json.dumps(before), encoding="utf-8")
    shutil.copytree(BEFORE, tmp_path / "there" / "source_tables")
    for name in (file, tmp_path / "out", tmp_path / "there"):
        assert compare(edition_named(str(name), project), before).changes == ()


def test_a_revision_of_the_tables_is_a_side(project):
    shutil.move(project.tables, project.root / "new")
    shutil.copytree(BEFORE, project.tables)
    git(project.root, "init", "-q")
    git(project.root, "add", "source_tables")
    git(project.root, "commit", "-qm", "first")
    shutil.rmtree(project.tables)
    shutil.move(project.root / "new", project.tables)
    found = compare(edition_named("HEAD", project), data_of(project.tables))
    assert [(c.kind, c.id) for c in found.changes] == [("severity-up", "wheel.cracked")]
    (project.tables / "limits.yaml").write_text("limits: [", encoding="utf-8")
    git(project.root, "commit", "-qam", "faulty")
    with pytest.raises(NoEdition, match="faults, the first"):
        edition_named("HEAD", project)
    git(project.root, "rm", "-rqf", "source_tables")
    git(project.root, "commit", "-qm", "gone")
    with pytest.raises(NoEdition, match="has no source_tables"):
        edition_named("HEAD", project)


@pytest.mark.parametrize("name", ["nothing", "--help", "HEAD; ls", "a\x00b", "x" * 3000])
def test_a_name_that_leads_nowhere_is_one_clear_error(project, name):
    with pytest.raises(NoEdition):
        edition_named(name, project)


def test_a_file_that_is_no_catalogue_is_one_clear_error(tmp_path):
    for text in (b"", b"[]", b'{"edition": {}}', b"[" * 200_000, b"\xff\xfe", b'{"entries": [1], "sources": []}'):
        with pytest.raises(EditionUnreadable):
            read_edition(text, "a.json")


DECK = "deck-card-letter-long-edge"
DOCUMENTS = [{"what": "deck"}, {"what": "deck", "languages": "side-by-side"}, {"what": "checklist"}, {"what": "report"}]
Units = dict[str, tuple[list[str], list[str]]]


def _row(document: str, unit: str, rulebook: str, language: str, edition: str) -> dict[str, str]:
    return dict(zip(COLUMNS, (f"c/{unit}/{document}", document, "c", unit, rulebook, language, edition), strict=True))


def _judged(rows: list[dict[str, str]], old: dict, new: dict, units: Units) -> list[Judged]:
    """What became of prints of a carrier whose own file is as it was when they were made."""
    made_up = units or {"t1": (["truck"], [])}
    owner = CarrierRecord.model_validate({
        "id": "c", "name": "C", "languages": ["en", "fr"], "rulebooks": ["north", "south"], "documents": DOCUMENTS,
        "contacts": [{"role": "dispatch", "phone": "555-0111", "hours": "24 h"}],
        "units": [{"id": key, "name": key, "vehicles": vehicles, "equipment": fitted} for key, (vehicles, fitted) in made_up.items()],
    })  # fmt: skip
    for row in rows:
        unit = next((one for one in owner.units if one.id == row["unit"]), None)
        row["own_file"] = json.dumps(taken(owner, unit, row["document"], row["language"].split("+"), None))
    return judge_prints(rows, {old["edition"]["code"]: compare(old, new)}, new["edition"]["code"], {"c": owner})


def test_a_print_is_stale_where_something_that_it_carries_changed(tmp_path):
    old, new = data_of(BEFORE), data_of(changed(tmp_path, UP, FIGURE))
    code, now = old["edition"]["code"], new["edition"]["code"]
    units = {"t1": (["truck"], ["air-brakes"]), "d1": (["converter-dolly"], [])}
    rows = [
        _row(DECK, "t1", "north", "en", code),  # carries the wheel, whose severity changed
        _row(DECK, "t1", "south", "en", code),  # the south says nothing of the wheel
        _row(DECK, "d1", "north", "fr", code),  # a dolly has none of it
        _row("checklist-normal", "t1", "north", "en", code),  # shows the tread's figure
        _row("checklist-normal", "t1", "south", "en", code),  # the figure is the north's own
        _row("report", "", "north", "en", code),  # names severities and fields, none of which changed
        _row(DECK, "t1", "north", "en", "0badc0de"),
        _row(DECK, "t1", "north", "en", now),
    ]
    judged = _judged(rows, old, new, units)
    states = ["stale", "same", "same", "stale", "same", "same", "unknown", "current"]
    assert [one.state for one in judged] == states
    assert [[change.id for change in one.changes] for one in judged[:4]] == [["wheel.cracked", "tread"], [], [], ["tread"]]


@pytest.mark.parametrize(("change", "deck", "checklist"), [
    # A worn tire rests on the tread's figure, and a step shows it, on trucks and trailers.
    (("limits.yaml", "value: 3, printed: {en: 3 mm, fr: 3 mm}", "value: 4, printed: {en: 4 mm, fr: 4 mm}"),
     ["stale", "stale", "same"], ["stale", "stale", "same"]),
    # A flat tire rests on the pressure's figure, which is the south's, and no step shows it.
    (("limits.yaml", "value: 50, printed: {en: half, fr: la moitié}", "value: 60, printed: {en: 60 %, fr: 60 %}"),
     ["same", "same", "same"], ["same", "same", "same"]),
])  # fmt: skip
def test_a_figure_makes_decks_of_its_defects_and_checklists_of_its_steps_stale(tmp_path, change, deck, checklist):
    old, new = data_of(BEFORE), data_of(changed(tmp_path, change))
    code = old["edition"]["code"]
    units = {"truck": (["truck"], []), "trailer": (["trailer"], []), "dolly": (["converter-dolly"], [])}
    for document, wanted in ((DECK, deck), ("checklist-normal", checklist)):
        rows = [_row(document, unit, "north", "en", code) for unit in units]
        judged = _judged(rows, old, new, units)
        assert [one.state for one in judged] == wanted, document
    rows = [_row(DECK, "truck", "south", "en", code)]
    judged = _judged(rows, old, new, units)
    assert [one.state for one in judged] == (["stale"] if "value: 50" in change[1] else ["same"])


def test_a_figure_that_is_put_on_cards_makes_decks_stale_and_no_checklist(tmp_path):
    on_card = ("limits.yaml", "source: north-law, locator: s. 10,", "card: {entries: [tire.worn]}, source: north-law, locator: s. 10,")
    old, new = data_of(BEFORE), data_of(changed(tmp_path, on_card))
    rows = [_row(document, "t1", "north", "en", old["edition"]["code"]) for document in (DECK, "checklist-normal")]
    judged = _judged(rows, old, new, {})
    assert [one.state for one in judged] == ["stale", "same"]


def test_a_step_figure_leaves_checklists_of_units_without_its_equipment_alone(tmp_path):
    shown = "finds: [tire.flat, tire.worn], figure: tread,"
    fitted = ("route.yaml", shown, f"{shown} fitted: [fifth-wheel],")
    (tmp_path / "was").mkdir()
    (tmp_path / "now").mkdir()
    old = data_of(changed(tmp_path / "was", fitted))
    new = data_of(changed(tmp_path / "now", fitted, FIGURE))
    code = old["edition"]["code"]
    units = {"with": (["truck"], ["fifth-wheel"]), "without": (["truck"], [])}
    rows = [_row("checklist-normal", unit, "north", "en", code) for unit in units]
    judged = _judged(rows, old, new, units)
    assert [one.state for one in judged] == ["stale", "same"]


def test_a_translation_makes_only_prints_of_its_language_stale(tmp_path):
    old = data_of(BEFORE)
    new = data_of(changed(tmp_path, ("catalogue.yaml", "fr: Le klaxon reste muet", "fr: Le klaxon ne sonne pas")))
    rows = [_row(DECK if language in ("en", "fr") else f"{DECK}-side-by-side", "t1", "north", language, old["edition"]["code"])
            for language in ("en", "fr", "en+fr")]  # fmt: skip
    judged = _judged(rows, old, new, {})
    assert [one.state for one in judged] == ["same", "stale", "stale"]


def test_of_a_print_whose_make_up_nobody_wrote_down_everything_counts(tmp_path):
    old, new = data_of(BEFORE), data_of(changed(tmp_path, UP))
    rows = [_row(DECK, "d1", "north", "en", old["edition"]["code"])]
    (judged,) = judge_prints(rows, {old["edition"]["code"]: compare(old, new)}, new["edition"]["code"], {})
    assert [change.id for change in judged.changes] == ["wheel.cracked"]


@pytest.fixture
def at_work(project, tmp_path):
    """The project with the shipped fixed words, and the former edition in a file."""
    words = (SHIPPED / "words.yaml").read_text(encoding="utf-8")
    (project.tables / "words.yaml").write_text(words, encoding="utf-8")
    shutil.copytree(BEFORE, tmp_path / "old" / "source_tables")
    (tmp_path / "old" / "source_tables" / "words.yaml").write_text(words, encoding="utf-8")
    return project


def test_the_command_tells_changes_and_stale_prints(at_work, tmp_path, capsys):
    old = edition_named(str(tmp_path / "old"), at_work)
    register = tmp_path / "register.csv"
    with register.open("w", newline="", encoding="utf-8") as file:
        writer = csv.DictWriter(file, COLUMNS)
        writer.writeheader()
        writer.writerow(_row(DECK, "t1", "north", "en", old["edition"]["code"]))
    arguments = ["--project", str(at_work.root), "compare", str(tmp_path / "old"), "--register", str(register)]
    assert main([*arguments, "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert [(change["kind"], change["id"], change["from"]["en"], change["to"]["en"]) for change in told["changes"]] == [
        ("severity-up", "wheel.cracked", "Minor", "Major")
    ]
    assert [(one["state"], one["changed"]) for one in told["prints"]] == [("stale", ["wheel.cracked"])]
    assert main(arguments) == 0
    text = capsys.readouterr().out
    assert "Now more serious: 1\n  Defect wheel.cracked (Wheel: A wheel is cracked): Minor → Major" in text
    assert "Stale: pull it and print it again: 1" in text
    assert main(["--project", str(at_work.root), "compare", "no-such-thing"]) == 1
    assert "there is no file, folder, kept edition or git revision" in capsys.readouterr().err


def test_the_changelog_is_refreshed_and_never_loses_what_people_wrote(at_work, tmp_path):
    catalogue = assemble(at_work.tables).catalogue
    difference = compare(edition_named(str(tmp_path / "old"), at_work), data_of(at_work.tables))
    path = tmp_path / "CHANGELOG.md"
    path.write_text("# Changelog\n\nMine above.\n\n## Data\n\nMine below.\n", encoding="utf-8")
    once = refresh(path, catalogue, difference)
    assert "Mine above." in once
    assert once.endswith("Mine below.\n")
    assert "- Defect wheel.cracked (Wheel: A wheel is cracked): Minor → Major" in once
    path.write_text(once, encoding="utf-8")
    assert refresh(path, catalogue, difference) == once
    path.write_text(once.replace("Minor → Major", "Minor to Major, as the ministry asked"), encoding="utf-8")
    with pytest.raises(ChangelogWritten):
        refresh(path, catalogue, difference)


def test_the_bulletin_goes_on_one_page(at_work, tmp_path, shipped):
    pypdfium2 = pytest.importorskip("pypdfium2")
    out = tmp_path / "bulletin.pdf"
    assert main(["--project", str(at_work.root), "compare", str(tmp_path / "old"), "--rulebook", "north", "--bulletin",
                 str(out)]) == 0  # fmt: skip
    pages = pypdfium2.PdfDocument(out)
    assert len(pages) == 1
    text = pages[0].get_textpage().get_text_bounded()
    assert "Wheel: A wheel is cracked" in text
    assert "Minor" in text
    assert "Major" in text


def test_the_day_is_told_and_changes_nothing_but_warnings(at_work, capsys, monkeypatch):
    path = at_work.tables / "sources.yaml"
    path.write_text(path.read_text(encoding="utf-8").replace("read_on: 2026-01-02", "read_on: 2026-01-02, review_by: 2026-09-01"),
                    encoding="utf-8")  # fmt: skip
    run = ["--project", str(at_work.root)]
    main([*run, "--today", "2026-08-31", "check"])
    before = capsys.readouterr().out
    monkeypatch.setenv("CHOCKBOOK_TODAY", "2026-09-02")
    main([*run, "check"])
    after = capsys.readouterr().out
    assert "source-review" not in before
    assert "source-review" in after
    editions = [next(line for line in text.splitlines() if line.startswith("edition ")) for text in (before, after)]
    assert editions[0] == editions[1]
    monkeypatch.setenv("CHOCKBOOK_TODAY", "soon")
    with pytest.raises(SystemExit):
        main([*run, "check"])
