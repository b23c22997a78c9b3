"""The defects with every reference followed: what views, pages, print and proof work with."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from .defect import ComponentRecord, SystemRecord
from .limit import LimitRecord
from .rulebook import ActionRecord, ItemRecord, PartRecord, RulebookRecord, ScheduleRecord, SeverityRecord
from .source import SourceRecord


@dataclass(frozen=True, slots=True)
class Ruling:
    """What a rulebook says of a defect, with its item, severity, actions and source at hand."""

    rulebook: RulebookRecord
    schedule: ScheduleRecord
    part: PartRecord
    item: ItemRecord
    also: tuple[ItemRecord, ...]
    """Further items of the rulebook that cover the defect too."""
    severity: SeverityRecord
    rank: int
    """Place of the severity in its rulebook: 0 is the mildest."""
    applies_when: Mapping[str, str] | None
    actions: tuple[ActionRecord, ...]
    source: SourceRecord
    fit: str
    law_text: Mapping[str, str] | None
    remark: Mapping[str, str] | None

    @property
    def locator(self) -> str:
        """Exact place in the source."""
        return self.item.locator

    @property
    def basis(self) -> str:
        """published, common-practice, from-memory or invented."""
        return self.item.basis

    @property
    def confirmed(self) -> bool:
        """Whether the item was read in a source, and not only remembered."""
        return self.item.confirmed


@dataclass(frozen=True)
class Entry:
    """A defect: one condition of one component, with a ruling for each rulebook that speaks of it."""

    id: str
    system: SystemRecord
    component: ComponentRecord
    condition: Mapping[str, str]
    check: Mapping[str, str]
    aliases: Mapping[str, tuple[str, ...]]
    vehicles: tuple[str, ...]
    limits: tuple[LimitRecord, ...]
    rulings: tuple[Ruling, ...]

    @cached_property
    def _under(self) -> dict[str, tuple[Ruling, ...]]:
        """Rulings by the id of their rulebook: asked for on every page, for every entry."""
        under: dict[str, tuple[Ruling, ...]] = {}
        for ruling in self.rulings:
            under[ruling.rulebook.id] = (*under.get(ruling.rulebook.id, ()), ruling)
        return under

    @property
    def slug(self) -> str:
        """The part of the id after the component: unique on the component's page."""
        return self.id.split(".", 1)[1]

    def rulings_under(self, rulebook_id: str) -> tuple[Ruling, ...]:
        """The rulings of one rulebook, worst first; empty where it does not speak of the defect."""
        return self._under.get(rulebook_id, ())
