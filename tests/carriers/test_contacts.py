"""What a carrier says of its contacts: one text for all languages, or one for each."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path

import pytest
from demo_carriers import carrier, said
from print_reading import squash
from projects import SHIPPED, tiny_project
from test_command import run, write

from chockbook.catalogue import Catalogue
from chockbook.checks.carriers import assemble_carriers
from chockbook.cli import main
from chockbook.printing import cards_for_carriers
from chockbook.proof.carriers import prove_carriers

NAME = "quatre-bornes-transport.yaml"
BOTH = "hours: {fr: 7 h à 19 h, en: \"07:00-19:00\"}"
HOURS = {"en": "day and night", "fr": "jour et nuit"}


def bilingual(**changes: object):
    contact = {"role": "dispatch", "name": {"en": "Night desk", "fr": "Bureau de nuit"}, "phone": "555-0111", "hours": HOURS}
    return carrier(**{"contacts": [contact], "languages": ["en", "fr"], **changes})


def test_each_language_has_its_own_hours_and_names(shipped: Catalogue, tmp_path: Path) -> None:
    one = bilingual(documents=[{"what": "deck", "format": "a6"}, {"what": "report"}])
    assert cards_for_carriers(shipped, [one], tmp_path, workers=1).failed == []
    own, other = ("day and night", "Night desk"), ("jour et nuit", "Bureau de nuit")
    for language, here, not_here in (("en", own, other), ("fr", other, own)):
        paths = sorted(tmp_path.rglob(f"*.{language}.pdf"))
        assert len(paths) == 2
        for path in paths:
            text = said(path)
            assert all(squash(one) in text for one in here)
            assert not any(squash(one) in text for one in not_here)
    assert prove_carriers(shipped, [one], tmp_path, processes=1).objections == ()


@pytest.mark.parametrize(("hours", "beside_the_steps"), [("07:00-19:00", True), ("day and night", False)])
def test_a_second_number_stands_by_the_steps_where_the_first_sleeps(shipped, tmp_path, hours, beside_the_steps) -> None:
    contacts = [{"role": "dispatch", "phone": "555-0111", "hours": hours},
                {"role": "other", "name": "Grand-Pin garage", "phone": "555-0112", "hours": "nights"}]  # fmt: skip
    one = carrier(contacts=contacts, languages=["en"], documents=[{"what": "deck", "format": "a6"}])
    assert cards_for_carriers(shipped, [one], tmp_path, workers=1).failed == []
    (path,) = tmp_path.rglob("*.pdf")
    text = said(path)
    first, second = text.count("555-0111"), text.count("555-0112")
    assert first > 2
    assert second == (first if beside_the_steps else 1)
    assert squash("Grand-Pin garage: 555-0112") in text
    assert "Other" not in text.split("Wheretolook")[0]
    assert prove_carriers(shipped, [one], tmp_path, processes=1).objections == ()


def test_a_deck_with_both_languages_has_both_hours(shipped: Catalogue, tmp_path: Path) -> None:
    document = {"what": "deck", "format": "visor", "duplex": "fold", "languages": "front-and-back"}
    one = bilingual(documents=[document])
    assert cards_for_carriers(shipped, [one], tmp_path, workers=1).failed == []
    (path,) = tmp_path.rglob("*.pdf")
    text = said(path)
    assert text.count(squash("jour et nuit")) == text.count(squash("day and night")) > 1
    assert prove_carriers(shipped, [one], tmp_path, processes=1).objections == ()


def test_another_languages_hours_are_seen(shipped: Catalogue, tmp_path: Path) -> None:
    swapped = bilingual(documents=[{"what": "report"}]).model_copy(deep=True)
    assert cards_for_carriers(shipped, [swapped], tmp_path, workers=1).failed == []
    contact = swapped.contacts[0].model_dump() | {"hours": {"en": "weekdays", "fr": "jour et nuit"}}
    found = prove_carriers(shipped, [bilingual(documents=[{"what": "report"}], contacts=[contact])], tmp_path, processes=1)
    told = [str(one) for one in found.objections if "does not say" in str(one)]
    assert [one for one in told if ".en.pdf" in one and "(weekdays)" in one]
    assert [one for one in told if ".fr.pdf" in one] == []


def test_a_name_that_is_the_roles_own_word_is_said_once(shipped: Catalogue, tmp_path: Path) -> None:
    contact = {"role": "dispatch", "name": "Dispatch", "phone": "555-0111", "hours": "day and night"}
    one = carrier(contacts=[contact], documents=[{"what": "deck", "format": "visor"}, {"what": "checklist"}, {"what": "report"}])
    assert cards_for_carriers(shipped, [one], tmp_path, workers=1).failed == []
    for path in tmp_path.rglob("*.pdf"):
        assert squash("555-0111, Dispatch") not in said(path)
        assert squash("555-0111 · day and night · Dispatch") not in said(path)
    assert prove_carriers(shipped, [one], tmp_path, processes=1).objections == ()


@pytest.mark.parametrize(("demo", "invented"), [(True, " People, places and numbers are invented."), (False, "")])
def test_a_report_form_says_whose_it_is_whom_to_call_and_what_is_invented(shipped, tmp_path, demo, invented) -> None:
    one = carrier(name="Ash Cartage Ltd.", demo=demo, rulebooks=["us-fmcsr"], documents=[{"what": "report"}])
    assert cards_for_carriers(shipped, [one], tmp_path, workers=1).failed == []
    (path,) = tmp_path.rglob("*.pdf")
    assert squash(f"Ash Cartage Ltd. Call Dispatch: 555-0111 (day and night).{invented}What was inspected") in said(path)
    assert prove_carriers(shipped, [one], tmp_path, processes=1).objections == ()
    other = one.model_copy(update={"demo": not demo})
    found = [str(one) for one in prove_carriers(shipped, [other], tmp_path, processes=1).objections]
    assert any(text.startswith("plain-haulage/report.us-fmcsr.en.pdf: carrier: does not say:") for text in found), found


def test_an_objection_to_a_checklist_names_its_file(shipped: Catalogue, tmp_path: Path) -> None:
    one = carrier(documents=[{"what": "checklist"}])
    assert cards_for_carriers(shipped, [one], tmp_path, workers=1).failed == []
    contact = one.contacts[0].model_dump() | {"name": "Wim Okoro", "hours": "never"}
    other = carrier(documents=[{"what": "checklist"}], contacts=[contact])
    found = [str(one) for one in prove_carriers(shipped, [other], tmp_path, processes=1).objections]
    assert len(found) > 2
    assert all("plain-haulage/u1/checklist-normal.on-s1.en.pdf" in text for text in found), found


@pytest.mark.parametrize(
    ("new", "line", "rule", "what"),
    [
        ("hours: {fr: 7 h à 19 h}", 9, "contact-language", '"hours" of a contact has no text in en'),
        ("hours: {de: rund um die Uhr}", 9, "contact-language", '"hours" of a contact has no text in fr and en'),
        ("hours: [7 h]", 9, "wrong-kind", '"hours" of "quatre-bornes-transport" is a list, not text'),
        ("hours: {fr: 7 h, en: {a: b}}", 9, "wrong-kind", '"en" of "quatre-bornes-transport" is a mapping, not text'),
        ("hours: {fr: 7 h, en: ok, French: 7 h}", 9, "bad-language",
         '"French" in "quatre-bornes-transport" is not a language code or id'),
    ],
)  # fmt: skip
def test_a_bad_text_is_one_fault_with_its_line(shipped, tmp_path, new, line, rule, what) -> None:
    folder = tmp_path / "source_tables" / "carriers"
    shutil.copytree(SHIPPED / "carriers", folder)
    text = (folder / NAME).read_text(encoding="utf-8")
    assert text.count(BOTH) == 1
    (folder / NAME).write_text(text.replace(BOTH, new), encoding="utf-8")
    found = assemble_carriers(folder, shipped).faults
    assert [(one.rule, one.place.line, one.what) for one in found] == [(rule, line, what)]


@pytest.fixture
def on_the_road(tmp_path: Path) -> tuple[Path, str]:
    """A project with prints of one carrier, kept, and the code of its edition."""
    project = tiny_project(tmp_path)
    write(project, "ash", documents=[{"what": "deck"}, {"what": "report"}, {"what": "checklist"}])
    assert run(project) == 0
    assert main(["--project", str(project), "keep"]) == 0
    (kept,) = (path.stem for path in (project / "source_tables" / "editions").glob("*.json"))
    return project, kept


OTHERS = [{"role": "dispatch", "phone": "555-0122", "hours": "day and night"}]


def judged(project: Path, edition: str, capsys: pytest.CaptureFixture[str]) -> list[tuple[str, str, bool, bool]]:
    capsys.readouterr()
    assert main(["--project", str(project), "compare", edition, "--json"]) == 0
    prints = json.loads(capsys.readouterr().out)["prints"]
    return sorted((one["document"].split("-")[0], one["state"], bool(one["own_changes"]), one["replaced"]) for one in prints)


def test_prints_with_a_number_that_was_changed_are_stale_and_say_why(on_the_road, capsys) -> None:
    project, edition = on_the_road
    unchanged = [("checklist", "current", False, False), ("deck", "current", False, False), ("report", "current", False, False)]
    assert judged(project, edition, capsys) == unchanged
    write(project, "ash", documents=[{"what": "deck"}, {"what": "report"}, {"what": "checklist"}], contacts=OTHERS)
    before = judged(project, edition, capsys)
    assert before == [(one, "stale", True, False) for one in ("checklist", "deck", "report")]
    assert main(["--project", str(project), "compare", edition]) == 0
    out = capsys.readouterr().out
    assert re.search(rf"  ash: 1\n    deck-card-letter-long-edge, demo, en; {edition} [0-9a-f]{{6}}: other contacts now\n", out)
    assert "In the carrier's own file: 1\n  ash: Dispatch: 555-0111 → 555-0122\n" in out
    assert main(["--project", str(project), "prove", str(project / "dist-carriers")]) != 0
    assert "contacts: is other in the carrier's file than in the register" in capsys.readouterr().out
    assert run(project) == 0
    after = judged(project, edition, capsys)
    assert ("deck", "current", False, False) in after
    assert ("deck", "stale", True, True) in after


def test_another_languages_hours_leave_a_deck_current(on_the_road, capsys) -> None:
    project, edition = on_the_road
    contacts = [{"role": "dispatch", "phone": "555-0111", "hours": {"en": "day and night", "fr": "toujours"}}]
    write(project, "ash", documents=[{"what": "deck"}, {"what": "report"}, {"what": "checklist"}], contacts=contacts)
    assert {one[1] for one in judged(project, edition, capsys)} == {"current"}
