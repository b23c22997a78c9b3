"""The proof objects to a changed practice question and to a walk sheet that says something else than the route."""

from __future__ import annotations

import copy
import json
import re
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from lxml import html

from chockbook.catalogue import Catalogue
from chockbook.lookup import write_lookup
from chockbook.pages import build_site, write_pages
from chockbook.pages.practice import AFTER, BANK, BEFORE, bank_data
from chockbook.printing import render_pairs, render_score_sheet, render_walk_sheet
from chockbook.proof.facts import Reader, reader_of
from chockbook.proof.pairs import prove_pairs_page, prove_pairs_sheet
from chockbook.proof.practice import prove_practice
from chockbook.proof.questions import Told, question_faults
from chockbook.proof.read_pdf import read_pdf
from chockbook.proof.reading import Vocabulary
from chockbook.proof.site import _only_known_texts
from chockbook.proof.texts import all_texts
from chockbook.proof.walk import prove_score_sheet, prove_walk_sheet

MKDOCS_YML = Path(__file__).parents[2] / "mkdocs.yml"
BOOK = ("on-s1", "en")


@pytest.fixture(scope="module")
def anything(shipped):
    return Vocabulary(all_texts(shipped, "en"))


@pytest.fixture(scope="module")
def bank(shipped):
    return bank_data(shipped, *BOOK)


@pytest.fixture
def objections(shipped, tmp_path):
    """What the proof says of a bank."""

    def of(data):
        (tmp_path / "practice.html").write_text("", "utf-8")
        path = tmp_path / BANK
        path.parent.mkdir(parents=True, exist_ok=True)
        text = data if isinstance(data, str) else f"{BEFORE}{json.dumps(data, ensure_ascii=False)}{AFTER}"
        path.write_text(text, encoding="utf-8")
        return [str(one) for one in prove_practice(reader_of(shipped, "en"), tmp_path, BOOK[0], "site")]

    return of


def test_an_untouched_bank_is_proved(objections, bank):
    assert objections(bank) == []


KINDS = ["severity", "action", "which", "stops", "figure", "measured", "case", "place"]


@pytest.mark.parametrize("kind", KINDS)
def test_every_other_right_answer_is_objected_to(objections, bank, kind):
    data = copy.deepcopy(bank)
    turned = [one for one in data["questions"] if one["kind"] == kind]
    for one in turned:
        one["right"] = (one["right"] + 1) % len(one["choices"])
    found = "\n".join(objections(data))
    assert turned
    assert [one["id"] for one in turned if one["id"] not in found] == []


@pytest.mark.parametrize("kind", KINDS)
def test_the_wording_of_another_question_is_objected_to(objections, bank, kind):
    data = copy.deepcopy(bank)
    question = next(one for one in data["questions"] if one["kind"] == kind)
    other = next(one for one in data["questions"] if one["kind"] != kind and one["kind"] in ("severity", "case"))
    question["text"] = other["text"]
    assert any(question["id"] in line for line in objections(data))


@pytest.mark.parametrize("kind", [kind for kind in KINDS if kind not in ("severity", "action")])  # these have one wrong choice here
def test_wrong_choices_that_changed_places_and_one_that_is_lost_are_objected_to(objections, bank, kind):
    """Nothing of the answer hangs on them, and a reader sees them all the same."""
    for change in (lambda held, one, two: held.insert(one, held.pop(two)), lambda held, one, two: held.pop(max(one, two))):
        data = copy.deepcopy(bank)
        question = next(one for one in data["questions"] if one["kind"] == kind and len(one["choices"]) > 2)
        right = question["choices"][question["right"]]
        one, two = [at for at in range(len(question["choices"])) if at != question["right"]][:2]
        change(question["choices"], one, two)
        question["right"] = question["choices"].index(right)
        assert any(question["id"] in line and "its sum" in line for line in objections(data))


def test_a_figure_that_no_source_prints_is_objected_to(objections, bank):
    data = copy.deepcopy(bank)
    question = next(one for one in data["questions"] if one["kind"] == "figure")
    wrong = next(at for n, at in enumerate(question["choices"]) if n != question["right"])
    data["texts"][wrong] = data["texts"][wrong].replace("1", "7").replace("2", "7")
    assert any("which no source prints" in line for line in objections(data))


def with_wrong_choice(bank, kind, said, fits=lambda question, texts: True):
    """A bank in which a question of a kind has another wrong choice, and that question."""
    data = copy.deepcopy(bank)
    question = next(q for q in data["questions"] if q["kind"] == kind and fits(q, data["texts"]))
    wrong = next(at for at in range(len(question["choices"])) if at != question["right"])
    question["choices"][wrong] = len(data["texts"])
    data["texts"].append(said(data["texts"][question["choices"][question["right"]]]))
    return data, question


def test_what_another_rulebook_says_is_objected_to_as_a_wrong_choice(objections, bank, shipped):
    satisfied = next(one for one in shipped.rulebook["us-fmcsr"].actions if one.id == "satisfied-first")
    data, question = with_wrong_choice(bank, "action", lambda right: satisfied.text["en"])
    assert any(question["id"] in line and "does not speak of" in line for line in objections(data))
    outcome = shipped.rulebook["us-fmcsr"].severities[0].outcome["en"]
    data, question = with_wrong_choice(bank, "case", lambda right: outcome)
    assert any(question["id"] in line and "which is true or" in line for line in objections(data))


def test_one_of_two_findings_that_stop_is_objected_to_as_a_wrong_choice(objections, bank):
    data, question = with_wrong_choice(
        bank, "case", lambda right: right.rpartition(", ")[0],
        lambda q, texts: re.search(r"because of \d, \d$", texts[q["choices"][q["right"]]]),
    )  # fmt: skip
    assert any(question["id"] in line and "which is true or" in line for line in objections(data))


def test_what_a_rulebook_leaves_to_the_driver_is_objected_to_as_a_question(shipped):
    """49 CFR 396.13(a) lets a driver go on who is satisfied, and nobody else: to stop is not wrong."""
    rulebook = shipped.rulebook["us-fmcsr"]
    entry = next(e for e in shipped.entries if [r.severity.id for r in e.rulings_under("us-fmcsr")] == ["defect"])
    text = f"US federal rules. How severe is this defect? {entry.component.name['en']}: {entry.condition['en']}."
    names = tuple(one.name["en"] for one in rulebook.severities)
    told = Told("severity-x", "severity", (entry.id,), "defect", text, names, names.index("Defect or deficiency"))
    found = list(question_faults(reader_of(shipped, "en"), told, "us-fmcsr"))
    assert found == ["asks for an answer that under this rulebook is not the only right one"]


UNMET = [
    ("Truck", [("Truck", "brake-controller"), ("Truck", "air-valves")]),
    ("Tractor, Trailer 1", [("Tractor", "brake-fluid-reservoir"), ("Trailer 1", "tire-tread")]),
    ("Truck, Trailer 1", [("Trailer 1", "ball-hitch"), ("Trailer 1", "pintle-hook")]),
    ("Tractor, Trailer 1", [("Tractor", "spring-brakes"), ("Trailer 1", "breakaway-device")]),
    ("Tractor, Trailer 1, Converter dolly, Trailer 2", [("Tractor", "pintle-hook"), ("Trailer 2", "tire-tread")]),
    ("Truck", [("Trailer 1", "tire-tread"), ("Truck", "tire-sidewall")]),
]  # fmt: skip
MET = [
    ("Truck, Trailer 1", [("Truck", "brake-controller"), ("Trailer 1", "breakaway-device")]),
    ("Tractor, Trailer 1", [("Tractor", "spring-brakes"), ("Trailer 1", "air-hoses-lines")]),
]


def case_of(catalogue, vehicles, findings):
    """A written case of the first defect of each component."""
    entries = [next(e for e in catalogue.entries if e.component.id == component) for _, component in findings]
    told = "; ".join(f"({n}) {place}, {entry.component.name['en']}: {entry.condition['en']}"
                     for n, ((place, _), entry) in enumerate(zip(findings, entries, strict=True), 1))  # fmt: skip
    text = f"Ontario Schedule 1. What is the decision? Vehicle: {vehicles}. Found: {told}."
    return Told("case-x", "case", tuple(entry.id for entry in entries), "major", text, ("Do not drive", "Go on"), 0)


@pytest.mark.parametrize("vehicles, findings", UNMET + MET)
def test_findings_that_no_one_vehicle_has_together_are_objected_to(shipped, vehicles, findings):
    found = list(question_faults(reader_of(shipped, "en"), case_of(shipped, vehicles, findings), "on-s1"))
    assert any("can have together" in line for line in found) == ((vehicles, findings) in UNMET), found


def first_text(data, key):
    return data["questions"][0][key]


def reworded(data, key, text):
    data["texts"][first_text(data, key)] = text


@pytest.mark.parametrize(
    "change, said",
    [
        (lambda d: reworded(d, "text", "Is it safe to go on with this?"), "says what the tables do not"),
        (lambda d: reworded(d, "reason", "Minor: nothing to worry about."), "says what the tables do not"),
        (lambda d: d["questions"].append(d["questions"][0]), "stands twice"),
        (lambda d: d["questions"][0].update(entries=["tire.of-nowhere"]), "of which the rulebook does not speak"),
        (lambda d: d["questions"][0].update(entries=[]), "is about nothing"),
        (lambda d: d["questions"][0].update(about=first_text(d, "source")), "not to the component"),
        (lambda d: d["questions"][0].update(right=9), "has no single right choice"),
        (lambda d: d["questions"][0]["choices"].__setitem__(0, d["questions"][0]["choices"][1]), "has no single right"),
        (lambda d: d["questions"][0].update(text=99999), "cannot be read"),
        (lambda d: [one.update(confirmed=True) for one in d["questions"]], "rests on something from memory"),
    ],
    ids=["question", "reason", "twice", "no such defect", "no defect", "link", "no right", "same choices", "no text",
         "memory"],
)  # fmt: skip
def test_one_change_is_objected_to(objections, bank, change, said):
    data = copy.deepcopy(bank)
    change(data)
    found = objections(data)
    assert any(said in line for line in found), found


def test_a_spoiled_bank_and_a_missing_page_are_objections(objections, shipped, tmp_path):
    assert any("cannot be read" in line for line in objections("half of a fi"))
    (tmp_path / "practice.html").unlink()
    assert any("is missing" in str(one) for one in prove_practice(reader_of(shipped, "en"), tmp_path, BOOK[0], "site"))


@pytest.fixture(scope="module")
def sheets(shipped, tmp_path_factory):
    folder = tmp_path_factory.mktemp("walk")
    return {
        name: (read_pdf(render(shipped, *BOOK, folder / f"{name}.pdf").path), prove)
        for name, render, prove in (
            ("walk", render_walk_sheet, prove_walk_sheet), ("score", render_score_sheet, prove_score_sheet)
        )
    }  # fmt: skip


def with_step(catalogue: Catalogue, at: int, **facts) -> Catalogue:
    """The catalogue with a step of its first station changed: the finished sheets then say something else."""
    data = copy.deepcopy(catalogue)
    step = data.stations[0].steps[at]
    data.stations[0].steps[at] = step.model_copy(update=facts)
    return data


def proved(sheets, name, catalogue):
    reading, prove = sheets[name]
    return [str(one) for one in prove(catalogue, reading, f"{name}.pdf", *BOOK)]


@pytest.mark.parametrize("name", ["walk", "score"])
def test_untouched_sheets_are_proved(sheets, shipped, name):
    assert proved(sheets, name, shipped) == []


@pytest.mark.parametrize(
    "facts, names",
    [
        ({"say": {"en": "Hazard lamps are off."}}, ["walk"]),
        ({"item": {"en": "Hazard lamps"}}, ["walk"]),
        ({"do": {"en": "Turn off the hazard lamps."}}, ["walk", "score"]),
        ({"good": {"en": "Nothing flashes."}}, ["walk"]),
        ({"caution": "rolling"}, ["walk"]),
        ({"weight": 5}, ["walk", "score"]),
        ({"must": True}, ["walk", "score"]),
    ],
    ids=["words", "item", "hand", "good", "hazard", "weight", "must"],
)
def test_a_changed_step_is_objected_to(sheets, shipped, facts, names):
    at = next(n for n, step in enumerate(shipped.stations[0].steps) if step.id == "make-safe-engine-off")
    for name in names:
        assert proved(sheets, name, with_step(shipped, at, **facts)), name


@pytest.mark.parametrize("name", ["walk", "score"])
def test_a_step_left_out_or_out_of_order_is_objected_to(sheets, shipped, name):
    data = copy.deepcopy(shipped)
    new = data.stations[1].steps[0].model_copy(update={"id": "one-more", "item": {"en": "One more"}})
    data.stations[1].steps.append(new)
    assert any("one-more" in line for line in proved(sheets, name, data))
    data = copy.deepcopy(shipped)
    data.stations[1].steps.reverse()
    assert any(data.stations[1].steps[0].id in line for line in proved(sheets, name, data))


def test_another_pass_mark_is_objected_to(sheets, shipped):
    data = copy.deepcopy(shipped)
    data.__dict__["marking"] = data.marking.model_copy(update={"pass_percent": 75})
    assert any("pass mark" in line for line in proved(sheets, "score", data))


@pytest.fixture(scope="module")
def pairs_page(shipped, tmp_path_factory):
    """The page of pairs as it is served."""
    folder = tmp_path_factory.mktemp("pairs")
    write_pages(shipped, *BOOK, folder / "pages")
    write_lookup(shipped, *BOOK, folder / "pages")
    build_site(MKDOCS_YML, folder / "pages", folder / "site", date(2026, 3, 4))
    return (folder / "site" / "pairs.html").read_text(encoding="utf-8")


def of_pairs(shipped, text):
    tree = html.fromstring(text) if text else None
    return [str(one) for one in prove_pairs_page(Reader(shipped, "en"), tree, "on-s1", "pairs.html")]


def test_an_untouched_page_of_pairs_is_proved_and_a_missing_one_not(shipped, pairs_page):
    assert of_pairs(shipped, pairs_page) == []
    assert of_pairs(shipped, "") == ["pairs.html: page: is missing"]


@pytest.mark.parametrize(
    "old, new, said",
    [
        ("<b>Do not drive</b>", "<b>Go on</b>", "does not say: Do not drive"),
        (". Major", ". Minor", "does not say: Major"),
        ("Schedule 1, Part 2, minor defect (a)", "Schedule 1, Part 2, minor defect (b)", "does not say: Schedule 1"),
        ("<mark>pops</mark>", "pops", "marks"),
        ("The sleeper door will not open", "The <mark>sleeper</mark> door will not open", "marks 'sleeper'"),
        ("<mark>latch closed</mark>", "<mark>close</mark>", "does not say: The driver's door pops open"),
        ('data-goes-on="driver-door.will-not-open"', 'data-goes-on="driver-door.ajar"', "is no pair of this rulebook"),
        ('stops="driver-door.will-not-stay-shut"', 'stops="passenger-door.will-not-stay-shut"', "stands beside"),
        ('data-stops="driver-door.will-not-stay-shut"', 'data-stops="driver-door.will-not-open"', "is no pair"),
        ("The figure decides.", "Luck decides.", "does not say: The figure decides"),
        ("<mark>inside</mark>", "inside", "marks"),
        ("open or will not <mark>latch", "open <mark>or</mark> will not <mark>latch", "marks 'pops or"),
        ('<p class="across__name">Pintle hook</p>', "", "does not say: Pintle hook"),
        ('<div class="across pair">', "<div>", "stands 0 times"),
        ("May go on once recorded and reported</b>.", "May go on</b>.", "does not say: May go on once recorded"),
        ("at least one quarter full", "at least one half full", ""),
    ],
    ids=["answer", "severity", "place", "mark lost", "mark too many", "words", "defect", "other component", "no stop",
         "difference", "mark of the milder lost", "small word marked", "component", "pair lost", "outcome", "figure"],
)  # fmt: skip
def test_a_changed_page_of_pairs_is_objected_to(shipped, pairs_page, old, new, said):
    assert old in pairs_page
    found = of_pairs(shipped, pairs_page.replace(old, new, 1))
    if said:
        assert any(said in line for line in found), found
    else:
        # A figure that both sides share stands below them: the proof of the whole site objects to its words.
        tree = html.fromstring(pairs_page.replace(old, new))
        assert list(_only_known_texts(Vocabulary(all_texts(shipped, "en")), tree, "pairs.html"))


def test_a_page_of_pairs_holds_no_other_words(shipped, pairs_page, anything):
    assert list(_only_known_texts(anything, html.fromstring(pairs_page), "pairs.html")) == []
    changed = pairs_page.replace("<mark>latch closed</mark>", "<mark>shut itself, but drive on</mark>", 1)
    assert list(_only_known_texts(anything, html.fromstring(changed), "pairs.html"))


@pytest.fixture(scope="module")
def pairs_sheet(shipped, tmp_path_factory):
    return read_pdf(render_pairs(shipped, *BOOK, tmp_path_factory.mktemp("pairs") / "pairs.pdf").path)


def with_ruling(catalogue, entry_id, **facts):
    """The catalogue with an entry, its ruling, its item or its severity changed."""

    def change(entry):
        if entry.id != entry_id:
            return entry
        rulings = tuple(
            replace(r, item=r.item.model_copy(update=facts.get("item", {})),
                    severity=r.severity.model_copy(update=facts.get("severity", {})), **facts.get("ruling", {}))
            if r.rulebook.id == "on-s1" else r for r in entry.rulings
        )  # fmt: skip
        return replace(entry, rulings=rulings, **facts.get("entry", {}))

    return replace(catalogue, entries=tuple(map(change, catalogue.entries)))


def test_the_untouched_sheet_of_pairs_is_proved(shipped, pairs_sheet):
    assert list(prove_pairs_sheet(shipped, pairs_sheet, "pairs.pdf", *BOOK)) == []


@pytest.mark.parametrize(
    "entry_id, facts",
    [
        ("driver-door.will-not-open", {"entry": {"condition": {"en": "The door sticks"}}}),
        ("driver-door.will-not-stay-shut", {"entry": {"condition": {"en": "The door sticks"}}}),
        ("driver-door.will-not-stay-shut", {"item": {"locator": "Schedule 1, Part 99"}}),
        ("driver-door.will-not-open", {"item": {"locator": "Schedule 1, Part 99"}}),
        ("driver-door.will-not-open", {"item": {"basis": "from-memory"}}),
        ("driver-door.will-not-stay-shut", {"severity": {"outcome": {"en": "Go on"}}}),
        ("driver-door.will-not-open", {"severity": {"name": {"en": "Slight"}}}),
        ("driver-door.will-not-open", {"severity": {"may_drive": "no"}}),
        ("heater-fan.dead", {"ruling": {"applies_when": {"en": "on Sundays"}}}),
    ],
    ids=["words", "words of the other", "place of the other", "place", "standing", "answer", "severity", "stops too",
         "circumstances"],
)  # fmt: skip
def test_a_sheet_of_pairs_that_says_something_else_is_objected_to(shipped, pairs_sheet, entry_id, facts):
    other = with_ruling(shipped, entry_id, **facts)
    assert list(prove_pairs_sheet(other, pairs_sheet, "pairs.pdf", *BOOK))


def test_a_sheet_of_another_rulebook_is_objected_to(shipped, tmp_path):
    reading = read_pdf(render_pairs(shipped, "us-fmcsr", "en", tmp_path / "pairs.pdf").path)
    stopping = {one.id for one in shipped.entries if any(r.severity.may_drive == "no" for r in one.rulings_under("us-fmcsr"))}
    bare = replace(shipped, entries=tuple(one for one in shipped.entries if one.id not in stopping))
    found = [str(one) for one in prove_pairs_sheet(bare, reading, "pairs.pdf", "us-fmcsr", "en")]
    assert any("has no pair to show" in line for line in found), "where there is no pair there is no sheet"
    found = [str(one) for one in prove_pairs_sheet(shipped, reading, "pairs.pdf", *BOOK)]
    assert sum("in its place" in line for line in found) > 50
