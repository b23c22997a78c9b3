"""What changed since each former edition that a project keeps."""

from __future__ import annotations

from ..catalogue import Catalogue
from ..catalogue.remembered import remembered
from .as_data import catalogue_as_data
from .change import Difference
from .compare import compare


@remembered
def differences(catalogue: Catalogue) -> tuple[Difference, ...]:
    """What changed since each former edition that is kept, the latest former edition first."""
    now = catalogue_as_data(catalogue) if catalogue.former else {}
    return tuple(compare(former, now) for former in reversed(catalogue.former))
