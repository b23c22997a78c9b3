"""Setting a template with its data: one call of the compiler that travels in the `typst` package."""

from __future__ import annotations

import json
import re
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import fontpkg_atkinson_hyperlegible
import typst

from ..resources import templates
from .overflow import CardOverflow
from .print_scaling import forbid_scaling

FONTS = fontpkg_atkinson_hyperlegible.ROOT / "files"
OVERFLOW = re.compile(r"card-overflow\|([^|]+)\|([0-9.]+)pt\|([0-9.]+)pt")
MILLIMETRES_PER_POINT = 25.4 / 72


COMPILATIONS_REMEMBERED = 10
"""The compiler keeps what it worked out for a document until it has set this many others."""


class SettingFailed(Exception):
    """A document could not be set: the compiler's own words, with the document's name before them."""


def set_sheets(template: str, data: dict[str, Any], issued: date) -> bytes:
    """A document whose pages were counted before, as tagged PDF/UA-1; the same data gives the same bytes.

    What the compiler remembers is left to age: thousands of small documents share most of their parts, and
    what the last few of them took is little.

    Raises:
        SettingFailed: the compiler objects, as to a character that the face lacks.
    """
    stamp = int(datetime(issued.year, issued.month, issued.day, tzinfo=UTC).timestamp())
    try:
        return _compiler(template, data).compile(format="pdf", pdf_standards=["ua-1"], timestamp=stamp)
    except typst.TypstError as error:
        raise SettingFailed(f"{template}: {error}") from error


def look_up(template: str, data: dict[str, Any], label: str) -> Any:
    """What a template that prints nothing has found out: the value of its metadata with a label.

    Raises:
        SettingFailed: the compiler objects, as to a character that the face lacks.
    """
    try:
        return json.loads(_compiler(template, data).query(f"<{label}>", field="value", one=True))
    except typst.TypstError as error:
        raise SettingFailed(f"{template}: {error}") from error


def _compiler(template: str, data: dict[str, Any]) -> typst.Compiler:
    folder = templates("print")
    return typst.Compiler(
        input=str(folder / template),
        root=str(folder),
        font_paths=[str(FONTS)],
        ignore_system_fonts=True,
        sys_inputs={"data": json.dumps(data, ensure_ascii=False)},
    )


def set_document(template: str, data: dict[str, Any], issued: date, out_path: Path) -> dict[str, int]:
    """Write a document as tagged PDF/UA-1; the same data gives the same bytes.

    Args:
        template: name of a file in site_templates/print.
        data: what the template reads, ready for JSON.
        issued: the day of issue, which is also the document's date.
        out_path: the PDF to write; its folder is made if needed.

    Returns:
        The template's own counts: pages and cards.

    Raises:
        CardOverflow: an entry does not fit on an empty card.
        SettingFailed: anything else that the compiler objects to, such as a character that the face lacks.
    """
    folder = templates("print")
    compiler = typst.Compiler(
        input=str(folder / template),
        root=str(folder),
        font_paths=[str(FONTS)],
        ignore_system_fonts=True,
        sys_inputs={"data": json.dumps(data, ensure_ascii=False)},
    )
    stamp = int(datetime(issued.year, issued.month, issued.day, tzinfo=UTC).timestamp())
    try:
        pdf = compiler.compile(format="pdf", pdf_standards=["ua-1"], timestamp=stamp)
        counts = json.loads(compiler.query("<counts>", field="value", one=True))
    except typst.TypstError as error:
        overflow = OVERFLOW.search(str(error))
        if overflow:
            needed, room = (float(points) * MILLIMETRES_PER_POINT for points in overflow.groups()[1:])
            raise CardOverflow(overflow[1], needed, room) from None
        raise SettingFailed(f"{template}: {error}") from error
    finally:
        _forget(folder)
    out_path.parent.mkdir(parents=True, exist_ok=True)
    out_path.write_bytes(forbid_scaling(pdf))
    return counts


def _forget(folder: Path) -> None:
    """Make the compiler drop what it remembers of the last document.

    A manual takes some 600 MB while it is set; without this the manuals of every paper, rulebook and
    language would pile up. Setting an empty document often enough is the only way the package offers.
    """
    empty = typst.Compiler(
        input=str(folder / "lib" / "tokens.typ"), root=str(folder), ignore_system_fonts=True
    )
    for _ in range(COMPILATIONS_REMEMBERED + 1):
        empty.compile(format="pdf")
