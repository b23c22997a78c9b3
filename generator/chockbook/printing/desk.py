"""The desk at which this process sets small documents: thousands of them, most of whose parts are the same.

The compiler remembers what it set if it meets the same part again in the same setting. For that, a document's data
comes from a file beside the templates: given as inputs they would belong to the setting, and every document would
be set from nothing. And a part is known to the compiler by the line of the template that put it in its place and by
how often that line has done so; PLACES lines, of which a part's own text chooses one, give it the same identity in
every document, wherever on the sheets it stands.
"""

from __future__ import annotations

import json
import os
import shutil
import tempfile
import threading
import zlib
from pathlib import Path
from typing import Any

import fontpkg_atkinson_hyperlegible
import typst

from ..resources import templates
from .bound_figures import with_bound_figures

FONTS = fontpkg_atkinson_hyperlegible.ROOT / "files"
PLACES = 512
"""Lines that put parts in their places; a deck has some 300 different parts."""

_BUSY = threading.Lock()
_DESKS: list[_Desk] = []


def set_pdf(template: str, data: dict[str, Any], stamp: int) -> bytes:
    """A document as tagged PDF/UA-1.

    Args:
        template: name of a file in site_templates/print that reads "data.json" beside it.
        data: what that file holds.
        stamp: the document's time, in seconds since 1970.

    Raises:
        typst.TypstError: the compiler objects.
    """
    with _BUSY:
        return _desk().compiler(template, data).compile(format="pdf", pdf_standards=["ua-1"], timestamp=stamp)


def find_out(template: str, data: dict[str, Any], label: str) -> Any:
    """The value of the metadata with a label, in a template that prints nothing.

    Raises:
        typst.TypstError: the compiler objects.
    """
    with _BUSY:
        return json.loads(_desk().compiler(template, data).query(f"<{label}>", field="value", one=True))


def place_of(content: str) -> int:
    """Which of the lines puts a part in its place: the same for the same content, in every process."""
    return zlib.crc32(content.encode()) % PLACES


class _Desk:
    """A folder with the templates and the data of the document at hand, and a compiler for each template."""

    def __init__(self, source: Path) -> None:
        self.source = source
        # Found once: looking for them for each of thousands of documents would take as long as setting one in ten.
        self._templates = sorted(source.rglob("*.typ"))
        self._found = self._stamps()
        self._folder = tempfile.TemporaryDirectory(prefix="chockbook-desk-", ignore_cleanup_errors=True)
        self.path = Path(self._folder.name)
        shutil.copytree(source, self.path, dirs_exist_ok=True)
        line = "(x, y, body) => place(top + left, dx: x, dy: y, body),\n"
        (self.path / "places.typ").write_text(f"#let places = (\n{line * PLACES})\n", encoding="utf-8", newline="\n")
        # Unbuffered, and opened once: a document in a thousand would wait for its data otherwise.
        self._data = (self.path / "data.json").open("wb", buffering=0)
        self._compilers: dict[str, typst.Compiler] = {}

    def _stamps(self) -> list[tuple[int, int]]:
        return [(stat.st_mtime_ns, stat.st_size) for stat in map(os.stat, self._templates)]

    def is_current(self) -> bool:
        """Whether the templates are as they were when this desk was set up."""
        return self._stamps() == self._found

    def compiler(self, template: str, data: dict[str, Any]) -> typst.Compiler:
        self._data.seek(0)
        self._data.write(with_bound_figures(json.dumps(data, ensure_ascii=False)).encode())
        self._data.truncate()
        if template not in self._compilers:
            self._compilers[template] = typst.Compiler(
                input=str(self.path / template), root=str(self.path), font_paths=[str(FONTS)], ignore_system_fonts=True
            )
        return self._compilers[template]

    def clear(self) -> None:
        self._data.close()
        self._folder.cleanup()


def _desk() -> _Desk:
    """The desk of this process; a new one where a template has changed since."""
    source = templates("print")
    if not (_DESKS and _DESKS[0].source == source and _DESKS[0].is_current()):
        for old in _DESKS:
            old.clear()
        _DESKS[:] = [_Desk(source)]
    return _DESKS[0]
