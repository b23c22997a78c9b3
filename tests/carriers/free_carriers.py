"""Carriers as hypothesis makes them up, and everything that must hold of what is printed for them."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory

from demo_carriers import ALL_EQUIPMENT, carrier, layout_of, outside_safe_area, said
from hypothesis import strategies as st
from print_reading import MM, letters, squash
from sheet_reading import codes_of, overprints, untagged

from chockbook.catalogue import Catalogue
from chockbook.catalogue.card_kinds import CARD_KINDS
from chockbook.catalogue.carrier import CarrierRecord, DocumentRecord
from chockbook.catalogue.two_languages import no_room
from chockbook.printing import cards_for_carriers
from chockbook.proof import prove_carriers
from chockbook.views.carrier import deck_address

PAPER_EDGE = 6.35
"""Millimetres (a quarter of an inch) at the edge of a sheet that most office printers cannot reach: common practice."""
COMMON = (210.0, 279.4)
SMALLEST_TYPE = 9.99
"""Ten points, the floor for what is read at arm's length (see tests/print/test_pdf_quality.py), less a rounding."""

VEHICLES = st.lists(st.sampled_from(["truck", "tractor", "trailer", "converter-dolly"]), min_size=1, max_size=5)
PIECES = st.lists(st.sampled_from(ALL_EQUIPMENT), unique=True)
LETTERS = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789"
NAMES = st.one_of(
    st.text(st.sampled_from(LETTERS + " -.&'éèêëàçôîûœÉÈÀÇŒ"), min_size=1, max_size=60),
    st.lists(st.text(st.sampled_from("aeilnorstéèWMQŒ"), min_size=2, max_size=9), min_size=1, max_size=10).map(" ".join),
    st.integers(20, 60).map(lambda n: "W" * n),
    st.integers(20, 60).map(lambda n: "ÉQ-" * (n // 3)),
).map(lambda text: text.strip()[:60].strip()).filter(bool)  # fmt: skip
HOURS = st.one_of(st.sampled_from(["day and night", "06:00-22:00", "jour et nuit, même les jours fériés"]), NAMES)
PHONES = st.sampled_from(["555-0142", "+1 (819) 555-0143 x 4421", "819 555 0144"])
LANGUAGES = st.sampled_from([["en"], ["fr"], ["en", "fr"], ["fr", "en"]])
PLACES = st.sampled_from(
    [None, "https://a.example/", "https://a-much-longer-name.example/trucks/", f"https://{'long-name.' * 8}example/{'trucks/' * 6}"]
)  # fmt: skip


@st.composite
def documents(draw, languages: list[str]) -> dict[str, str]:
    """Something to print: mostly a deck, in any format and way that its languages have room for."""
    what = draw(st.sampled_from(["deck", "deck", "deck", "deck", "deck", "checklist", "report"]))
    if what == "report":
        return {"what": what}
    if what == "checklist":
        return {"what": what, "variant": draw(st.sampled_from(["normal", "big", "laminated"]))}
    ways = ["each", "side-by-side", "front-and-back"] if len(languages) == 2 else ["each"]
    return draw(
        st.fixed_dictionaries({
            "what": st.just(what),
            "format": st.sampled_from(sorted(CARD_KINDS)),
            "paper": st.sampled_from(["letter", "a4"]),
            "duplex": st.sampled_from(["long-edge", "short-edge", "fold", "one-sided"]),
            "marks": st.sampled_from(["office", "office", "press"]),
            "ink": st.sampled_from(["colour", "mono"]),
            "punch": st.sampled_from(["none", "none", "top", "left"]),
            "languages": st.sampled_from(ways),
        }).filter(lambda made: made["punch"] == "none" or CARD_KINDS[made["format"]].on_ring)
        .filter(lambda made: made["languages"] == "each" or not no_room(made["languages"], made["format"], made["duplex"]))
    )  # fmt: skip


@st.composite
def carriers(draw) -> CarrierRecord:
    """A carrier with any languages, make-up, names, contacts and document."""
    languages = draw(LANGUAGES)
    roles = draw(st.lists(st.sampled_from(["dispatch", "maintenance", "safety", "other"]), min_size=1, max_size=6))
    return carrier(
        id=draw(st.from_regex(r"\A[a-z]{1,10}(-[a-z]{1,8}){0,3}\Z")),
        name=draw(NAMES),
        demo=draw(st.booleans()),
        contacts=[{"role": role, "name": draw(st.none() | NAMES), "phone": draw(PHONES), "hours": draw(HOURS)} for role in roles],
        languages=languages,
        rulebooks=[draw(st.sampled_from(["on-s1", "us-fmcsr", "qc-list-1"]))],
        base_address=draw(PLACES),
        units=[{"id": draw(st.from_regex(r"\A[a-z0-9]{1,8}(-[a-z0-9]{1,8}){0,3}\Z")), "name": draw(NAMES),
                "vehicles": draw(VEHICLES), "equipment": draw(PIECES)}],
        documents=[draw(documents(languages))],
    )  # fmt: skip


def faults_of(catalogue: Catalogue, one: CarrierRecord, folder: Path) -> Iterator[str]:
    """What is wrong with what is printed for a carrier; nothing, if all is well."""
    with TemporaryDirectory(dir=folder) as name:  # the proof reads the whole register: no other carrier's prints in it
        yield from _faults_in(catalogue, one, Path(name))
    letters.cache_clear()


def _faults_in(catalogue: Catalogue, one: CarrierRecord, folder: Path) -> Iterator[str]:
    result = cards_for_carriers(catalogue, [one], folder, workers=1)
    if result.failed:
        # A card that is too small is named, with the next format, and nothing is shrunk to fit.
        why = result.failed[0][1]
        if one.documents[0].what != "deck" or "take the larger format" not in why:
            yield why
        return
    (document,) = one.documents
    paths = sorted((folder / one.id).rglob("*.pdf"))
    if len(paths) != (1 if document.languages != "each" else len(one.languages)):
        yield f"{len(paths)} files"
    for path in paths:
        yield from (f"{path.name}: {fault}" for fault in _faults(catalogue, one, document, path))
    yield from (f"the proof: {objection}" for objection in prove_carriers(catalogue, [one], folder, processes=1).objections)


def _faults(catalogue: Catalogue, one: CarrierRecord, document: DocumentRecord, path: Path) -> Iterator[str]:
    yield from untagged(path)
    yield from overprints(path)
    if document.what == "deck":
        yield from outside_safe_area(path, layout_of(document))
    else:
        yield from _outside_page(path)
    small = min(letter.size for page in letters(path) for letter in page)
    if small < SMALLEST_TYPE:
        yield f"type of {small} pt"
    text = said(path)
    wanted = [contact.phone for contact in one.contacts]
    if document.what == "deck" and document.card.is_index:
        wanted = wanted[:1]
    if document.what == "checklist" or (document.what == "deck" and not document.card.is_index):
        wanted += [one.name, one.units[0].name, *(c.name for c in one.contacts if c.name), *(c.hours for c in one.contacts)]
    # Word by word: on a back that is turned, lines can be read in another order.
    # A word that is broken over two lines is looked for in the pieces that stay together.
    pieces = {piece for words in wanted for piece in re.findall(r"[^\s-]{1,8}", words)}
    yield from (f"{piece!r} is not there" for piece in sorted(pieces) if squash(piece) not in text)
    if document.what == "deck" and not document.card.is_index:
        languages = one.languages if document.languages != "each" else [path.name.split(".")[-2]]
        addresses = [deck_address(catalogue, one, one.rulebooks[0], language) for language in languages]
        codes = codes_of(path)
        if sorted(codes) != sorted(filter(None, addresses)):
            yield f"the codes say {codes}, not {addresses}"


def _outside_page(path: Path) -> Iterator[str]:
    wide, high = (side * MM for side in COMMON)
    edge = PAPER_EDGE * MM
    for number, page in enumerate(letters(path), 1):
        for a in page:
            if a.left < edge or a.top < edge or a.right > wide - edge or a.bottom > high - edge:
                yield f"page {number}: {a.text!r} at {a.left / MM:.1f}, {a.top / MM:.1f} mm"
