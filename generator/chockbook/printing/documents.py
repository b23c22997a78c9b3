"""The three printed documents: what each template is given."""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path
from typing import Any

from ..catalogue import Catalogue
from ..views.checklist import view_checklist
from ..views.grouping import rulebook_named
from ..views.manual import view_manual
from ..views.wording import fixed_word, in_language
from .compile import set_document
from .printed import Printed

USE_PARAGRAPHS = ("print-use-find", "print-use-read", "print-use-basis", "print-use-examiner")
CHECKLIST_FIELDS = (
    "print-unit", "print-trailers", "print-odometer", "print-place",
    "print-date", "print-time", "print-driver", "print-signature",
)  # fmt: skip
DEFECT_LINES = 14


def render_manual(
    catalogue: Catalogue, rulebook_id: str, language: str, paper: str, out_path: Path
) -> Printed:
    """Write the manual.

    Args:
        catalogue: the checked catalogue.
        rulebook_id: the rulebook it is about.
        language: code of its language.
        paper: "letter" or "a4".
        out_path: the PDF to write.

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
        MissingWording: a text has not been written in the language.
        SettingFailed: the compiler objects.
    """
    view = view_manual(catalogue, rulebook_id, language)
    more = {
        "how_to_use": [fixed_word(catalogue, key, language) for key in USE_PARAGRAPHS],
        "systems": len(catalogue.systems),
    }
    return _render("manual", asdict(view), catalogue, rulebook_id, language, paper, out_path, more)


def render_checklist(
    catalogue: Catalogue, rulebook_id: str, language: str, paper: str, out_path: Path
) -> Printed:
    """Write the walk-round and in-cab checklist on "letter" or "a4".

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
        MissingWording: a text has not been written in the language.
        SettingFailed: the compiler objects.
    """
    view = view_checklist(catalogue, rulebook_id, language)
    more = {
        "fields": [fixed_word(catalogue, key, language) for key in CHECKLIST_FIELDS],
        "defect_lines": DEFECT_LINES,
    }
    return _render("checklist", asdict(view), catalogue, rulebook_id, language, paper, out_path, more)


def _document_id(*parts: str) -> str:
    """The name by which a document calls itself, such as "cards.on-s1.en.horn"."""
    return ".".join(parts)


def _render(
    kind: str,
    view: Any,
    catalogue: Catalogue,
    rulebook_id: str,
    language: str,
    paper: str,
    out_path: Path,
    more: dict[str, Any],
) -> Printed:
    publisher = catalogue.publisher
    edition = catalogue.edition
    rulebook = rulebook_named(catalogue, rulebook_id)
    kind_title = fixed_word(catalogue, f"print-title-{kind}", language)
    data = {
        "view": view,
        "title": f"{fixed_word(catalogue, 'title', language)} {kind_title}",
        "rulebook_short_name": in_language(rulebook.short_name, language),
        "language": language,
        "paper": paper,
        "document_id": _document_id(kind, rulebook_id, language, *([paper] if kind != "cards" else [])),
        "edition": {
            "code": edition.code,
            "date": edition.date.isoformat(),
            "check_by": edition.check_by.isoformat(),
        },
        "publisher": {"name": publisher.name, "contact": publisher.contact, "demo": publisher.demo},
        "words": {key: text[language] for key, text in catalogue.words.items() if language in text},
        **more,
    }
    counts = set_document(f"{kind}.typ", data, edition.date, out_path)
    return Printed(path=out_path, pages=counts["pages"], cards=counts["cards"])
