"""A carrier's checklist says above its title whose unit it is for and whom to call; all else is shared."""

from __future__ import annotations

import re
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
BEECH, CEDAR = (carrier(id=name.lower(), name=f"{name} Freight", documents=CHECKLIST) for name in ("Beech", "Cedar"))
DOGWOOD = carrier(id="dogwood", name="Dogwood Freight", documents=CHECKLIST, contacts=[
    {"role": "other", "name": "Night Garage", "phone": "555-0157", "hours": "at night"},
])  # fmt: skip
EVERYONE = [ASH, BEECH, CEDAR, DOGWOOD]
SAID = "Ash Cartage · Unit 1. Call Dispatch: 555-0151, Wim Okoro (day and night); Safety: 555-0152 (08:00-16:00)."


@pytest.fixture(scope="module")
def prints(shipped: Catalogue, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("strips")
    assert cards_for_carriers(shipped, EVERYONE, folder, workers=1).failed == []
    return folder


def sheet(prints: Path, one: CarrierRecord) -> Path:
    return prints / one.id / "u1" / "checklist-normal.on-s1.en.pdf"


def test_the_first_page_begins_with_whose_it_is_and_whom_to_call(prints: Path) -> None:
    first, *others = squashed_pages(sheet(prints, ASH))
    assert first.startswith(squash(SAID))
    # A page that lies alone says whose it is too, once, in its foot.
    assert all(page.count(squash("Ash Cartage · Unit 1")) == 1 for page in others)
    top = [letter for letter in letters(sheet(prints, ASH))[0] if letter.top < 40]
    assert squash("".join(letter.text for letter in top)).startswith(squash("Ash Cartage · Unit 1."))
    assert min(letter.size for letter in top) >= 9.99


def test_whoever_has_no_role_is_asked_for_by_name(prints: Path) -> None:
    """Nobody says "call Other"."""
    first = squashed_pages(sheet(prints, DOGWOOD))[0]
    assert first.startswith(squash("Dogwood Freight · Unit 1. Call Night Garage: 555-0157 (at night)."))


def test_units_that_are_made_up_alike_share_the_rest(prints: Path) -> None:
    whose = "{} · Unit 1( · Print code [0-9a-f]{{6}})?"
    ash, beech = (re.sub(whose.format(one.name).replace(" ", ""), "", "".join(squashed_pages(sheet(prints, one))))
                  for one in (ASH, BEECH))  # fmt: skip
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
        strip, foot = page.Resources.XObject.Owner, page.Resources.XObject.OwnerFoot
        assert marks_of(strip) == []
        assert marks_of(foot) == ["/Artifact BMC", "EMC"]


def marks_of(form: pikepdf.Object) -> list[str]:
    found = pikepdf.parse_content_stream(form)
    return [" ".join([*map(str, one.operands), str(one.operator)]) for one in found if str(one.operator) in ("BDC", "BMC", "EMC")]


@pytest.mark.parametrize("place", [b"1 0 0 1 20 -30 cm", b"1 0 0 1 800 20 cm", b"0.01 0 0 0.01 20 20 cm"])
def test_a_foot_that_nobody_sees_is_missed(shipped: Catalogue, prints: Path, place: bytes) -> None:
    """Below the page, beside it, and too small to read: the form itself is whole each time."""
    path = sheet(prints, ASH)
    was = path.read_bytes()
    with pikepdf.open(path, allow_overwriting_input=True) as pdf:
        page = pdf.pages[2]
        page.contents_coalesce()
        content = page.Contents.read_bytes()
        line = re.search(rb"1 0 0 1 \S+ \S+ cm(?= /OwnerFoot)", content)
        assert line
        page.Contents.write(content.replace(line[0], place))
        pdf.save(path)
    try:
        found = [str(one) for one in prove_carriers(shipped, EVERYONE, prints, processes=1).objections]
    finally:
        path.write_bytes(was)
    assert any("page 3" in one and "whose it is" in one for one in found), found


def test_the_strip_comes_behind_the_sheet_as_it_was_and_any_reader_finds_it(prints: Path) -> None:
    """ISO 32000-1, 7.5.6: the last cross-reference section says where the one before it is, and the same for the sheet."""
    beech, cedar = (sheet(prints, one).read_bytes() for one in (BEECH, CEDAR))
    behind = beech.rindex(b"%%EOF", 0, -5)
    assert beech[:behind] == cedar[:behind]
    before = int(re.search(rb"/Prev (\d+)", beech[behind:])[1])
    assert beech[before : before + 4] == b"xref"
    assert before < behind
    with pikepdf.open(sheet(prints, BEECH)) as pdf:
        assert pdf.check_pdf_syntax() == []


def test_another_carriers_sheet_in_its_place_is_seen(shipped: Catalogue, prints: Path) -> None:
    assert prove_carriers(shipped, EVERYONE, prints, processes=1).objections == ()
    was, other = sheet(prints, ASH).read_bytes(), sheet(prints, BEECH).read_bytes()
    try:
        sheet(prints, ASH).write_bytes(other)
        found = [str(one) for one in prove_carriers(shipped, EVERYONE, prints, processes=1).objections]
    finally:
        sheet(prints, ASH).write_bytes(was)
    assert any("beechfreight" in one.casefold() and "another carrier's" in one for one in found), found


def test_a_number_that_changed_is_seen_on_a_checklist(shipped: Catalogue, prints: Path) -> None:
    people = [ASH.contacts[0].model_dump() | {"phone": "555-0159"}, ASH.contacts[1].model_dump()]
    changed = ASH.model_copy(update={"contacts": carrier(contacts=people).contacts})
    found = [str(one) for one in prove_carriers(shipped, [changed, *EVERYONE[1:]], prints, only=["ash"], processes=1).objections]
    assert any("555-0159" in one or "5550159" in one for one in found), found
