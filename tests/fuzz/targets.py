"""What is fuzzed, and what has to hold: a clear fault or a right result, never an exception, in bounded time."""

from __future__ import annotations

import json
import shutil
import tempfile
from collections.abc import Callable
from pathlib import Path

from projects import TESTS, TINY, assemble, tiny_project

from chockbook.checks import assemble_folder
from chockbook.checks.carriers import assemble_carriers
from chockbook.drill.keys import Asked, Keys
from chockbook.drill.sheets import Setting
from chockbook.exports.catalogue_json import catalogue_as_data
from chockbook.faults import Fault, errors, printable
from chockbook.results import class_results
from chockbook.results.class_results import as_data
from chockbook.results.read import answers_in
from fuzz.damage import Draw, damage

CARRIERS = TESTS.parent / "source_tables" / "carriers"
MOST_DAMAGE = 4


class Tables:
    """The tables of the tiny project, one or two of them damaged."""

    def __init__(self) -> None:
        self._folder = Path(tempfile.mkdtemp(prefix="chockbook-fuzz-"))
        project = tiny_project(self._folder)
        self._tables = project / "source_tables"
        self._whole = {path.name: path.read_bytes() for path in sorted(self._tables.glob("*.yaml"))}
        # The fixed words are long and all alike: the tiny ones reach the same code sooner.
        self._whole["words.yaml"] = (TINY / "words.yaml").read_bytes()
        for name, raw in self._whole.items():
            (self._tables / name).write_bytes(raw)

    def damaged(self, raw: bytes) -> dict[str, bytes]:
        """The tables that these bytes damage."""
        draw = Draw(raw)
        names = sorted(self._whole)
        found: dict[str, bytes] = {}
        for _ in range(MOST_DAMAGE):
            name = names[draw.below(len(names))]
            found[name] = damage(found.get(name, self._whole[name]), draw)
            if draw.done:
                break
        return found

    def run(self, raw: bytes) -> None:
        """Check the damaged tables.

        Raises:
            Exception: whatever the program did not expect.
            AssertionError: a fault is not clear.
        """
        found = self.damaged(raw)
        for name, text in found.items():
            (self._tables / name).write_bytes(text)
        try:
            assembly = assemble(self._tables)
            clear(assembly.faults)
            assert (assembly.catalogue is None) == bool(errors(assembly.faults))
            if assembly.catalogue is not None:
                catalogue_as_data(assembly.catalogue)
        finally:
            for name in found:
                (self._tables / name).write_bytes(self._whole[name])

    def close(self) -> None:
        """Remove the folder."""
        shutil.rmtree(self._folder, ignore_errors=True)


class Carriers:
    """The shipped demo carriers, damaged, against the shipped catalogue."""

    def __init__(self) -> None:
        self._catalogue = assemble_folder(TESTS.parent / "source_tables").catalogue
        self._folder = Path(tempfile.mkdtemp(prefix="chockbook-fuzz-")) / "source_tables" / "carriers"
        self._folder.mkdir(parents=True)
        self._whole = {path.name: path.read_bytes() for path in sorted(CARRIERS.glob("*.yaml"))}

    def run(self, raw: bytes) -> None:
        """Check one damaged carrier."""
        draw = Draw(raw)
        name = sorted(self._whole)[draw.below(len(self._whole))]
        text = self._whole[name]
        for _ in range(MOST_DAMAGE):
            text = damage(text, draw)
            if draw.done:
                break
        (self._folder / name).write_bytes(text)
        try:
            assembly = assemble_carriers(self._folder, self._catalogue)
            clear(assembly.faults)
            assert len(assembly.carriers) == (0 if errors(assembly.faults) else 1)
        finally:
            (self._folder / name).unlink()

    def close(self) -> None:
        """Remove the folder."""
        shutil.rmtree(self._folder.parents[1], ignore_errors=True)


class Results:
    """A small class's file of answers, damaged, against its keys: rows or clear faults, and results of what is left."""

    def __init__(self) -> None:
        told = [("horn", ("Minor", "Major"), "A"), ("tires", ("1 mm", "2 mm", "3 mm"), "C"),
                ("horn", ("Yes", "No"), "B")]  # fmt: skip
        asked = [
            Asked(f"severity-{n}", "severity", 2, system, "minor", (f"{system}.{n}",), f"Question {n}?", choices, right)
            for n, (system, choices, right) in enumerate(told)
        ]
        self._keys = Keys("12345678", "abc123", Setting("on-s1", "en"), {
            "abc123-01": tuple(asked), "abc123-02": tuple(asked[::-1]),
        })  # fmt: skip
        rows = [("sheet", "student", "answers")]
        rows += [(f"abc123-0{1 + n % 2}", f"Élève {n}", ("ACB", "B.A", "BCA", "abb")[n % 4]) for n in range(12)]
        cells = [("sheet", "student", "1", "2", "3"), ("abc123-01", "Otter", "A", "", "B"),
                 ("abc123-02", "Wren", "b", ".", "a")]  # fmt: skip
        self._whole = [
            "\r\n".join(delimiter.join(row) for row in table).encode(coding)
            for table in (rows, cells) for delimiter, coding in ((",", "utf-8"), (";", "utf-8-sig"), ("\t", "utf-8"))
        ]  # fmt: skip

    def run(self, raw: bytes) -> None:
        """Read, mark and count one damaged file.

        Raises:
            Exception: whatever the program did not expect.
            AssertionError: a fault is not clear, or a row is neither kept nor told.
        """
        draw = Draw(raw)
        text = self._whole[draw.below(len(self._whole))]
        for _ in range(MOST_DAMAGE):
            text = damage(text, draw)
            if draw.done:
                break
        answers = answers_in(text, "answers.csv", self._keys.sheets)
        clear(list(answers.faults))
        assert answers.left_out == 0 or errors(answers.faults)
        for row in answers.rows:
            assert len(row.letters) == len(self._keys.sheets[row.sheet])
        results = class_results(answers, [self._keys])
        json.dumps(as_data(results), allow_nan=False).encode()
        assert sum(item.students for item in results.items) == 3 * len(answers.rows)

    def close(self) -> None:
        """Nothing was written."""


def clear(faults: list[Fault]) -> None:
    """Every fault says where, what, why and how to mend it, on lines that cannot disturb a terminal."""
    for fault in faults:
        assert fault.place.line >= 1, fault
        assert fault.place.column >= 1, fault
        assert fault.what.strip(), fault
        assert fault.why.strip(), fault
        assert fault.mend.strip(), fault
        said = str(fault)
        assert said.count("\n") == 2, said
        assert all(line == printable(line) for line in said.split("\n")), said
        said.encode("utf-8")


TARGETS: dict[str, Callable[[], Tables | Carriers | Results]] = {
    "tables": Tables, "carriers": Carriers, "results": Results,
}  # fmt: skip
