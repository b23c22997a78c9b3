"""From a defect to its place in the schedule: the part whose item covers it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..catalogue import Catalogue, PartRecord, ScheduleRecord
from .choosing import choices
from .posed import Posed, posed
from .question import Question, order_by_seed, question_id
from .wording import Words, told

KIND = "place"


def ask(
    catalogue: Catalogue, rulebook_id: str, languages: Sequence[Words], vehicle: str | None
) -> Iterator[Question]:
    """For each defect whose items of a schedule all stand in one part: which part that is.

    Parts in which any item of the rulebook covers the defect, under whatever circumstance, are never offered as wrong.
    """
    schedules = catalogue.rulebook[rulebook_id].schedules
    part_of = {item.id: (schedule, part) for schedule in schedules for part in schedule.parts for item in part.items}
    asked: set[str] = set()
    for one in posed(catalogue, rulebook_id, vehicle):
        if one.entry.id in asked:
            continue
        asked.add(one.entry.id)
        covering = [item for ruling in one.entry.rulings_under(rulebook_id) for item in (ruling.item, *ruling.also)]
        home, part = part_of[one.ruling.item.id]
        if {part_of[item.id][1].part for item in covering if part_of[item.id][0] is home} != {part.part}:
            continue
        question = _question(one, home, part, len(schedules) > 1, languages)
        if question:
            yield question


def _question(
    one: Posed, home: ScheduleRecord, part: PartRecord, name_schedule: bool, languages: Sequence[Words]
) -> Question | None:
    words, item = languages[0], one.ruling.item
    name = question_id(KIND, one.ruling.rulebook.id, one.entry.id, home.id, part.part)

    def text(words: Words) -> str:
        book = words.of(one.ruling.rulebook.short_name)
        if name_schedule:
            book = words.fixed("drill-schedule", rulebook=book, schedule=words.of(home.name))
        return words.fixed("drill-ask-place", rulebook=book, finding=words.finding(one.entry))

    others = sorted((other for other in home.parts if other.part != part.part),
                    key=lambda other: order_by_seed(name, other.part))  # fmt: skip
    offered = choices(name, text, told(part.title), [told(other.title) for other in others], languages, least_wrong=2)
    if offered is None:
        return None
    return Question(
        id=name, kind=KIND, entry_ids=(one.entry.id,), system_id=one.entry.system.id, severity_id="",
        text=text(words), choices=offered,
        reason=words.fixed("drill-reason-place", part=words.of(part.title), item=words.of(item.text)),
        source=words.source(one.ruling), confirmed=item.confirmed and item.locator_basis != "from-memory", level=2,
    )  # fmt: skip
