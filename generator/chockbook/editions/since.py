"""What changed since each former edition that a project keeps."""

from __future__ import annotations

from ..catalogue import Catalogue
from .as_data import catalogue_as_data
from .change import Difference
from .compare import compare

_LAST: list[tuple[Catalogue, tuple[Difference, ...]]] = []


def differences(catalogue: Catalogue) -> tuple[Difference, ...]:
    """What changed since each former edition that is kept, the latest former edition first."""
    # Every page of every book asks; comparing once for each catalogue is enough.
    if not _LAST or _LAST[0][0] is not catalogue:
        now = catalogue_as_data(catalogue) if catalogue.former else {}
        _LAST[:] = [(catalogue, tuple(compare(former, now) for former in reversed(catalogue.former)))]
    return _LAST[0][1]
