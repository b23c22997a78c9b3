"""The demo carriers as they are shipped."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))

from projects import SHIPPED

from chockbook.catalogue import Catalogue
from chockbook.catalogue.carrier import CarrierRecord
from chockbook.checks.carriers import assemble_carriers


@pytest.fixture(scope="session")
def shipped_carriers(shipped: Catalogue) -> tuple[CarrierRecord, ...]:
    """The carriers in source_tables/carriers, none of which has a fault."""
    found = assemble_carriers(SHIPPED / "carriers", shipped)
    assert found.faults == []
    return found.carriers
