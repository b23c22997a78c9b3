"""What `chockbook drill` leaves in its folder, read back; and every kind of change to it is objected to."""

from __future__ import annotations

import csv
import json
import re
import shutil
from dataclasses import replace
from pathlib import Path

import pdfplumber
import pytest
from plain_catalogue import words_of
from projects import SHIPPED, tiny_project

from chockbook.cli import drill as command
from chockbook.cli import main
from chockbook.proof.drill import prove_drill

BOOK = ("on-s1", "en")
LETTERS = "ABCDEF"
MM = 72 / 25.4
"""Points."""
BOX = 4.6 * MM
"""Side of the box before a choice."""


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    """A class of four, with questions that rest on memory among them."""
    folder = tmp_path_factory.mktemp("drill") / "class"
    arguments = ["--sheets", "4", "--questions", "16", "--seed", "spring", "--unconfirmed", "--output", str(folder)]
    assert main(["--project", str(SHIPPED.parent), "drill", *arguments]) == 0
    return folder


@pytest.fixture
def folder(made, tmp_path):
    """A copy that a test may spoil."""
    return Path(shutil.copytree(made, tmp_path / "class"))


def keys_of(folder):
    return json.loads((folder / "keys.json").read_text(encoding="utf-8"))


def rows_of(folder):
    with (folder / "questions.csv").open(encoding="utf-8-sig", newline="") as file:
        return list(csv.DictReader(file))


def squash(text):
    return re.sub(r"\s+", "", text)


def pages_of(path):
    """The text of each page by another library than the proof's."""
    with pdfplumber.open(path) as pdf:
        return [squash(page.extract_text()) for page in pdf.pages]


def columns_of(path):
    """The text of each page, the left column before the right one."""
    with pdfplumber.open(path) as pdf:
        halves = [(page.crop((0, 0, page.width / 2, page.height)), page.crop((page.width / 2, 0, page.width, page.height)))
                  for page in pdf.pages]  # fmt: skip
        return [squash("".join(half.extract_text() for half in pair)) for pair in halves]


def said(catalogue, folder):
    return [str(one) for one in prove_drill(catalogue, folder, *BOOK)]


def test_every_question_and_choice_of_a_sheet_is_printed_in_order(made):
    keys = keys_of(made)
    pages, columns = pages_of(made / "sheets.pdf"), columns_of(made / "sheets.pdf")
    assert len(keys["sheets"]) == 4
    starts = [next(n for n, page in enumerate(pages) if page.startswith(squash(f"Ontario Schedule 1 Sheet {code}")))
              for code in keys["sheets"]]  # fmt: skip
    assert starts == sorted(set(starts)), "each begins on a page of its own"
    for asked, begin, end in zip(keys["sheets"].values(), starts, [*starts[1:], len(pages)], strict=True):
        text = "".join(columns[begin:end])
        at = 0
        for number, question in enumerate(asked, 1):
            wording = question["text"].removeprefix("Ontario Schedule 1. ")  # the head says it
            choices = [f"{letter}{choice}" for letter, choice in zip(LETTERS, question["choices"], strict=False)]
            for part in (f"{number}{wording}", *choices):
                found = text.find(squash(part), at)
                assert found >= 0, part
                at = found + 1
        for page in pages[begin:end]:
            assert squash(f"of {end - begin}") in page


def boxes_of(page):
    return [r for r in [*page.rects, *page.curves] if abs(r["width"] - BOX) < 0.5 and abs(r["height"] - BOX) < 0.5]


def letter_after(page, box):
    """The letter that stands to the right of a box."""
    beside = [char for char in page.chars if char["text"].strip() and box["x1"] < char["x0"] < box["x1"] + 4 * MM
              and char["top"] < box["bottom"] and char["bottom"] > box["top"]]  # fmt: skip
    return min(beside, key=lambda char: (char["top"], char["x0"]))


def test_a_sheet_never_says_which_letter_is_right(made):
    for page in pages_of(made / "sheets.pdf"):
        assert squash("Letters of each sheet") not in page
    with pdfplumber.open(made / "sheets.pdf") as pdf:
        letters = [letter_after(page, box) for page in pdf.pages for box in boxes_of(page)]
    assert {char["text"] for char in letters} <= set(LETTERS)
    assert len({(char["fontname"], round(char["size"], 1)) for char in letters}) == 1, "no choice stands out"


def test_a_box_stands_before_every_choice(made):
    choices = sum(len(q["choices"]) for asked in keys_of(made)["sheets"].values() for q in asked)
    with pdfplumber.open(made / "sheets.pdf") as pdf:
        assert sum(len(boxes_of(page)) for page in pdf.pages) == choices


def test_a_strip_has_a_numbered_box_for_each_letter(made):
    asked = next(iter(keys_of(made)["sheets"].values()))
    with pdfplumber.open(made / "sheets.pdf") as pdf:
        page = pdf.pages[0]
        boxes = sorted((r for r in [*page.rects, *page.curves] if abs(r["height"] - 8 * MM) < 0.5), key=lambda r: r["x0"])
        above = [page.crop((r["x0"], r["top"] - 5 * MM, r["x1"], r["top"])).extract_text().strip() for r in boxes]
    assert above == [str(n) for n in range(1, len(asked) + 1)]


def test_the_key_has_the_letters_of_every_sheet_and_each_answer_with_reason_and_source(made):
    keys, text = keys_of(made), "".join(pages_of(made / "key.pdf"))
    for code, asked in keys["sheets"].items():
        assert squash(code) + "".join(q["answer"] for q in asked) in text
    rows = {row["id"]: row for row in rows_of(made)}
    for code, asked in keys["sheets"].items():
        for number, question in enumerate(asked, 1):
            right = question["choices"][LETTERS.index(question["answer"])]
            assert right == rows[question["question_id"]]["answer"]
            assert squash(right.rstrip(".")) in text
            assert f"{code[-2:]}.{number}{question['answer']}" in text


def test_the_spreadsheet_has_a_row_for_each_question_that_is_asked(made):
    asked = {q["question_id"]: q for sheet in keys_of(made)["sheets"].values() for q in sheet}
    raw = (made / "questions.csv").read_bytes()
    assert raw.startswith(b"\xef\xbb\xbf")
    assert raw.count(b"\n") == raw.count(b"\r\n")
    rows = rows_of(made)
    assert [row["id"] for row in rows] == list(dict.fromkeys(asked))
    for row in rows:
        question = asked[row["id"]]
        choices = [row[f"choice_{n}"] for n in range(1, 7) if row[f"choice_{n}"]]
        assert row["question"] == question["text"]
        assert sorted(choices) == sorted(question["choices"])
        assert choices.count(row["answer"]) == 1
        assert row["reason"]
        assert row["source"]
        assert row["confirmed"] in ("yes", "no")
        assert not any(value[:1] in "=+-@\t\r" for value in row.values() if value)
    assert {row["confirmed"] for row in rows} == {"yes", "no"}


def test_the_cards_have_a_front_and_a_back_and_one_line_each(made):
    text = (made / "cards.tsv").read_text(encoding="utf-8")
    assert text.endswith("\n")
    lines = [line.split("\t") for line in text.splitlines()]
    rows = rows_of(made)
    assert len(lines) == len(rows)
    for (front, back), row in zip(lines, rows, strict=True):
        assert front.startswith(row["question"])
        assert all(row[f"choice_{n}"] in front for n in range(1, 7))
        assert back.startswith(row["answer"])
        assert back.endswith(row["source"])
        assert row["reason"] in back


def test_no_printed_question_repeats_its_answer_in_its_wording(made):
    for asked in keys_of(made)["sheets"].values():
        for question in asked:
            right = question["choices"][LETTERS.index(question["answer"])]
            assert words_of(right) not in words_of(question["text"])


def test_untouched_prints_are_proved(shipped, made):
    assert said(shipped, made) == []


def test_another_catalogue_objects_to_the_prints(shipped, made):
    rulebook = shipped.rulebooks[0]
    severities = [one.model_copy(update={"name": {"en": "Grave", "fr": "Grave"}}) if one.id == "major" else one
                  for one in rulebook.severities]  # fmt: skip
    by_id = {one.id: one for one in severities}
    entries = tuple(
        replace(entry, rulings=tuple(replace(r, severity=by_id[r.severity.id]) if r.rulebook.id == "on-s1" else r
                                     for r in entry.rulings))
        for entry in shipped.entries
    )  # fmt: skip
    books = (rulebook.model_copy(update={"severities": severities}), *shipped.rulebooks[1:])
    found = said(replace(shipped, entries=entries, rulebooks=books), made)
    assert any("which the catalogue does not" in line for line in found)


def spoil(folder, change):
    """Change the keys, as if a program had made a mistake after the sheets were printed."""
    keys = keys_of(folder)
    change(keys, next(iter(keys["sheets"].values())))
    (folder / "keys.json").write_text(json.dumps(keys), encoding="utf-8")


def other_letter(question):
    return LETTERS[(LETTERS.index(question["answer"]) + 1) % len(question["choices"])]


@pytest.mark.parametrize("kind", ["severity", "action", "which", "stops", "figure", "measured", "case", "place"])
def test_another_letter_of_the_key_is_objected_to(shipped, folder, kind):
    def change(keys, asked):
        question = next(q for sheet in keys["sheets"].values() for q in sheet if q["kind"] == kind)
        question["answer"] = other_letter(question)
        change.id = question["question_id"]

    spoil(folder, change)
    found = said(shipped, folder)
    assert any(line.startswith("keys.json") and change.id in line for line in found), found
    assert any(line.startswith("key.pdf: letters") for line in found)


@pytest.mark.parametrize(
    "change, expected",
    [
        (lambda keys, asked: asked[2].update(text=asked[3]["text"]), "sheets.pdf"),
        (lambda keys, asked: asked[2]["choices"].reverse(), "sheets.pdf"),
        (lambda keys, asked: asked[2]["choices"].pop(), "sheets.pdf"),
        (lambda keys, asked: asked.reverse(), "sheets.pdf"),
        (lambda keys, asked: asked.pop(), "with a box for each letter"),
        (lambda keys, asked: asked.append(asked[0]), "is asked twice"),
        (lambda keys, asked: asked[0].update(answer=""), "has no single right choice"),
        (lambda keys, asked: asked[0].update(answer="AB"), "has no single right choice"),
        (lambda keys, asked: asked[0].update(answer="F"), "has no single right choice"),
        (lambda keys, asked: asked[0].update(kind="riddle"), "is of a kind that there is not"),
        (lambda keys, asked: asked[0].update(entry_ids=["tire.of-nowhere"]), "of which the rulebook does not speak"),
        (lambda keys, asked: keys.update(edition="00000000"), "edition: is"),
        (lambda keys, asked: keys.update(code="ffffff"), "does not begin in its place"),
        (lambda keys, asked: keys["setting"].update(language="fr"), "language: is"),
        (lambda keys, asked: keys["sheets"].pop(list(keys["sheets"])[-1]), "sheets: is 4, not 3"),
        (lambda keys, asked: keys.pop("setting"), "cannot be read"),
    ],
    ids=["wording", "choices turned", "choice lost", "order", "question lost", "question twice", "no letter",
         "two letters", "letter of no choice", "kind", "defect", "edition", "code", "language", "sheet lost",
         "no setting"],
)  # fmt: skip
def test_a_change_of_the_keys_is_objected_to(shipped, folder, change, expected):
    spoil(folder, change)
    found = said(shipped, folder)
    assert any(expected in line for line in found), found


@pytest.mark.parametrize(
    "file, change",
    [
        ("questions.csv", lambda rows: [rows[0], *rows[2:]]),
        ("questions.csv", lambda rows: [*rows, rows[-1]]),
        ("questions.csv", lambda rows: [rows[0], rows[1].replace("Schedule 1", "Schedule 2", 1), *rows[2:]]),
        ("questions.csv", lambda rows: [rows[0], rows[1].replace("O. Reg. 199/07", "O. Reg. of my own"), *rows[2:]]),
        ("cards.tsv", lambda rows: rows[1:]),
        ("cards.tsv", lambda rows: [rows[1], rows[0], *rows[2:]]),
        ("cards.tsv", lambda rows: [rows[0].replace("\t", " "), *rows[1:]]),
    ],
    ids=["row lost", "row twice", "wording", "source", "card lost", "cards exchanged", "no back"],
)  # fmt: skip
def test_a_change_of_the_exports_is_objected_to(shipped, folder, file, change):
    path = folder / file
    end = "\r\n" if file.endswith("csv") else "\n"
    lines = path.read_bytes().decode("utf-8").split(end)
    changed = change(lines[:-1])
    assert changed != lines[:-1]
    path.write_bytes((end.join(changed) + end).encode("utf-8"))
    assert any(line.startswith(file.partition(".")[0]) for line in said(shipped, folder))


def test_prints_of_another_class_are_objected_to(shipped, folder, tmp_path):
    other = tmp_path / "other"
    arguments = ["--sheets", "4", "--questions", "16", "--seed", "autumn", "--unconfirmed", "--output", str(other)]
    assert main(["--project", str(SHIPPED.parent), "drill", *arguments]) == 0
    for name in ("sheets.pdf", "key.pdf"):
        shutil.copyfile(other / name, folder / name)
        assert any(line.startswith(name) for line in said(shipped, folder))


@pytest.mark.parametrize("name", ["keys.json", "sheets.pdf", "key.pdf", "questions.csv", "cards.tsv"])
def test_a_missing_or_spoiled_file_is_an_objection_and_not_a_crash(shipped, folder, name):
    (folder / name).write_bytes(b"\xff\x00 spoiled")
    assert any("cannot be read" in line for line in said(shipped, folder))
    (folder / name).unlink()
    assert any("cannot be read" in line for line in said(shipped, folder))


def test_what_is_not_proved_is_not_put_in_place(tmp_path, capsys, monkeypatch):
    """A generator that marks the wrong choice: the command objects, and the folder stays as it was."""
    project, out = tiny_project(tmp_path / "project"), tmp_path / "out"
    arguments = ["--project", str(project), "drill", "--questions", "2", "--unconfirmed", "--output", str(out)]
    assert main(arguments) == 0
    before = {path.name: path.read_bytes() for path in out.iterdir()}
    monkeypatch.setattr("chockbook.drill.keys.right_letter", lambda question: LETTERS[
        next(n for n, choice in enumerate(question.choices) if not choice.right)])  # fmt: skip
    assert main(arguments) == 1
    assert "nothing was replaced" in capsys.readouterr().err
    assert {path.name: path.read_bytes() for path in out.iterdir()} == before
    assert command.MARK in before
