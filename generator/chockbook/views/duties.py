"""What a rulebook asks beside its severities, and what the inspection report holds."""

from __future__ import annotations

from dataclasses import dataclass

from ..catalogue import Catalogue, Standing
from .grouping import rulebook_named
from .stated import StatedView, stated
from .wording import fixed_word, in_language


@dataclass(frozen=True, slots=True, kw_only=True)
class DutyView(StatedView):
    """A duty, or a field of the report, with where it stands."""

    id: str
    text: str


@dataclass(frozen=True, slots=True)
class TopicView:
    """The duties of one topic."""

    id: str
    name: str
    duties: tuple[DutyView, ...]


@dataclass(frozen=True, slots=True)
class DutiesView:
    """All duties by topic, and the fields of the report."""

    topics: tuple[TopicView, ...]
    report: tuple[DutyView, ...]


def view_duties(catalogue: Catalogue, rulebook_id: str, language: str) -> DutiesView:
    """The duties of a rulebook by topic, topics in the order in which they first come.

    Raises:
        UnknownRulebook: the catalogue has no such rulebook.
        MissingWording: a text has not been written in the language.
    """

    def view(record: Standing, duty_id: str, text: dict[str, str]) -> DutyView:
        return DutyView(
            id=duty_id,
            text=in_language(text, language),
            **stated(catalogue, record, language),
        )

    rulebook = rulebook_named(catalogue, rulebook_id)
    topics: dict[str, list[DutyView]] = {}
    for duty in rulebook.duties:
        topics.setdefault(duty.topic, []).append(view(duty, duty.id, duty.text))
    return DutiesView(
        topics=tuple(
            TopicView(topic, fixed_word(catalogue, f"topic-{topic}", language), tuple(duties))
            for topic, duties in topics.items()
        ),
        report=tuple(view(field, field.id, field.name) for field in rulebook.report),
    )
