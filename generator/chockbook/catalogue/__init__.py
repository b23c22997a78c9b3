"""The checked, frozen model of the tables. Imports nothing else of ours."""

from .carrier import CarrierTable
from .defect import CatalogueTable, ComponentRecord, DefectRecord, RulingRecord, SystemRecord
from .edition import Edition, edition_code
from .entry import Entry, Ruling
from .jurisdiction import JurisdictionRecord, JurisdictionsTable
from .limit import LimitRecord, LimitRow, LimitsTable
from .publisher import PublisherTable
from .record import Record, Standing
from .route import RouteTable, StationRecord, StepRecord
from .rulebook import (
    ActionRecord,
    DutyRecord,
    ItemRecord,
    PartRecord,
    ReportFieldRecord,
    RulebookRecord,
    RulebooksTable,
    ScheduleRecord,
    SeverityRecord,
)
from .search_words import EndingRecord, SearchWordsRecord
from .source import SourceRecord, SourcesTable
from .verdict import (
    ANSWERS,
    UNITS,
    Finding,
    FindingVerdict,
    Question,
    Step,
    UnfitFinding,
    UnitVerdict,
    Verdict,
    decide,
    only_question,
    question_of,
)
from .whole import Catalogue
from .words import CautionRecord, LanguageRecord, WordsTable

TABLES: dict[str, type[Record]] = {
    "catalogue.yaml": CatalogueTable,
    "rulebooks.yaml": RulebooksTable,
    "sources.yaml": SourcesTable,
    "limits.yaml": LimitsTable,
    "route.yaml": RouteTable,
    "words.yaml": WordsTable,
    "jurisdictions.yaml": JurisdictionsTable,
    "publisher.yaml": PublisherTable,
}
"""File name in source_tables/ and the shape of what it holds."""
SHAPES: dict[str, type[Record]] = {**TABLES, "carrier.yaml": CarrierTable}
"""The same with the shape of each file in source_tables/carriers/."""

__all__ = [
    "ANSWERS",
    "SHAPES",
    "TABLES",
    "UNITS",
    "ActionRecord",
    "Catalogue",
    "CatalogueTable",
    "CautionRecord",
    "ComponentRecord",
    "DefectRecord",
    "DutyRecord",
    "Edition",
    "EndingRecord",
    "Entry",
    "Finding",
    "FindingVerdict",
    "ItemRecord",
    "JurisdictionRecord",
    "JurisdictionsTable",
    "LanguageRecord",
    "LimitRecord",
    "LimitRow",
    "LimitsTable",
    "PartRecord",
    "PublisherTable",
    "Question",
    "Record",
    "ReportFieldRecord",
    "RouteTable",
    "RulebookRecord",
    "RulebooksTable",
    "Ruling",
    "RulingRecord",
    "ScheduleRecord",
    "SearchWordsRecord",
    "SeverityRecord",
    "SourceRecord",
    "SourcesTable",
    "Standing",
    "StationRecord",
    "Step",
    "StepRecord",
    "SystemRecord",
    "UnfitFinding",
    "UnitVerdict",
    "Verdict",
    "WordsTable",
    "decide",
    "edition_code",
    "only_question",
    "question_of",
]
