"""The worked cases of the decision rule, in Python and in the page."""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml
from lookup_site import core_script
from projects import tiny_project

from chockbook.catalogue import Finding, UnfitFinding, decide
from chockbook.project import Project
from chockbook.views.decision import view_decision
from chockbook.views.lookup import lookup_data

CASES = yaml.safe_load((Path(__file__).parent / "verdicts.yaml").read_text("utf-8"))["cases"]
LETTERS = yaml.safe_load(
    (Path(__file__).parents[1] / "published" / "ontario_schedule_1.yaml").read_text("utf-8")
)
IN_PAGE = """([data, cases]) => {
    const catalogue = new Catalogue(data);
    return cases.map((findings) => {
        const verdict = decide(catalogue, findings);
        return [{
            outcome: verdict.severity?.id ?? null,
            units: Object.fromEntries(
                verdict.units.map((unit) => [unit.unit.id, unit.severity.id ?? null])),
            items: verdict.units.flatMap((unit) => unit.findings.map((one) => one.ruling?.item.id ?? null)),
            steps: verdict.steps.map((step) => step.action.id),
        }, reportText(catalogue, verdict)];
    });
}"""


def findings_of(case):
    return [Finding(one["entry"], one["unit"], one.get("answer", "unknown")) for one in case["findings"]]


def severity_of(ruling):
    return ruling.severity.id if ruling else None


def expected(case):
    return {key: case[key] for key in ("outcome", "units", "items", "steps")}


def test_there_are_cases_with_reasons_and_sources():
    assert len(CASES) >= 15
    for case in CASES:
        assert case["why"], case["name"]
        assert case["source"], case["name"]
        assert case["standing"] in ("seen", "memory"), case["name"]


def test_the_items_of_the_cases_stand_in_the_columns_that_the_published_schedule_has():
    published = {f"{r['part']}-{r['column']}-{r['letter']}": r for r in LETTERS["items"]}
    for case in CASES:
        for item in case["items"]:
            assert item in published, f"{case['name']}: {item}"
            if case["standing"] == "seen":
                assert published[item]["standing"] == "seen", f"{case['name']}: {item}"


@pytest.mark.parametrize("case", CASES, ids=[case["name"] for case in CASES])
def test_a_case_comes_out_as_worked(shipped, case):
    verdict = decide(shipped, findings_of(case), "on-s1")
    got = {
        "outcome": severity_of(verdict.governing),
        "units": {unit.unit: severity_of(unit.governing) for unit in verdict.units},
        "items": [one.ruling.item.id for unit in verdict.units for one in unit.findings],
        "steps": [step.action.id for step in verdict.steps],
    }
    assert got == expected(case)
    assert list(got["units"]) == list(case["units"]), "units come from front to back"


@pytest.mark.browser
def test_the_page_decides_and_reports_every_case_as_python_does(shipped, browser):
    page = browser.new_page()
    page.add_script_tag(content=core_script())
    plain = [
        [{"entryId": f.entry_id, "unit": f.unit, "answer": f.answer} for f in findings_of(case)]
        for case in CASES
    ]
    results = page.evaluate(IN_PAGE, [lookup_data(shipped, "on-s1", "en"), plain])
    page.close()
    assert len(results) == len(CASES)
    for case, (got, report) in zip(CASES, results, strict=True):
        assert got == expected(case), case["name"]
        view = view_decision(shipped, decide(shipped, findings_of(case), "on-s1"), "en")
        assert report == "\n".join(view.report), case["name"]


@pytest.mark.parametrize(
    "finding, told",
    [
        (Finding("no-such.defect", "truck"), "no defect 'no-such.defect'"),
        (Finding("seat-belt.missing", "sidecar"), "'sidecar' is not a unit; the units are truck, tractor"),
        (Finding("seat-belt.missing", "trailer-1"), "is not a defect of a trailer"),
        (Finding("seat-belt.missing", "truck", "maybe"), "'maybe' is not an answer"),
    ],
)
def test_a_finding_that_cannot_be_decided_is_named(shipped, finding, told):
    with pytest.raises(UnfitFinding, match=told):
        decide(shipped, [finding], "on-s1")


def test_an_unknown_rulebook_is_named(shipped):
    with pytest.raises(UnfitFinding, match="no rulebook 'nowhere'"):
        decide(shipped, [], "nowhere")


@pytest.mark.parametrize(("entry", "said"), [("tire.flat", True), ("city-horn.silent", False)], ids=["from memory", "published"])
def test_an_unconfirmed_ruling_is_said_to_be_so_and_a_confirmed_one_is_not(entry, said, tmp_path):
    catalogue = Project(tiny_project(tmp_path)).assemble().catalogue
    view = view_decision(catalogue, decide(catalogue, [Finding(entry, "truck")], "demo"), "en")
    [line] = [line for line in view.report if line.startswith("- ")]
    assert line.endswith("| Not yet confirmed") is said


def test_the_milder_outcome_says_when_the_stricter_one_holds(shipped):
    finding = Finding("low-beam-headlamps.both-out", "truck", "no")
    view = view_decision(shipped, decide(shipped, [finding], "on-s1"), "en")
    [found] = view.units[0].findings
    assert found.outcome.severity_id == "minor"
    assert found.otherwise.severity_id == "major"
    assert found.otherwise_when == "when lamps are required to be on"


def test_the_report_has_every_field_that_the_rulebook_asks_for(shipped):
    view = view_decision(shipped, decide(shipped, [Finding("seat-belt.missing", "truck")], "on-s1"), "en")
    for field in shipped.rulebooks[0].report:
        assert any(line.startswith(f"{field.name['en']}:") for line in view.report), field.id


ELSEWHERE = yaml.safe_load((Path(__file__).parent / "verdicts_elsewhere.yaml").read_text("utf-8"))["cases"]


@pytest.mark.parametrize("case", ELSEWHERE, ids=[case["name"] for case in ELSEWHERE])
def test_a_case_under_another_rulebook_comes_out_as_worked(shipped, case):
    verdict = decide(shipped, findings_of(case), case["rulebook"])
    assert severity_of(verdict.governing) == case["outcome"]
    assert {unit.unit: severity_of(unit.governing) for unit in verdict.units} == case["units"]
    steps = [step.action.id for step in verdict.steps]
    assert [step for step in case["steps_hold"] if step not in steps] == []
    assert [step for step in case["steps_lack"] if step in steps] == []


@pytest.mark.browser
@pytest.mark.parametrize("rulebook", ["us-fmcsr", "qc-list-1"])
def test_the_page_decides_under_other_rulebooks_as_python_does(shipped, browser, rulebook):
    page = browser.new_page()
    page.add_script_tag(content=core_script())
    cases = [case for case in ELSEWHERE if case["rulebook"] == rulebook]
    plain = [
        [{"entryId": f.entry_id, "unit": f.unit, "answer": f.answer} for f in findings_of(case)] for case in cases
    ]
    results = page.evaluate(IN_PAGE, [lookup_data(shipped, rulebook, "fr"), plain])
    page.close()
    for case, (got, report) in zip(cases, results, strict=True):
        assert (got["outcome"], got["units"]) == (case["outcome"], case["units"]), case["name"]
        view = view_decision(shipped, decide(shipped, findings_of(case), rulebook), "fr")
        assert report == "\n".join(view.report), case["name"]
