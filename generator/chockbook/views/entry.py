"""One defect as a reader of one language sees it; the part that all other views are built from."""

from __future__ import annotations

from dataclasses import dataclass

from ..catalogue import ActionRecord, Catalogue, Entry, LimitRecord, LimitRow, Ruling, only_question
from ..catalogue.locator import locator_in
from .wording import fixed_word, in_language, joined


@dataclass(frozen=True, slots=True)
class ActionView:
    """An action: what to do, who does it, and whether the duty is confirmed."""

    id: str
    text: str
    kind: str
    """stop, go-on, record, tell or repair."""
    by: str
    """driver, carrier or mechanic."""
    source_id: str
    locator: str
    basis: str
    confirmed: bool
    remark: str | None


@dataclass(frozen=True, slots=True)
class RulingView:
    """What one rulebook says of the defect."""

    rulebook_id: str
    rulebook_name: str
    schedule_id: str
    schedule_name: str
    part: str
    part_name: str
    part_title: str
    item_id: str
    item_letter: str
    item_text: str
    severity_id: str
    severity_name: str
    may_drive: str
    """yes, once-reported, if-safe or no."""
    outcome: str
    applies_when: str | None
    actions: tuple[ActionView, ...]
    source_id: str
    source_title: str
    locator: str
    also_locators: tuple[str, ...]
    """Places of further items of the rulebook that cover the defect too."""
    locator_confirmed: bool
    basis: str
    basis_name: str
    confirmed: bool
    fit: str
    fit_name: str
    law_text: str | None
    remark: str | None


@dataclass(frozen=True, slots=True)
class FigureView:
    """A row of a limit: the figure as its source prints it, and where it holds."""

    label: str
    printed: str
    rulebook_id: str | None
    source_id: str
    locator: str
    basis: str
    basis_name: str
    confirmed: bool
    remark: str | None


@dataclass(frozen=True, slots=True)
class LimitView:
    """A limit with its figures."""

    id: str
    quantity: str
    compare: str
    compare_name: str
    method: str
    figures: tuple[FigureView, ...]


@dataclass(frozen=True, slots=True)
class EntryView:
    """A defect in one language, with its rulings under one rulebook, worst first."""

    id: str
    slug: str
    system_id: str
    system_name: str
    component_id: str
    component_name: str
    condition: str
    heading: str
    """Component and condition, as every output leads with."""
    check: str
    aliases: tuple[str, ...]
    vehicles: tuple[str, ...]
    vehicle_names: tuple[str, ...]
    fitted: tuple[str, ...]
    rulings: tuple[RulingView, ...]
    otherwise: str | None
    """What a driver does where the only ruling does not fit; None where there are several, or it always holds."""
    limits: tuple[LimitView, ...]

    @property
    def governing(self) -> RulingView:
        """The worst ruling: the one that leads wherever the defect is shown."""
        return self.rulings[0]


def view_action(catalogue: Catalogue, action: ActionRecord, language: str) -> ActionView:
    """An action in one language."""
    return ActionView(
        id=action.id,
        text=in_language(action.text, language),
        kind=action.kind,
        by=action.by,
        source_id=action.source,
        locator=locator_in(catalogue, action.locator, language),
        basis=action.basis,
        confirmed=action.confirmed,
        remark=in_language(action.remark, language) if action.remark else None,
    )


def part_name(catalogue: Catalogue, part: str, language: str) -> str:
    """What a reader calls a part of a schedule: "Part 7" of a numbered one, otherwise its own name, such as
    "Subpart G (tires)".

    Raises:
        MissingWording: words.yaml has no word for a part.
    """
    if part[:1].isdigit():
        return f"{fixed_word(catalogue, 'web-part', language)} {part}"
    return locator_in(catalogue, part, language)


def view_ruling(catalogue: Catalogue, ruling: Ruling, language: str) -> RulingView:
    """A ruling in one language."""
    item = ruling.item
    remarks = [in_language(text, language) for text in (item.remark, ruling.remark) if text]
    return RulingView(
        rulebook_id=ruling.rulebook.id,
        rulebook_name=in_language(ruling.rulebook.short_name, language),
        schedule_id=ruling.schedule.id,
        schedule_name=in_language(ruling.schedule.name, language),
        part=ruling.part.part,
        part_name=part_name(catalogue, ruling.part.part, language),
        part_title=in_language(ruling.part.title, language),
        item_id=item.id,
        item_letter=item.letter,
        item_text=in_language(item.text, language),
        severity_id=ruling.severity.id,
        severity_name=in_language(ruling.severity.name, language),
        may_drive=ruling.severity.may_drive,
        outcome=in_language(ruling.severity.outcome, language),
        applies_when=in_language(ruling.applies_when, language) if ruling.applies_when else None,
        actions=tuple(view_action(catalogue, action, language) for action in ruling.actions),
        source_id=ruling.source.id,
        source_title=in_language(ruling.source.title, language),
        locator=locator_in(catalogue, ruling.locator, language),
        also_locators=tuple(locator_in(catalogue, item.locator, language) for item in ruling.also),
        locator_confirmed=(item.locator_basis or item.basis) != "from-memory",
        basis=ruling.basis,
        basis_name=fixed_word(catalogue, f"basis-{ruling.basis}", language),
        confirmed=ruling.confirmed,
        fit=ruling.fit,
        fit_name=fixed_word(catalogue, f"fit-{ruling.fit}", language),
        law_text=in_language(ruling.law_text, language) if ruling.law_text else None,
        remark=" ".join(remarks) or None,
    )


def view_figure(catalogue: Catalogue, row: LimitRow, language: str) -> FigureView:
    """A figure in one language."""
    return FigureView(
        label=in_language(row.label, language),
        printed=in_language(row.printed, language),
        rulebook_id=row.rulebook,
        source_id=row.source,
        locator=locator_in(catalogue, row.locator, language),
        basis=row.basis,
        basis_name=fixed_word(catalogue, f"basis-{row.basis}", language),
        confirmed=row.confirmed,
        remark=in_language(row.remark, language) if row.remark else None,
    )


def view_limit(catalogue: Catalogue, limit: LimitRecord, language: str) -> LimitView:
    """A limit in one language."""
    return LimitView(
        id=limit.id,
        quantity=in_language(limit.quantity, language),
        compare=limit.compare,
        compare_name=fixed_word(catalogue, f"compare-{limit.compare}", language),
        method=in_language(limit.method, language),
        figures=tuple(view_figure(catalogue, row, language) for row in limit.rows),
    )


def entry_name(catalogue: Catalogue, entry: Entry, language: str) -> str:
    """Component and condition, as every output names a defect: "Seat belt: The buckle will not latch".

    Raises:
        MissingWording: words.yaml does not say how the two are joined.
    """
    return joined(catalogue, in_language(entry.component.name, language), in_language(entry.condition, language), language)


def view_entry(catalogue: Catalogue, entry: Entry, rulebook_id: str, language: str) -> EntryView:
    """A defect in one language under one rulebook.

    Raises:
        MissingWording: a text of the defect has not been written in the language.
    """
    rulings = entry.rulings_under(rulebook_id)
    only = only_question(catalogue, rulings)
    return EntryView(
        id=entry.id,
        slug=entry.slug,
        system_id=entry.system.id,
        system_name=in_language(entry.system.name, language),
        component_id=entry.component.id,
        component_name=in_language(entry.component.name, language),
        condition=in_language(entry.condition, language),
        heading=entry_name(catalogue, entry, language),
        check=in_language(entry.check, language),
        aliases=tuple(entry.aliases.get(language, ())),
        vehicles=entry.vehicles,
        vehicle_names=tuple(fixed_word(catalogue, f"vehicle-{v}", language) for v in entry.vehicles),
        fitted=tuple(entry.component.fitted),
        rulings=tuple(view_ruling(catalogue, ruling, language) for ruling in rulings),
        otherwise=fixed_word(catalogue, "lookup-unsettled", language) if only else None,
        limits=tuple(view_limit(catalogue, limit, language) for limit in entry.limits),
    )
