"""`chockbook results` from files to files: what it prints, writes and gives back."""

from __future__ import annotations

import csv
import json

import pytest
from hand_made import HEAD, KEYS, ONE, TWO
from projects import SHIPPED

from chockbook.cli import main
from chockbook.drill.keys import write_keys

GOOD = HEAD + f"{ONE},Otter,ABCAB\n{ONE},Wren,AACBB\n{TWO},Heron,BCAAB\n{TWO},Vole,A.BCA\n"


@pytest.fixture
def at_once(shipped, monkeypatch):
    """Lets the command have the catalogue that the tests have read already."""
    monkeypatch.setattr("chockbook.cli.results.catalogue_of", lambda options: shipped)


@pytest.fixture
def run(tmp_path, capsys, at_once):
    """Runs the command on a text, with the keys made by hand; gives code, what was printed, and complaints."""
    write_keys(KEYS, tmp_path / "keys.json")

    def run(text: str, *options: str):
        (tmp_path / "answers.csv").write_text(text, encoding="utf-8", newline="")
        code = main(["--project", str(SHIPPED.parent), "results", str(tmp_path / "answers.csv"),
                     "--keys", str(tmp_path / "keys.json"), *options])  # fmt: skip
        return (code, *capsys.readouterr())

    return run


def test_it_prints_the_class_in_80_columns(run):
    code, out, _ = run(GOOD)
    assert code == 0
    results = out.partition("What the class got wrong")[2].splitlines()
    assert max(map(len, results)) <= 80
    assert "Sheets marked: 4. Rows left out: 0. Blank or unreadable answers, counted as" in results
    assert "wrong: 1." in results
    assert "Right: 65% on average, from 0% to 100%." in results
    assert "Reliability of the scores: not told below 20 sheets, where chance decides it." in results
    rows = [line.split() for line in results]
    assert ["Wren,", ONE, "60%", "3", "of", "5"] in rows
    assert ["Vole,", TWO, "0%", "0", "of", "5", "1"] in rows
    assert ["1.", "Horn", "63%", "5", "of", "8", "–"] in rows
    assert ["2.", "Tires", "67%", "8", "of", "12", "–"] in rows
    assert "A study and reference aid, not the law." in out


def test_in_french_the_words_are_french_and_hard_spaces_stay(run):
    code, out, _ = run(GOOD, "--language", "fr")
    assert code == 0
    assert "Ce que le groupe a manqué" in out
    assert "Feuilles corrigées\u00a0: 4." in out
    assert "[en] Question b?" in out  # the sheets were in English
    assert "\\u00a0" not in out


def test_bad_rows_are_told_left_out_and_make_the_code_1(run):
    code, out, _ = run(GOOD + f"zzz999-01,Crow,ABCAB\n{ONE},Crow,ABC\n")
    assert code == 1
    assert "answers.csv:6:1: error[unknown-sheet]" in out
    assert "answers.csv:7:16: error[answer-count]" in out
    assert "Sheets marked: 4. Rows left out: 2." in out


def test_an_answer_that_cannot_be_read_is_told_and_the_rest_of_the_sheet_counts(run):
    # Otter has A, B, C, A, B right; the fourth is typed as X.
    code, out, _ = run(GOOD.replace("ABCAB", "ABCXB"))
    assert code == 1
    assert 'answers.csv:2:20: error[no-such-choice]: "X" is no choice of question 4: it has A to C' in out
    assert "Sheets marked: 4. Rows left out: 0." in out
    assert ["Otter,", ONE, "80%", "4", "of", "5", "1"] in [line.split() for line in out.splitlines()]


def test_many_bad_rows_are_counted_and_all_of_them_shown_on_demand(run):
    text = GOOD + "zzz999-01,Crow,ABCAB\n" * 30
    assert run(text)[1].count("error[unknown-sheet]") == 10
    assert "20 more [unknown-sheet]; all of them: --all" in run(text)[1]
    assert run(text, "--all")[1].count("error[unknown-sheet]") == 30


def test_no_good_row_writes_nothing(run, tmp_path):
    code, _, complaint = run(HEAD, "--report", str(tmp_path / "r.pdf"), "--weights", str(tmp_path / "w.json"))
    assert code == 1
    assert complaint == "chockbook: no row could be marked; nothing was written\n"
    assert not (tmp_path / "r.pdf").exists()
    assert not (tmp_path / "w.json").exists()


def test_json_holds_everything_and_nothing_else_is_printed(run):
    code, out, complaint = run(GOOD + "zzz999-01,Crow,ABCAB\n", "--json")
    data = json.loads(out)
    assert (code, complaint) == (1, "")
    assert (data["marked"], data["left_out"], data["mean"]) == (4, 1, 0.65)
    assert [fault["rule"] for fault in data["faults"]] == ["blank-answer", "unknown-sheet"]
    assert {one["id"]: one["share"] for one in data["systems"]} == {"horn": 0.625, "tires": 0.6667}


def test_scores_are_written_so_that_no_alias_becomes_a_formula(run, tmp_path):
    text = HEAD + f'{ONE},"=HYPERLINK(""x"")",ABCAB\n{ONE},@Wren,ABCAB\n{TWO},+1,BCAAB\n{TWO},-1,BCAAB\n'
    assert run(text, "--scores", str(tmp_path / "s.csv"))[0] == 0
    raw = (tmp_path / "s.csv").read_bytes()
    assert raw.startswith(b"\xef\xbb\xbfstudent,sheet,right,questions,blank,percent\r\n")
    rows = list(csv.reader(raw.decode("utf-8-sig").splitlines()))[1:]
    assert [row[0] for row in rows] == ['\'=HYPERLINK("x")', "'@Wren", "'+1", "'-1"]
    assert rows[0][1:] == [ONE, "5", "5", "0", "100.0"]


def test_the_weights_go_straight_into_a_drill(run, tmp_path, capsys):
    assert run(GOOD, "--weights", str(tmp_path / "w.yaml"))[0] == 0
    code = main(["--project", str(SHIPPED.parent), "drill", "--questions", "8", "--weights", str(tmp_path / "w.yaml"),
                 "--output", str(tmp_path / "drill")])  # fmt: skip
    assert code == 0
    assert json.loads((tmp_path / "drill" / "keys.json").read_bytes())["setting"]["weights"] == [
        ["horn", 1.04], ["tires", 0.97],
    ]  # fmt: skip


def test_weights_of_a_system_that_there_is_not_are_refused(tmp_path, capsys):
    (tmp_path / "w.json").write_text('{"systems": {"warp-drive": 2}}')
    assert main(["--project", str(SHIPPED.parent), "drill", "--weights", str(tmp_path / "w.json")]) == 2
    assert "'warp-drive'" in capsys.readouterr().err


@pytest.mark.parametrize("option", ["--report", "--weights", "--scores"])
def test_no_output_takes_the_place_of_an_input(run, tmp_path, option):
    for name in ("answers.csv", "keys.json"):
        before = (tmp_path / "keys.json").read_bytes()
        assert run(GOOD, option, str(tmp_path / name))[0] == 2
        assert (tmp_path / "answers.csv").read_text() == GOOD
        assert (tmp_path / "keys.json").read_bytes() == before


@pytest.mark.parametrize(
    "text",
    ["", "{", "[]", "null", '{"format": 2}', '{"format": 1, "sheets": {}}', "[" * 100_000, "\udcff"],
)
def test_what_are_no_keys_is_a_wrong_use(run, tmp_path, capsys, text):
    (tmp_path / "bad.json").write_bytes(text.encode("utf-8", "surrogateescape"))
    (tmp_path / "answers.csv").write_text(GOOD)
    code = main(["--project", str(SHIPPED.parent), "results", str(tmp_path / "answers.csv"),
                 "--keys", str(tmp_path / "bad.json")])  # fmt: skip
    assert code == 2
    assert "bad.json" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("old", "new"),
    [('"answer": "A"', '"answer": "F"'), ('"answer": "A"', '"answer": ""'), ('"answer": "A"', '"answer": 1'),
     ('"text": "Question a?"', '"text": null'), ('"level": 2', '"level": "x"'), ('"10 mm"', '"13 mm"'),
     ('"choices": [', '"choices": [[1], ')],
)  # fmt: skip
def test_keys_that_cannot_mark_are_refused(run, tmp_path, capsys, old, new):
    text = (tmp_path / "keys.json").read_text()
    assert old in text
    (tmp_path / "bad.json").write_text(text.replace(old, new, 1))
    (tmp_path / "answers.csv").write_text(GOOD)
    code = main(["--project", str(SHIPPED.parent), "results", str(tmp_path / "answers.csv"),
                 "--keys", str(tmp_path / "bad.json")])  # fmt: skip
    assert code == 2
    assert "is not a keys file" in capsys.readouterr().err


def test_without_keys_it_says_how_to_make_them_again(tmp_path, capsys, at_once):
    (tmp_path / "answers.csv").write_text(GOOD)
    code = main(["--project", str(SHIPPED.parent), "results", str(tmp_path / "answers.csv"),
                 "--keys", str(tmp_path / "none.json")])  # fmt: skip
    assert code == 2
    assert "make them again with chockbook drill and the seed" in capsys.readouterr().err
