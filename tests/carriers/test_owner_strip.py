"""A carrier's checklist says above its title whose unit it is for and whom to call; all else is shared."""

from __future__ import annotations

from pathlib import Path

import pikepdf
import pytest
from demo_carriers import carrier
from print_reading import letters, squash, squashed_pages

from chockbook.catalogue import Catalogue
from chockbook.catalogue.carrier import CarrierRecord
from chockbook.printing import cards_for_carriers
from chockbook.proof import prove_carriers

CHECKLIST = [{"what": "checklist"}]
ASH = carrier(id="ash", name="Ash Cartage", documents=CHECKLIST, demo=True, contacts=[
    {"role": "dispatch", "name": "Wim Okoro", "phone": "555-0151", "hours": "day and night"},
    {"role": "safety", "phone": "555-0152", "hours": "08:00-16:00"},
])  # fmt: skip
BEECH = carrier(id="beech", name="Beech Freight", documents=CHECKLIST)
SAID = "Ash Cartage · Unit 1. Call Dispatch: 555-0151, Wim Okoro (day and night); Safety: 555-0152 (08:00-16:00)."


@pytest.fixture(scope="module")
def prints(shipped: Catalogue, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("strips")
    assert cards_for_carriers(shipped, [ASH, BEECH], folder, workers=1).failed == []
    return folder


def sheet(prints: Path, one: CarrierRecord) -> Path:
    return prints / one.id / "u1" / "checklist-normal.on-s1.en.pdf"


def test_the_first_page_begins_with_whose_it_is_and_whom_to_call(prints: Path) -> None:
    first, *others = squashed_pages(sheet(prints, ASH))
    assert first.startswith(squash(SAID))
    assert not any(squash("Ash Cartage") in page for page in others)
    top = [letter for letter in letters(sheet(prints, ASH))[0] if letter.top < 40]
    assert squash("".join(letter.text for letter in top)).startswith(squash("Ash Cartage · Unit 1."))
    assert min(letter.size for letter in top) >= 9.99


def test_units_that_are_made_up_alike_share_the_rest(prints: Path) -> None:
    ash, beech = ("".join(squashed_pages(sheet(prints, one))) for one in (ASH, BEECH))
    title = squash("Chockbook inspection checklist")
    assert ash != beech
    assert ash[ash.index(title) :] == beech[beech.index(title) :]


def test_the_strip_is_a_paragraph_that_is_read_first(prints: Path) -> None:
    with pikepdf.open(sheet(prints, ASH)) as pdf:
        tree = pdf.Root.StructTreeRoot
        document = tree.K[0] if isinstance(tree.K, pikepdf.Array) else tree.K
        first, page = document.K[0], pdf.pages[0]
        assert first.S == "/P"
        assert first.Pg.objgen == page.obj.objgen
        marked = dict(zip(tree.ParentTree.Nums[::2], tree.ParentTree.Nums[1::2], strict=True))[page.obj.StructParents]
        assert marked[int(first.K[0])].objgen == first.objgen
        open_marks = 0
        for one in pikepdf.parse_content_stream(page):
            open_marks += {"BDC": 1, "BMC": 1, "EMC": -1}.get(str(one.operator), 0)
            assert open_marks in (0, 1)
        (form,) = (one for one in page.Resources.XObject.values() if one.Subtype == "/Form")
        assert not {str(one.operator) for one in pikepdf.parse_content_stream(form)} & {"BDC", "BMC", "EMC"}


def test_another_carriers_sheet_in_its_place_is_seen(shipped: Catalogue, prints: Path) -> None:
    assert prove_carriers(shipped, [ASH, BEECH], prints, processes=1).objections == ()
    was, other = sheet(prints, ASH).read_bytes(), sheet(prints, BEECH).read_bytes()
    try:
        sheet(prints, ASH).write_bytes(other)
        found = [str(one) for one in prove_carriers(shipped, [ASH, BEECH], prints, processes=1).objections]
    finally:
        sheet(prints, ASH).write_bytes(was)
    assert any("beechfreight" in one.casefold() and "another carrier's" in one for one in found), found


def test_a_number_that_changed_is_seen_on_a_checklist(shipped: Catalogue, prints: Path) -> None:
    people = [ASH.contacts[0].model_dump() | {"phone": "555-0159"}, ASH.contacts[1].model_dump()]
    changed = ASH.model_copy(update={"contacts": carrier(contacts=people).contacts})
    found = [str(one) for one in prove_carriers(shipped, [changed, BEECH], prints, only=["ash"], processes=1).objections]
    assert any("555-0159" in one or "5550159" in one for one in found), found
