"""mkdocs.yml is plain settings: readable, each key once, and nothing in it that runs as a program when it is read.

What the settings mean is for MkDocs to judge, when it builds.
"""

from __future__ import annotations

from pathlib import Path

from ..faults import Fault
from ..tables import read_table


def find(path: Path) -> list[Fault]:
    """What is wrong with the site's settings as YAML. A file that is not there is left to the build."""
    try:
        path.lstat()
    except OSError:
        return []
    table = read_table(path, path.name)
    if not table.faults and not isinstance(table.data, dict):
        place = table.place(())
        return [Fault(place, "bad-settings", "the settings are not a mapping", "MkDocs looks its settings up by their keys",
                      "write keys with their values, or copy mkdocs.yml from a starter project")]  # fmt: skip
    return table.faults
