"""The prints of a class against its keys, and its keys against the catalogue.

What is read back: keys.json, the sheets, the key, questions.csv and cards.tsv. Nothing of the code that makes them
takes part.
"""

from __future__ import annotations

import csv
import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from pypdfium2 import PdfiumError

from ..catalogue import Catalogue
from ..catalogue.wording import in_language
from .facts import Reader
from .manual import page_furniture
from .objection import Objection
from .questions import Told, question_faults
from .read_pdf import PdfReading, read_pdf
from .reading import Vocabulary, squash
from .texts import all_texts

LETTERS = "ABCDEF"
Sheets = dict[str, list[Told]]
"""Questions in order, by the code of their sheet."""


def prove_drill(catalogue: Catalogue, folder: Path, rulebook_id: str, language: str) -> list[Objection]:
    """Objections to the finished files of a class.

    A file that is missing or cannot be read is an objection, not an exception.

    Args:
        catalogue: what the files are to say.
        folder: where keys.json, sheets.pdf, key.pdf, questions.csv and cards.tsv stand.
        rulebook_id: the rulebook that was asked about.
        language: code of the language that was asked in.
    """
    reader = Reader(catalogue, language)
    try:
        data = json.loads((folder / "keys.json").read_text(encoding="utf-8"))
        sheets = {str(code): [_told(one) for one in asked] for code, asked in data["sheets"].items()}
        setting, edition, code = data["setting"], data["edition"], str(data["code"])
        found = list(_keys(reader, sheets, rulebook_id))
        found += _setting(catalogue, setting, edition, sheets, rulebook_id, language)
    except (OSError, ValueError, KeyError, TypeError, AttributeError) as error:
        return [Objection("keys.json", "file", f"cannot be read: {error!r}")]
    by_id = {question.id: question for asked in sheets.values() for question in asked}
    rows: dict[str, dict[str, str]] = {}
    try:
        rows = _rows(folder / "questions.csv")
        found += _csv(reader, rows, by_id)
        found += _cards(rows, (folder / "cards.tsv").read_text(encoding="utf-8"))
    except (OSError, ValueError, KeyError, csv.Error) as error:
        found.append(Objection("questions.csv, cards.tsv", "file", f"cannot be read: {error!r}"))
    for name, prove in (("sheets.pdf", _sheets), ("key.pdf", _key)):
        try:
            reading = read_pdf(folder / name)
        except (OSError, PdfiumError) as error:
            found.append(Objection(name, "file", f"cannot be read: {error}"))
            continue
        found += page_furniture(reader, reading, name)
        found += prove(reader, reading, sheets, rows, rulebook_id, code)
    return found


def _told(one: dict[str, Any]) -> Told:
    return Told(str(one["question_id"]), one["kind"], tuple(one["entry_ids"]), one["severity_id"], one["text"],
                tuple(one["choices"]), LETTERS.find(one["answer"]) if len(one["answer"]) == 1 else -1)  # fmt: skip


def _keys(reader: Reader, sheets: Sheets, rulebook_id: str) -> Iterator[Objection]:
    """Each question of the keys against the catalogue, however many sheets it stands on."""
    judged: dict[Told, list[str]] = {}
    for code, asked in sheets.items():
        seen: set[str] = set()
        for question in asked:
            if question not in judged:
                judged[question] = list(question_faults(reader, question, rulebook_id))
            for what in judged[question]:
                yield Objection(f"keys.json sheet {code}", question.id, what)
            if question.id in seen:
                yield Objection(f"keys.json sheet {code}", question.id, "is asked twice")
            seen.add(question.id)


def _setting(catalogue: Catalogue, setting: dict[str, Any], edition: str, sheets: Sheets, rulebook_id: str,
             language: str) -> Iterator[Objection]:  # fmt: skip
    wanted = {"rulebook_id": rulebook_id, "language": language, "sheets": len(sheets)}
    for key, value in wanted.items():
        if setting.get(key) != value:
            yield Objection("keys.json", key, f"is {setting.get(key)!r}, not {value!r}")
    if edition != catalogue.edition.code:
        yield Objection("keys.json", "edition", f"is {edition!r}, not {catalogue.edition.code!r}")
    for code, asked in sheets.items():
        if len(asked) != setting.get("questions"):
            yield Objection(f"keys.json sheet {code}", "questions", f"are {len(asked)}, not {setting.get('questions')}")


def _rows(path: Path) -> dict[str, dict[str, str]]:
    """The rows of the spreadsheet file by id, without the apostrophe in front of what looks like a formula."""
    with path.open(encoding="utf-8-sig", newline="") as file:
        rows = [{key: _bare(value) for key, value in row.items()} for row in csv.DictReader(file, strict=True)]
    found = {row["id"]: row for row in rows}
    if len(found) < len(rows):
        raise ValueError("an id stands twice")
    return found


def _bare(value: str) -> str:
    return value[1:] if value[:1] == "'" and value[1:2] in ("=", "+", "-", "@", "\t", "\r") else value


def _csv(reader: Reader, rows: dict[str, dict[str, str]], by_id: dict[str, Told]) -> Iterator[Objection]:
    """Each question of the sheets once, with its answer; its reason and source in words of the tables."""
    anything = Vocabulary(all_texts(reader.catalogue, reader.language))
    for key in sorted(set(rows) ^ set(by_id)):
        yield Objection("questions.csv", key, "is missing" if key in by_id else "stands on no sheet")
    for key in sorted(set(rows) & set(by_id)):
        row, question = rows[key], by_id[key]
        choices = [row[f"choice_{n}"] for n in range(1, len(LETTERS) + 1) if row[f"choice_{n}"]]
        told = (row["question"], row["kind"], row["severity"], sorted(choices), row["answer"])
        if told != (question.text, question.kind, question.severity, sorted(question.choices), question.answer):
            yield Objection("questions.csv", key, "is not the question that stands on the sheets")
        for text in (row["reason"], row["source"]):
            beyond = [part for part in anything.beyond(squash(text)) if not _digits(part)]
            if beyond or not text:
                yield Objection("questions.csv", key, f"says what the tables do not: {text}")


def _digits(part: str) -> bool:
    return "".join(c for c in part if c.isalnum()).isdigit()


def _cards(rows: dict[str, dict[str, str]], text: str) -> Iterator[Objection]:
    """One line for each row: the question with its choices, a tab, the answer with reason and source."""
    lines = [tuple(_bare(side) for side in line.split("\t")) for line in text.splitlines()]
    for row, line in zip(rows.values(), lines, strict=False):
        choices = [row[f"choice_{n}"] for n in range(1, len(LETTERS) + 1) if row[f"choice_{n}"]]
        front, back = [row["question"], *choices], [row["answer"], row["reason"], row["source"]]
        if [squash(side) for side in line] != [squash(" / ".join(front)), squash(" | ".join(back))]:
            yield Objection("cards.tsv", row["id"], "is not the question of questions.csv")
    if len(lines) != len(rows):
        yield Objection("cards.tsv", "lines", f"are {len(lines)}, not {len(rows)}")


def _sheets(reader: Reader, reading: PdfReading, sheets: Sheets, rows: dict[str, dict[str, str]], rulebook_id: str,
            code: str) -> Iterator[Objection]:  # fmt: skip
    """Each sheet begins on a page of its own, says on each which it is, and has its questions and choices in order."""
    book = in_language(reader.catalogue.rulebook[rulebook_id].short_name, reader.language)
    heads = [squash(f"{book}{reader.word('drill-sheet')}{sheet}") for sheet in sheets]
    firsts = [next((n for n, text in enumerate(reading.page_texts) if text.startswith(head)), -1) for head in heads]
    for n, (sheet, asked) in enumerate(sheets.items()):
        name = f"sheets.pdf sheet {sheet}"
        after = firsts[n + 1] if n + 1 < len(firsts) else len(reading.pages)
        if firsts[n] < 0 or after <= firsts[n] or not sheet.startswith(f"{code}-"):
            yield Objection(name, "page", "does not begin in its place on a page of its own")
            continue
        pages = range(firsts[n], after)
        for number, page in enumerate(pages, 1):
            foot = f"{reader.word('print-page')}{number}{reader.word('print-of')}{len(pages)}"
            if squash(f"{reader.word('drill-sheet')}{sheet}") not in reading.furniture[page]:
                yield Objection(name, f"page {number}", "does not say whose it is")
            if squash(foot) not in reading.furniture[page]:
                yield Objection(name, f"page {number}", f"does not say: {foot}")
        rest = "".join(reading.page_texts[page] for page in pages)
        at = rest.find(squash(reader.word("drill-how-to")))
        lead = f"{book}. "
        strip = squash(reader.word("drill-strip") + "".join(str(place + 1) for place in range(len(asked))))
        begin = rest.find(strip + _begin(1, asked[0], lead), max(at, 0)) if asked else -1
        if begin < 0:
            yield Objection(name, "strip", "does not stand before the first question, with a box for each letter")
            continue
        yield from _in_order(reader, rest[begin + len(strip) :], asked, rows, name, lead)


def _begin(number: int, question: Told, lead: str) -> str:
    """How a question begins where the head has named the rulebook already."""
    return squash(f"{number}{question.text.removeprefix(lead)}")


def _in_order(reader: Reader, rest: str, asked: list[Told], rows: dict[str, dict[str, str]],
              name: str, lead: str) -> Iterator[Objection]:  # fmt: skip
    """Nothing but the questions stands there, each with its number, its standing, and a letter for each choice."""
    for number, question in enumerate(asked, 1):
        standing = f"({reader.word('not-confirmed')})" if rows.get(question.id, {}).get("confirmed") == "no" else ""
        choices = "".join(f"{letter}{choice}" for letter, choice in zip(LETTERS, question.choices, strict=False))
        wanted = _begin(number, question, lead) + squash(standing + choices)
        if not rest.startswith(wanted):
            yield Objection(name, f"question {number}", f"does not say in its place: {question.text}")
            return
        rest = rest[len(wanted) :]
    if rest:
        yield Objection(name, "end", f"says more than its questions: {rest[:60]}")


def _key(reader: Reader, reading: PdfReading, sheets: Sheets, rows: dict[str, dict[str, str]], rulebook_id: str,
         code: str) -> Iterator[Objection]:  # fmt: skip
    """The letters of every sheet, then each question once with answer, reason, source, and where it stands."""
    if squash(f"{reader.word('drill-code')}{code}") not in reading.text:
        yield Objection("key.pdf", "code", f"does not say: {code}")
    wanted = ""
    places: dict[str, tuple[Told, list[str]]] = {}
    for sheet, asked in sheets.items():
        letters = [LETTERS[question.right] if 0 <= question.right < len(LETTERS) else "?" for question in asked]
        wanted += squash(sheet) + "".join(letters)
        for number, (question, letter) in enumerate(zip(asked, letters, strict=True), 1):
            places.setdefault(question.id, (question, []))[1].append(f"{sheet.rpartition('-')[2]}.{number}{letter}")
    # A long table has its head again on each page, and nothing else between its rows.
    head = squash(reader.word("drill-sheet") + reader.word("drill-letters-order")) * 2
    if wanted not in reading.text.replace(head, ""):
        yield Objection("key.pdf", "letters", "are not those of the sheets")
    at = reading.text.find(squash(reader.word("drill-answers-lead")))
    lead = f"{in_language(reader.catalogue.rulebook[rulebook_id].short_name, reader.language)}. "
    for question, where in places.values():
        row = rows.get(question.id, {"confirmed": "", "reason": "", "source": ""})
        standing = f"({reader.word('not-confirmed')})" if row["confirmed"] == "no" else ""
        answer = question.answer.rstrip(".")
        said = [question.text.removeprefix(lead), standing, answer, ".", row["reason"], reader.word("source"), ":", row["source"], "."]
        line = squash("".join([*said, ",".join(where)]))
        found = reading.text.find(line, max(at, 0))
        if found < 0:
            yield Objection("key.pdf", question.id, f"does not say, whole and in its place: {question.text}")
        else:
            at = found + len(line)

