"""Printing for many carriers: a register that agrees with the files, runs that go on, and no mixing."""

from __future__ import annotations

import csv
import hashlib
import json
from pathlib import Path

import pikepdf
import pytest
from demo_carriers import carrier, said

from chockbook.catalogue import Catalogue
from chockbook.printing import cards_for_carriers
from chockbook.printing.carriers import MADE
from chockbook.proof.carriers import prove_carriers

TWO = [
    carrier(id="alder-freight", name="Alder Freight",
            contacts=[{"role": "dispatch", "name": "Wim Okoro", "phone": "555-0151", "hours": "day and night"},
                      {"role": "safety", "name": "Lena Fjord", "phone": "555-0152", "hours": "08:00-16:00"}]),
    carrier(id="birch-cartage", name="Birch Cartage", base_address=None, rulebooks=["us-fmcsr"],
            contacts=[{"role": "maintenance", "name": "Ana Petrov", "phone": "555-0161", "hours": "06:00-22:00"}],
            documents=[{"what": "deck", "format": "visor", "ink": "mono"}, {"what": "deck", "format": "wall"}]),
]  # fmt: skip


def rows(folder: Path) -> list[dict[str, str]]:
    with (folder / "register.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.fixture(scope="module")
def printed(shipped: Catalogue, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("carriers")
    result = cards_for_carriers(shipped, TWO, folder, workers=1)
    assert result.failed == []
    assert result.made == ["alder-freight", "birch-cartage"]
    assert result.notices[-1] == "birch-cartage names no base_address, so its cards carry no code"
    return folder


def test_the_register_agrees_with_the_files(printed: Path, shipped: Catalogue) -> None:
    listed = rows(printed)
    assert {row["path"] for row in listed} == {
        path.relative_to(printed).as_posix() for path in printed.rglob("*.pdf")
    }
    assert [(row["carrier"], row["unit"], row["rulebook"], row["language"]) for row in listed] == [
        ("alder-freight", "u1", "on-s1", "en"), ("birch-cartage", "u1", "us-fmcsr", "en"), ("birch-cartage", "u1", "us-fmcsr", "en"),
    ]  # fmt: skip
    for row in listed:
        path = printed / row["path"]
        assert row["sha256"] == hashlib.sha256(path.read_bytes()).hexdigest()
        assert row["edition"] == shipped.edition.code
        with pikepdf.open(path) as pdf:
            assert int(row["pages"]) == len(pdf.pages)
        assert int(row["cards"]) > 0
        assert f"of{row['cards']}" in said(path)


def test_contacts_stand_on_the_own_carriers_cards_only(printed: Path) -> None:
    own = {one.id: said_by(printed, one.id) for one in TWO}
    for one in TWO:
        for other in TWO:
            for contact in other.contacts:
                stands = contact.phone in own[one.id]
                assert stands == (one is other), (one.id, contact.phone)
            assert (other.name.replace(" ", "") in own[one.id]) == (one is other)


def said_by(folder: Path, carrier_id: str) -> str:
    return "".join(said(path) for path in sorted((folder / carrier_id).rglob("*.pdf")))


def test_the_first_contact_stands_on_every_card_with_a_lane(printed: Path) -> None:
    for one in TWO:
        text = said_by(printed, one.id)
        lanes = text.count("Call:")
        assert lanes > 10
        assert text.count(one.contacts[0].phone) >= lanes


def test_an_unchanged_carrier_is_not_made_again(printed: Path, shipped: Catalogue) -> None:
    before = {path: path.stat().st_mtime_ns for path in printed.rglob("*.pdf")}
    again = cards_for_carriers(shipped, TWO, printed, workers=1)
    assert (again.made, again.kept, again.documents) == ([], ["alder-freight", "birch-cartage"], 3)
    assert {path: path.stat().st_mtime_ns for path in printed.rglob("*.pdf")} == before


def test_a_changed_carrier_is_made_again_and_what_it_gave_up_is_gone(
    shipped: Catalogue, tmp_path: Path
) -> None:
    both = carrier(documents=[{"what": "deck"}, {"what": "deck", "format": "id1"}])
    cards_for_carriers(shipped, [both], tmp_path, workers=1)
    assert len(list(tmp_path.rglob("*.pdf"))) == 2
    result = cards_for_carriers(shipped, [carrier()], tmp_path, workers=1)
    assert result.made == ["plain-haulage"]
    assert [path.name for path in tmp_path.rglob("*.pdf")] == ["deck-card-letter-long-edge.on-s1.en.pdf"]


def test_a_stopped_run_goes_on_where_it_was(shipped: Catalogue, tmp_path: Path) -> None:
    def stop(done: int, count: int, carrier_id: str) -> None:
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        cards_for_carriers(shipped, TWO, tmp_path, workers=1, progress=stop)
    assert (tmp_path / "alder-freight" / MADE).is_file()
    assert not (tmp_path / "birch-cartage" / MADE).exists()
    result = cards_for_carriers(shipped, TWO, tmp_path, workers=1)
    assert (result.kept, result.made) == (["alder-freight"], ["birch-cartage"])


def test_a_carrier_that_fails_is_named_and_stops_no_other(shipped: Catalogue, tmp_path: Path) -> None:
    bad = carrier(id="crane-lines", name="Crane \N{SNOWMAN} Lines")
    seen = []
    result = cards_for_carriers(
        shipped, [bad, TWO[0]], tmp_path, workers=1, progress=lambda *now: seen.append(now)
    )
    assert result.made == ["alder-freight"]
    assert [carrier_id for carrier_id, _ in result.failed] == ["crane-lines"]
    assert "could not be displayed" in result.failed[0][1]
    assert seen == [(1, 2, "crane-lines"), (2, 2, "alder-freight")]
    assert {row["carrier"] for row in rows(tmp_path)} == {"alder-freight"}


def test_several_processes_make_the_same_bytes(printed: Path, shipped: Catalogue, tmp_path: Path) -> None:
    cards_for_carriers(shipped, TWO, tmp_path, workers=2)
    assert rows(tmp_path) == rows(printed)


def test_a_lost_file_is_made_again(shipped: Catalogue, tmp_path: Path) -> None:
    cards_for_carriers(shipped, [carrier()], tmp_path, workers=1)
    note = json.loads((tmp_path / "plain-haulage" / MADE).read_text(encoding="utf-8"))
    (tmp_path / note["rows"][0]["path"]).unlink()
    assert cards_for_carriers(shipped, [carrier()], tmp_path, workers=1).made == ["plain-haulage"]


def test_a_document_that_no_card_can_hold_is_named_and_stops_no_other(shipped: Catalogue, tmp_path: Path) -> None:
    small = {"what": "deck", "format": "a7", "punch": "top"}
    one = carrier(rulebooks=["us-fmcsr"], documents=[small, {"what": "report"}])
    first = cards_for_carriers(shipped, [one], tmp_path, workers=1)
    ((name, why),) = first.failed
    assert (name, first.failed_at, first.not_printed) == ("plain-haulage", [0], {("plain-haulage", 0)})
    assert why.startswith("a deck of the format a7 cannot hold us-fmcsr in en: ")
    larger = why.split("take the larger format ")[1]
    assert [row["document"] for row in rows(tmp_path)] == ["report"]
    proof = prove_carriers(shipped, [one], tmp_path, processes=1, not_printed=first.not_printed)
    assert proof.objections == ()
    assert prove_carriers(shipped, [one], tmp_path, processes=1).objections != ()
    # It is told again by the next run; the format that it names holds the deck.
    assert cards_for_carriers(shipped, [one], tmp_path, workers=1).failed == first.failed
    mended = carrier(rulebooks=["us-fmcsr"], documents=[{**small, "format": larger}, {"what": "report"}])
    assert cards_for_carriers(shipped, [mended], tmp_path, workers=1).failed == []
    assert len(rows(tmp_path)) == 2
