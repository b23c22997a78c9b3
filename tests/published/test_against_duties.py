"""Duties, report contents and provinces against what was typed from published copies."""

from __future__ import annotations

import re
from collections import Counter

import pytest
from records import published, rulebook, seen

from chockbook.catalogue import Catalogue

WORDS = {"6": "six"}


def holds(text: str, figure: str) -> bool:
    """Whether a text holds a figure, with or without separators, in digits or in words."""
    plain = re.sub(r"(?<=\d)[, ](?=\d{3})", "", text)
    return (
        bool(re.search(rf"(?<![\d.]){re.escape(figure)}(?![\d])", plain)) or WORDS.get(figure, "\0") in plain
    )


@pytest.mark.parametrize(
    ("rulebook_id", "name"),
    [("on-s1", "ontario_report"), ("us-fmcsr", "us_report"), ("qc-list-1", "quebec_report")],
)
def test_the_report_holds_what_the_law_lists(rulebook_id: str, name: str, shipped: Catalogue) -> None:
    source = published(name)
    wanted = {record["id"]: record for record in source["contents"]}
    assert len(wanted) == source["counts"]["contents"]
    held = {field.id: field for field in rulebook(shipped, rulebook_id).report}
    assert set(held) == set(wanted)
    for key, field in held.items():
        assert seen(field.basis) == wanted[key]["standing"], key
        place = wanted[key].get("locator") or wanted[key]["section"]
        assert place.removeprefix("s. ") in field.locator, key


def test_quebec_duties(shipped: Catalogue) -> None:
    duties = {duty.id: duty for duty in rulebook(shipped, "qc-list-1").duties}
    records = published("quebec_duties")["duties"]
    assert records
    for record in records:
        duty = duties[record["id"]]
        assert seen(duty.basis) == record["standing"], record["id"]
        if record["value"]:
            assert holds(duty.text["en"], record["value"]), record["id"]
        if record["section"]:
            assert record["section"].split(" ")[0] in duty.locator, record["id"]


def test_quebec_severities(shipped: Catalogue) -> None:
    held = {severity.id: severity for severity in rulebook(shipped, "qc-list-1").severities}
    records = {record["id"]: record for record in published("quebec_duties")["severities"]}
    assert set(held) == set(records)
    for key, record in records.items():
        assert record["fr"] in held[key].meaning["en"], key
        assert seen(held[key].basis) == record["standing"], key
        assert (held[key].deadline is not None) == (record["value"] is not None), key
        if record["value"]:
            assert holds(held[key].deadline["en"], record["value"]), key


def test_us_duties_stand_at_the_places_read(shipped: Catalogue) -> None:
    """Each place of the notes is that of a duty, an action or a report field, or is left out with a reason."""
    book = rulebook(shipped, "us-fmcsr")
    held = [
        *book.duties,
        *book.actions,
        *book.report,
        *(i for s in book.schedules for p in s.parts for i in p.items),
    ]
    told = " ".join([*(one.locator for one in held), *(one.locator for one in book.left_out)])
    records = published("us_report")["duties"]
    assert len(records) > 40
    missing = [record["locator"] for record in records if record["locator"] not in told]
    assert missing == []
    by_place = {duty.locator: duty for duty in book.duties}
    compared = 0
    for record in records:
        duty = by_place.get("49 CFR " + record["locator"])
        if duty:
            assert seen(duty.basis) == record["standing"], record["locator"]
            compared += 1
    assert compared > 40


def test_provinces_fact_by_fact(shipped: Catalogue) -> None:
    source = published("provinces")
    held = [(province.id, fact.topic) for province in shipped.jurisdictions for fact in province.facts]
    wanted = [(record["id"], record["topic"]) for record in source["facts"]]
    assert set(held) == set(wanted)
    # The tables may split a record into several sentences, never leave one out.
    assert Counter(held) >= Counter(wanted)
    assert len(shipped.jurisdictions) == source["counts"]["jurisdictions"]
    for record in source["facts"]:
        province = next(one for one in shipped.jurisdictions if one.id == record["id"])
        facts = [
            fact
            for fact in province.facts
            if fact.topic == record["topic"] and seen(fact.basis) == record["standing"]
        ]
        assert facts, record
        if record["value"]:
            said = " ".join(f"{fact.text['en']} {fact.remark['en'] if fact.remark else ''}" for fact in facts)
            assert holds(said, record["value"]), record
