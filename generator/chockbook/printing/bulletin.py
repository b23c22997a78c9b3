"""The bulletin for drivers: what changed for them since a former edition, and which of a carrier's prints to hand in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict, replace
from pathlib import Path
from typing import Any

from ..catalogue import Catalogue
from ..catalogue.carrier import CarrierRecord
from ..editions import GONE, Change, Difference, Judged
from ..output import put_whole
from ..views.changes import heading, only, view_change, view_difference
from ..views.grouping import rulebook_named
from ..views.own_changes import view_own_changes
from ..views.prints_to_pull import PrintView, view_pulls
from ..views.wording import fixed_word, in_language, joined
from .document_data import document_data
from .places import set_settled
from .printed import Printed


def render_bulletin(
    catalogue: Catalogue,
    difference: Difference,
    rulebook_ids: Sequence[str],
    language: str,
    out_path: Path,
    owner: tuple[CarrierRecord, Sequence[Judged]] | None = None,
) -> Printed:
    """Write a bulletin; what matters most comes first, and changes that do not fit on one page are counted.

    Args:
        catalogue: the checked catalogue.
        difference: what changed.
        rulebook_ids: whose changes are told, one rulebook after the other.
        language: code of the language.
        out_path: the PDF.
        owner: a carrier, and its prints as the register has them: those to hand in are named truck by truck, and what
            changed in the carrier's own file is told, however many pages that takes; of the changes of the tables only
            those that stand on one of them.

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
        SettingFailed: the compiler objects, as to a character that the face lacks.
        OSError: the file cannot be written.
    """
    lines: list[dict[str, Any]] = []
    for rulebook_id in rulebook_ids:
        changes = only(difference.under(rulebook_id, language), "driver")
        if owner is not None:
            changes = tuple(one for one in changes if any(one in stale.changes for stale in owner[1]
                                                          if stale.row.get("rulebook") == rulebook_id))  # fmt: skip
        lines += [_line(catalogue, one, rulebook_id, language, len(rulebook_ids) > 1) for one in changes]
    view = view_difference(catalogue, replace(difference, changes=()), rulebook_ids[0], language)
    name = ".".join(["bulletin", *([owner[0].id] if owner else []), *rulebook_ids, language, difference.old["code"]])
    data = document_data("bulletin", catalogue, rulebook_ids[0], language, name)
    data["rulebook_name"] = " · ".join(in_language(rulebook_named(catalogue, one).name, language) for one in rulebook_ids)
    data["words"] = {key: in_language(text, language) for key, text in catalogue.words.items()}
    data["edition"] |= {"code": difference.new["code"], "date": difference.new["date"]}
    told = {"says": heading(catalogue, view, language), "owner": owner and owner[0].name, "demo": bool(owner and owner[0].demo),
            **(_of_carrier(catalogue, *owner, difference.new["code"], language) if owner else {})}  # fmt: skip

    def set_with(kept: int) -> tuple[bytes, int]:
        left = len(lines) - kept
        more = fixed_word(catalogue, "bulletin-more", language).replace("{number}", str(left)) if left else None
        return set_settled("bulletin.typ", data | {"view": told | {"lines": lines[:kept], "more": more}}, catalogue.edition.date)

    pdf, pages = set_with(len(lines))
    room = set_with(0)[1] if pages > 1 else 1  # the prints to hand in may take more than one page
    if pages > room:
        fit, over = 0, len(lines)
        while over - fit > 1:  # the most lines that need no further page, by halving
            kept = (fit + over) // 2
            fit, over = (kept, over) if set_with(kept)[1] <= room else (fit, kept)
        pdf, pages = set_with(fit)
    put_whole(out_path, pdf)
    return Printed(path=out_path, pages=pages, cards=0)


def _line(catalogue: Catalogue, change: Change, rulebook_id: str, language: str, several: bool) -> dict[str, Any]:
    """A change, with what a severity that it now has means for going on."""
    rulebook = rulebook_named(catalogue, rulebook_id)
    kind = fixed_word(catalogue, f"change-{change.kind}", language)
    named = [one.outcome for one in rulebook.severities if change.field == "severity" and one.name == change.after]
    return {**asdict(view_change(catalogue, change, language)),
            "kind": joined(catalogue, in_language(rulebook.short_name, language), kind, language) if several else kind,
            "means": in_language(named[0], language) if named else ""}  # fmt: skip


def _of_carrier(catalogue: Catalogue, carrier: CarrierRecord, prints: Sequence[Judged], edition: str,
                language: str) -> dict[str, Any]:  # fmt: skip
    """The carrier's prints to hand in, unit by unit, as a driver knows them; which may stay; what its file changed."""

    def word(key: str) -> str:
        return fixed_word(catalogue, key, language)

    names = {(carrier.id, unit.id): unit.name for unit in carrier.units}
    of_languages = {one.code: one.name for one in catalogue.languages}

    def codes(edition_code: str, print_code: str) -> str:
        return f"{word('edition')} {edition_code}" + (f", {word('print-code')} {print_code}" if print_code else "")

    def say(one: PrintView) -> str:
        kind, *parts = one.document.split("-")
        shown = word(f"bulletin-{kind}") if f"bulletin-{kind}" in catalogue.words else one.document
        if kind == "deck" and parts:
            named = f"bulletin-format-{parts[0]}"
            shown += f" ({word(named) if named in catalogue.words else parts[0]})"  # a register can be older than a format
        books = [in_language(book.short_name, language) for book in catalogue.rulebooks if book.id == one.rulebook]
        spoken = ", ".join(" + ".join(of_languages.get(code, code) for code in both.split("+")) for both in one.languages)
        reasons = [why for why in one.reasons if why != "prints-replaced"]  # which is news for whoever keeps the register
        said = " · ".join([shown, *(books or [one.rulebook]), spoken, codes(one.edition, one.code), *map(word, reasons)])
        if one.new_code is None or (one.edition, one.code) == (edition, one.new_code):
            return said  # there is no new one, or only its name is another, which is told below
        return f"{said} · {joined(catalogue, word('bulletin-new'), codes(edition, one.new_code), language)}"

    def who(units: tuple[str, ...]) -> str:
        if not units:
            return word("bulletin-all-units")
        return joined(catalogue, word("bulletin-units"), ", ".join(units), language)

    good = dict.fromkeys([edition, *(one.row.get("edition", "") for one in prints if one.pile in ("same", "current"))])
    own = [one for one in view_own_changes(catalogue, prints, names, language) if one.what not in GONE]
    return {"pulls": [{"who": who(pull.units), "prints": [*dict.fromkeys(map(say, pull.prints))]}
                      for pull in view_pulls(prints, ("stale", "pull", "unknown"), names)],
            "keep": word("bulletin-keep").replace("{codes}", ", ".join(good)),
            "own": [{"name": one.said(catalogue, language), "before": one.before, "after": one.after} for one in own]}  # fmt: skip
