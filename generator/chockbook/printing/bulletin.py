"""The bulletin for drivers: what changed for them since a former edition, on one page."""

from __future__ import annotations

from dataclasses import asdict, replace
from pathlib import Path

from ..catalogue import Catalogue
from ..editions import Difference
from ..output import put_whole
from ..views.changes import heading, only, view_change, view_difference
from ..views.wording import fixed_word, in_language
from .document_data import document_data
from .places import set_settled
from .printed import Printed


def render_bulletin(
    catalogue: Catalogue, difference: Difference, rulebook_id: str, language: str, out_path: Path
) -> Printed:
    """Write the bulletin of one rulebook; what matters most comes first, and what does not fit is counted.

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
        SettingFailed: the compiler objects, as to a character that the face lacks.
        OSError: the file cannot be written.
    """
    changes = only(difference.under(rulebook_id, language), "driver")
    view = view_difference(catalogue, replace(difference, changes=changes), rulebook_id, language)
    name = f"bulletin.{rulebook_id}.{language}.{difference.old['code']}"
    data = document_data("bulletin", catalogue, rulebook_id, language, name)
    data["words"] = {key: in_language(text, language) for key, text in catalogue.words.items()}
    data["edition"] |= {"code": difference.new["code"], "date": difference.new["date"]}
    lines = [asdict(view_change(catalogue, one, language)) | {"kind": fixed_word(catalogue, f"change-{one.kind}", language)}
             for one in changes]  # fmt: skip
    more = fixed_word(catalogue, "bulletin-more", language)
    fit, over, kept, pages = 0, len(lines) + 1, len(lines), 0
    while True:  # the most lines that go on one page, by halving; the last setting is the one that is kept
        left = len(lines) - kept
        shown = {"says": heading(catalogue, view, language), "lines": lines[:kept],
                 "more": more.replace("{number}", str(left)) if left else None}  # fmt: skip
        pdf, pages = set_settled("bulletin.typ", data | {"view": shown}, catalogue.edition.date)
        if pages == 1:
            fit = kept
        else:
            over = kept
        if over - fit <= 1 and kept == fit:
            break
        kept = (fit + over) // 2 if over - fit > 1 else fit
    put_whole(out_path, pdf)
    return Printed(path=out_path, pages=pages, cards=0)
