"""What every paged document is given: its title, edition, publisher and fixed words."""

from __future__ import annotations

from typing import Any

from ..catalogue import Catalogue
from ..views.grouping import rulebook_named
from ..views.wording import fixed_word, in_language


def document_data(
    kind: str, catalogue: Catalogue, rulebook_id: str, language: str, name: str | None = None
) -> dict[str, Any]:
    """The part of a document's data that does not depend on what it holds.

    Args:
        kind: manual, checklist or report.
        catalogue: the checked catalogue.
        rulebook_id: the rulebook that the document is about.
        language: code of its language.
        name: by which the document calls itself; made from kind, rulebook and language where left out.

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
        MissingWording: a text has not been written in the language.
    """
    edition, publisher = catalogue.edition, catalogue.publisher
    rulebook = rulebook_named(catalogue, rulebook_id)
    kind_title = fixed_word(catalogue, f"print-title-{kind}", language)
    return {
        "title": f"{fixed_word(catalogue, 'title', language)} {kind_title}",
        "rulebook_short_name": in_language(rulebook.short_name, language),
        "rulebook_name": in_language(rulebook.name, language),
        "law": in_language(rulebook.law, language),
        "language": language,
        "document_id": name or f"{kind}.{rulebook_id}.{language}",
        "edition": {
            "code": edition.code,
            "date": edition.date.isoformat(),
            "check_by": edition.check_by.isoformat(),
        },
        "publisher": {"name": publisher.name, "contact": publisher.contact, "demo": publisher.demo},
        "words": {key: in_language(text, language) for key, text in catalogue.words.items()},
    }
