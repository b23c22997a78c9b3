"""The strip above a carrier's checklist: whose unit the sheet is for, and whom to call; and at each foot, whose it is.

Units that are made up alike, of whatever carrier, share the rest of their checklist: it is set once with room for the
strip, and each unit's own strip is then put there. So a thousand carriers do not have the same rows set a thousand times.
"""

from __future__ import annotations

import io
from dataclasses import dataclass
from datetime import date

import pikepdf
from pikepdf import open as open_pdf

from ..views.carrier import CarrierView
from .carrier_cover import contact_part
from .checklist import FOOT_STRIP
from .compile import set_sheets
from .long_words import breakable
from .pdf_changes import with_forms

WIDTH = 210 - 2 * 7.2
"""Of the strip, millimetres: the text of a checklist."""
AT = 7.2
"""From the top and from the left of the page, millimetres."""
MM = 72 / 25.4
"""Points in a millimetre."""
_TAGS = ("BDC", "BMC", "EMC")
_ROOM, _FOOT = pikepdf.Name("/Owner"), pikepdf.Name("/OwnerFoot")
"""By which the first page calls the strip, and every page the line at its foot."""


@dataclass(frozen=True, slots=True)
class OwnerStrip:
    """A strip that is set, and how high it is in millimetres."""

    pdf: bytes
    height: float


def owner_strip(view: CarrierView, words: dict[str, str], language: str, size: float, issued: date, code: str) -> OwnerStrip:
    """The strip of a unit.

    Args:
        view: the carrier and its unit.
        words: the fixed words of the language.
        language: code of the language.
        size: of its type, points.
        issued: the day of issue.
        code: of what the checklist takes from the carrier's file.

    Raises:
        SettingFailed: the compiler objects, as to a character that the face lacks.
    """
    data = {
        "title": f"{view.carrier}, {view.unit}",
        "author": view.carrier,
        "language": language,
        "size": size,
        "width": WIDTH,
        "foot": FOOT_STRIP,
        "carrier": breakable(view.carrier),
        "unit": breakable(view.unit),
        "code": f"{words['print-code']} {code}",
        "call": words["print-call"],
        "contacts": [contact_part(one) for one in view.contacts],
        "note": words["print-demo-carrier"] if view.demo else None,
    }
    pdf = set_sheets("owner_line.typ", data, issued)
    with open_pdf(io.BytesIO(pdf)) as opened:
        low, high = (float(opened.pages[0].MediaBox[side]) for side in (1, 3))
    return OwnerStrip(pdf, round((high - low) / MM, 2))


def with_room(sheet: bytes, height: float) -> bytes:
    """The sheet with a paragraph for a strip in the room that its first page has for it, read before all else.

    Args:
        sheet: a tagged PDF as the compiler gave it.
        height: of the room, millimetres.
    """
    with open_pdf(io.BytesIO(sheet)) as pdf:
        page = pdf.pages[0]
        left, low = AT * MM, float(page.MediaBox[3]) - (AT + height) * MM
        put = f"/P <</MCID {_tag(pdf, page)}>> BDC q 1 0 0 1 {left:.3f} {low:.3f} cm {_ROOM} Do Q EMC\n"
        page.add_resource(_empty(pdf), pikepdf.Name.XObject, _ROOM)
        page.contents_add(put.encode(), prepend=True)
        foot, line = _empty(pdf), f"q 1 0 0 1 {left:.3f} {left:.3f} cm {_FOOT} Do Q\n".encode()
        for page in pdf.pages:
            page.add_resource(foot, pikepdf.Name.XObject, _FOOT)
            page.contents_add(line)
        out = io.BytesIO()
        pdf.save(out, deterministic_id=True, object_stream_mode=pikepdf.ObjectStreamMode.disable)
        return out.getvalue()


def _empty(pdf: pikepdf.Pdf) -> pikepdf.Object:
    """A form that another takes the place of."""
    return pdf.make_stream(b"", Type=pikepdf.Name.XObject, Subtype=pikepdf.Name.Form, BBox=[0, 0, 0, 0])


def with_owner(sheet: bytes, strip: OwnerStrip) -> bytes:
    """A sheet that has a paragraph for it with the strip in that.

    Args:
        sheet: as with_room gave it.
        strip: as high as the room.

    Raises:
        UnexpectedPdf: the sheet is not laid out as with_room lays it out.
    """
    with open_pdf(io.BytesIO(sheet)) as pdf, open_pdf(io.BytesIO(strip.pdf)) as own:
        rooms = pdf.pages[0].Resources.XObject
        places = [rooms[name].objgen[0] for name in (_ROOM, _FOOT)]
        return with_forms(sheet, zip(places, (_form(own.pages[0]), _form(own.pages[1], _AS_FOOT)), strict=True))


_AS_FOOT = ([pikepdf.Name.Artifact], pikepdf.Operator("BMC")), ([], pikepdf.Operator("EMC"))


def _form(page: pikepdf.Page, around: tuple = ()) -> pikepdf.Object:
    """A page as a form whose marks are taken off, since its place in the sheet's tree is that of the whole form.

    Args:
        page: of the strip.
        around: what stands before and behind all that it holds instead of them.
    """
    kept = [one for one in pikepdf.parse_content_stream(page) if str(one.operator) not in _TAGS]
    form = page.as_form_xobject()
    form.write(pikepdf.unparse_content_stream([*around[:1], *kept, *around[1:]]))
    for key in ("/StructParents", "/StructParent"):
        if key in form:
            del form[key]
    return form


def _tag(pdf: pikepdf.Pdf, page: pikepdf.Page) -> int:
    """The number of a new paragraph that comes first in the tree of the sheet."""
    tree = pdf.Root.StructTreeRoot
    document = tree.K[0] if isinstance(tree.K, pikepdf.Array) else tree.K
    numbers = tree.ParentTree.Nums
    at = next(n for n in range(0, len(numbers), 2) if int(numbers[n]) == int(page.obj.StructParents))
    mark = len(numbers[at + 1])
    paragraph = pdf.make_indirect(pikepdf.Dictionary(
        Type=pikepdf.Name.StructElem, S=pikepdf.Name.P, P=document, Pg=page.obj, K=pikepdf.Array([mark])
    ))  # fmt: skip
    document.K.insert(0, paragraph)
    numbers[at + 1].append(paragraph)
    return mark
