"""Files beside the tables that are fuzzed: the site's settings, and the keys of question sheets."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Callable
from pathlib import Path

from projects import tiny_project

from chockbook.build import FaultyTables, ProofFailed, preview
from chockbook.drill.keys import Asked, Keys, NoKeys, read_keys, write_keys
from chockbook.drill.sheets import Setting
from chockbook.pages import SiteFault
from chockbook.project import Project
from fuzz.damage import Draw, damage

MOST_DAMAGE = 4


def damaged(whole: bytes, draw: Draw) -> bytes:
    """A file with some pieces of damage."""
    for _ in range(MOST_DAMAGE):
        whole = damage(whole, draw)
        if draw.done:
            break
    return whole


class Settings:
    """The settings of the site, damaged: the tiny project's site is built and proved, or one fault says why not."""

    in_a_test = 8
    """Each input builds a site, so few of them go into a test."""

    def __init__(self) -> None:
        self._folder = Path(tempfile.mkdtemp(prefix="chockbook-fuzz-"))
        (self._folder / "project").mkdir()
        self._project = Project(tiny_project(self._folder / "project"))
        self._whole = self._project.config.read_bytes()

    def run(self, raw: bytes) -> None:
        """Build the site with damaged settings.

        Raises:
            Exception: whatever the program did not expect.
            AssertionError: the fault says nothing, or something was left beside the site.
        """
        self._project.config.write_bytes(damaged(self._whole, Draw(raw)))
        try:
            preview(self._project, self._folder / "site")
        except (FaultyTables, SiteFault, ProofFailed) as error:
            told = str(error).strip()
        else:
            told = "built"
        assert told
        assert {path.name for path in self._folder.iterdir()} <= {"project", "site"}
        assert {path.name for path in self._project.root.iterdir()} == {"mkdocs.yml", "source_tables"}

    def close(self) -> None:
        """Remove the folder."""
        shutil.rmtree(self._folder, ignore_errors=True)


class KeysFile:
    """A file of keys, damaged: keys, or one line that says it is none."""

    in_a_test = 400

    def __init__(self) -> None:
        self._folder = Path(tempfile.mkdtemp(prefix="chockbook-fuzz-"))
        self._path = self._folder / "keys.json"
        asked = Asked("severity.tire", "severity", 2, "tires", "major", ("tire.flat",), "How bad?", ("a", "b"), "A")
        setting = Setting("demo", "en", 2, 1, "7", ("severity",), "truck", True, (("tires", 2.0),))
        write_keys(Keys("0123abcd", "4f09ac", setting, {"4f09ac-01": (asked,), "4f09ac-02": (asked,)}), self._path)
        self._whole = self._path.read_bytes()

    def run(self, raw: bytes) -> None:
        """Read a damaged file."""
        self._path.write_bytes(damaged(self._whole, Draw(raw)))
        try:
            read_keys(self._path)
        except NoKeys as error:
            told = str(error)
        else:
            told = str(self._path)
        assert told.startswith(str(self._path))

    def close(self) -> None:
        """Remove the folder."""
        shutil.rmtree(self._folder, ignore_errors=True)


OTHERS: dict[str, Callable[[], Settings | KeysFile]] = {"settings": Settings, "keys": KeysFile}
