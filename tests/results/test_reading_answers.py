"""Bad rows of a file of answers: each told with its place, and left out; the good ones are kept as they stand."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest
import yaml
from fuzz.targets import clear
from hand_made import HEAD, ONE, SHEETS, TWO
from hypothesis import example, given, settings
from hypothesis import strategies as st

from chockbook import results
from chockbook.results import read_answers
from chockbook.results.read import LARGEST, LONGEST_LINE, MOST_ROWS, answers_in

CASES = yaml.safe_load((Path(__file__).parent / "bad_rows.yaml").read_text(encoding="utf-8"))


def read(text: str | bytes):
    return answers_in(text.encode() if isinstance(text, str) else text, "a.csv", SHEETS)


def letters(text: str | bytes) -> list[tuple[str, str, str]]:
    found = read(text)
    assert found.faults == ()
    return [(row.sheet, row.student, said(row)) for row in found.rows]


def said(row) -> str:
    return "".join(letter or "." for letter in row.letters)


@pytest.mark.parametrize("case", CASES, ids=[case["name"] for case in CASES])
def test_a_bad_row_gives_its_message_and_is_left_out_or_kept(case):
    raw = case["bytes"].encode("latin-1") if "bytes" in case else case["file"].replace("{spaces}", " " * LONGEST_LINE)
    found = read(raw)
    assert "\n".join(map(str, found.faults)) + "\n" == case["expected"]
    assert [row.student for row in found.rows] == case["kept"]
    assert found.left_out == case["left_out"]


def test_every_rule_has_a_case():
    rules = set()
    for path in Path(results.__file__).parent.glob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            name = node.func.id if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) else ""
            at = {"Fault": 1, "_nothing": 1, "_left_out": 2}.get(name)
            if at is not None and isinstance(node.args[at], ast.Constant):
                rules.add(node.args[at].value)
    told = {part.split("]")[0] for case in CASES for part in case["expected"].split("[")[1:]}
    assert len(rules) > 12
    assert rules - {"unreadable", "too-large"} <= told  # those two: below


GOOD = [(ONE, "Otter", "ABCAB"), (TWO, "Élan", "B.AAB")]


@pytest.mark.parametrize(
    "text",
    [
        f"sheet,student,answers\n{ONE},Otter,ABCAB\n{TWO},Élan,B.AAB\n",
        f"\ufeffsheet,student,answers\r\n{ONE},Otter,ABCAB\r\n{TWO},Élan,B.AAB\r\n",
        f"sheet;student;answers\r\n{ONE};Otter;ABCAB\r\n{TWO};Élan;B.AAB",
        f"sep=;\r\nfeuille;élève;réponses\r\n{ONE};Otter;ABCAB\r\n{TWO};Élan;B.AAB\r\n",
        f"sheet\tstudent\tanswers\r{ONE}\tOtter\tABCAB\r{TWO}\tÉlan\tB.AAB\r",
        f'"sheet","student","answers"\n"{ONE}","Otter","ABCAB"\n"{TWO}","Élan","B.AAB"\n',
        f"student,answers,sheet\nOtter,ABCAB,{ONE}\nÉlan,B-AAB,{TWO}\n",
        f"sheet,student,1,2,3,4,5\n{ONE},Otter,A,B,C,A,B\n{TWO},Élan,B,,A,A,B\n",
        f"sheet,student,q2,q1,q3,q4,q5,q6\n{ONE},Otter,B,A,C,A,B,\n{TWO},Élan,.,B,A,A,B,\n",
        f"{ONE},Otter,ABCAB\n{TWO},Élan,B.AAB\n",
        f"{ONE},Otter,A,B,C,A,B,,\n{TWO},Élan,B,,A,A,B,,\n",
        f"{ONE},Otter,ABCAB,,\n{TWO},Élan,B.AAB,,\n",
        f"sheet,student,answers,,\n{ONE}, Otter ,a b c a b,,\n,,,,\n\n{TWO.upper()},E\u0301lan,B.AA B,,\n;;\n",
    ],
)  # fmt: skip
def test_files_of_spreadsheets_and_editors_say_the_same(text):
    found = read(text)
    assert [(row.sheet, row.student, said(row)) for row in found.rows] == GOOD
    assert [(fault.rule, fault.level) for fault in found.faults] == [("blank-answer", "warning")]
    assert found.left_out == 0


def test_quoted_cells_hold_delimiters_and_quotes():
    assert letters(HEAD + f'{ONE},"Jay, Blue ""Bo""",ABCAB\n') == [(ONE, 'Jay, Blue "Bo"', "ABCAB")]
    assert letters(HEAD + f'{ONE},Jay 5" wide,ABCAB\n') == [(ONE, 'Jay 5" wide', "ABCAB")]


def test_too_large_a_file_is_told_and_not_read(tmp_path):
    path = tmp_path / "a.csv"
    path.write_bytes(b"x" * (LARGEST + 1))
    found = read_answers(path, "a.csv", SHEETS)
    assert [(fault.rule, str(fault.place)) for fault in found.faults] == [("too-large", "a.csv:1:1")]
    assert [fault.rule for fault in read(HEAD + "\n" * MOST_ROWS).faults] == ["too-large"]


@pytest.mark.parametrize("name", ["", "missing.csv", "a\0b.csv"])
def test_what_is_no_file_is_told(name, tmp_path):
    [fault] = read_answers(tmp_path / name, "a.csv", SHEETS).faults
    assert fault.rule == "unreadable"


MANY = MOST_ROWS - 1


@pytest.mark.parametrize(
    ("text", "rule", "number"),
    [
        (HEAD + f'{ONE},"open,ABCAB\n' * MANY, "bad-quote", MANY),
        (HEAD + f"{ONE},Otter,ABCAB\n" * MANY, "second-row", MANY - 1),
        (HEAD + f"{ONE},Otter,XXXXX\n" * MANY, "no-such-choice", MANY),
        (HEAD + "abc124-01,Otter,ABCAB\n" * MANY, "unknown-sheet", MANY),
        ("x" * (LARGEST - 1), "long-line", 1),
        (HEAD + ("," * (LONGEST_LINE - 1) + "x\n") * 1000, "cell-count", 1000),
        (HEAD + '""' * (LONGEST_LINE // 2 - 1) + "x\n", "bad-quote", 1),
    ],
    ids=lambda value: value if isinstance(value, str) and len(value) < 40 else "",
)
def test_the_largest_bad_files_are_told_to_the_end(text, rule, number):
    found = read(text)
    assert {fault.rule for fault in found.faults} == {rule}
    assert len(found.faults) == number


PIECES = st.lists(
    st.sampled_from([ONE, TWO, "Otter", "ABCAB", "A", ",", ";", "\t", '"', "\n", "\r\n", "\r", "sheet", "student",
                     "answers", "1", "2", ".", "-", " ", "\0", "é", "\ufeff", "=1+1", "sep=;", "\u202e", "\x85",
                     "\u2028", "x" * 70])
    | st.text(max_size=3), max_size=40,
).map("".join)  # fmt: skip


@settings(max_examples=400, deadline=None)
@given(st.binary(max_size=300) | PIECES.map(lambda text: text.encode("utf-8", "surrogatepass")) |
       PIECES.map(lambda text: (HEAD + text).encode("utf-8", "surrogatepass")))  # fmt: skip
@example(b"\xef\xbb\xbf")
@example(b"\xff\xfes\0h\0")
@example(b"sheet,student,answers\n\xed\xa0\x80,a,b")
def test_any_bytes_give_rows_or_clear_faults(raw):
    found = read(raw)
    clear(list(found.faults))
    assert found.rows or found.faults or raw.startswith(b"s") or b"student" in raw
    for row in found.rows:
        asked = SHEETS[row.sheet]
        assert len(row.letters) == len(asked)
        assert all(letter == "" or letter in "ABCDEF"[: len(one.choices)]
                   for letter, one in zip(row.letters, asked, strict=True))  # fmt: skip
        assert row.student.strip() == row.student != ""
    lost = {fault.place.line for fault in found.faults if fault.level == "error"}
    assert found.left_out <= len(lost) or not found.rows


@settings(max_examples=150, deadline=None)
@given(st.lists(st.tuples(st.sampled_from([ONE, TWO]), st.text("abcé \"',;", min_size=1).filter(str.strip),
                          st.text("AB.", min_size=5, max_size=5)), max_size=8,
                unique_by=lambda row: " ".join(row[1].split())),
       st.sampled_from(",;\t"), st.sampled_from(["\n", "\r\n", "\r"]), st.booleans())  # fmt: skip
def test_what_was_written_is_read(rows, delimiter, end, mark):
    quoted = [[f'"{cell.replace(chr(34), chr(34) * 2)}"' for cell in row] for row in rows]
    text = end.join(delimiter.join(row) for row in [["sheet", "student", "answers"], *quoted])
    found = read(("\ufeff" if mark else "") + text)
    expected = {(sheet, " ".join(student.split()), answers) for sheet, student, answers in rows}
    assert {(row.sheet, row.student, said(row)) for row in found.rows} == expected
