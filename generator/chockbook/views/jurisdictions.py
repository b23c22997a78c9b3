"""What the other provinces ask about trip inspections, topic by topic, each fact with its standing."""

from __future__ import annotations

from dataclasses import dataclass
from typing import get_args

from ..catalogue import Catalogue
from ..catalogue.jurisdiction import Topic
from .stated import StatedView, stated
from .wording import fixed_word, in_language


@dataclass(frozen=True, slots=True, kw_only=True)
class ProvinceFactView(StatedView):
    """One thing that a province asks, and where it stands."""

    text: str


@dataclass(frozen=True, slots=True)
class TopicView:
    """What a province asks on one topic."""

    id: str
    name: str
    facts: tuple[ProvinceFactView, ...]
    """Empty where nothing was read or remembered of it."""


@dataclass(frozen=True, slots=True)
class ProvinceView:
    """A province with its regulation, topic by topic."""

    id: str
    name: str
    regulation: str
    topics: tuple[TopicView, ...]


def view_jurisdictions(catalogue: Catalogue, language: str) -> tuple[ProvinceView, ...]:
    """Every province in the order of its table, with every topic.

    Raises:
        MissingWording: words.yaml lacks the name of a topic.
    """
    return tuple(
        ProvinceView(
            id=province.id,
            name=in_language(province.name, language),
            regulation=in_language(province.regulation, language),
            topics=tuple(
                TopicView(
                    id=topic,
                    name=fixed_word(catalogue, f"province-{topic}", language),
                    facts=tuple(
                        _fact(catalogue, fact, language) for fact in province.facts if fact.topic == topic
                    ),
                )
                for topic in get_args(Topic)
            ),
        )
        for province in catalogue.jurisdictions
    )


def _fact(catalogue: Catalogue, fact, language: str) -> ProvinceFactView:
    return ProvinceFactView(
        text=in_language(fact.text, language),
        **stated(catalogue, fact, language),
    )
