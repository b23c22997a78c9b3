"""The reading face as web fonts: Atkinson Hyperlegible, taken from its package and compressed."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

from fontTools.ttLib import TTFont

FACES = ("Regular", "Bold")
"""No italic: nothing on the pages is set in it."""


def write_fonts(folder: Path) -> list[Path]:
    """Writes the faces and their licence into a folder.

    Raises:
        FileNotFoundError: the font package is not whole.
        OSError: the folder cannot be written.
    """
    package = files("fontpkg_atkinson_hyperlegible")
    folder.mkdir(parents=True, exist_ok=True)
    written = []
    for face in FACES:
        path = folder / f"atkinson-hyperlegible-{face.lower()}.woff"
        # The time of saving would make the bytes differ from build to build.
        with (
            package.joinpath(f"files/AtkinsonHyperlegible-{face}.ttf").open("rb") as file,
            TTFont(file, recalcTimestamp=False) as font,
        ):
            font.flavor = "woff"
            font.save(path, reorderTables=False)
        written.append(path)
    licence = folder / "LICENSE.txt"
    licence.write_bytes(package.joinpath("LICENSE").read_bytes())
    return [*written, licence]
